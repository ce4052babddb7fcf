// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/arrangement.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <map>

#include "lidwright/base/units.h"
#include "lidwright/drawing/overlay.h"
#include "made_up_design.h"
#include "svg_reader.h"

namespace lidwright {
namespace {

using testing::Element;
using testing::Named;

Vec2 CircleIn(const std::vector<Element>& all, const std::string& view, const std::string& name) {
  std::vector<Vec2> found;
  for (const Element& circle : Named(all, "circle")) {
    if (circle.In(view) && circle.Class() == name) {
      found.push_back({circle.Number("cx"), circle.Number("cy")});
    }
  }
  REQUIRE(found.size() == 1);
  return found[0];
}

// A number as a maker reads it: "−1-19/32"", "100.87".
double ReadLength(std::string text) {
  const bool inches = text.back() == '"';
  double sign = 1.0;
  const std::string minus = "\xE2\x88\x92";
  if (text.rfind(minus, 0) == 0) {
    sign = -1.0;
    text = text.substr(minus.size());
  }
  double whole = 0.0;
  const auto slash = text.find('/'), dash = text.find('-');
  if (slash == std::string::npos) {
    whole = std::stod(text);
  } else {
    if (dash != std::string::npos) whole = std::stod(text.substr(0, dash));
    const std::string part = dash == std::string::npos ? text : text.substr(dash + 1);
    whole += std::stod(part) / std::stod(part.substr(part.find('/') + 1));
  }
  return sign * whole * (inches ? kMmPerInch : 1.0);
}

// The pivot named at the beginning of an ordinate's text.
std::string PivotOf(const std::string& text) {
  const std::map<std::string, std::string> names = {{"A\xE2\x82\x80", "pivot case-a"},
                                                    {"B\xE2\x82\x80", "pivot case-b"},
                                                    {"A", "pivot lid-a"},
                                                    {"B", "pivot lid-b"}};
  return names.at(text.substr(0, text.find(' ')));
}

// With a ruler on the paper: the scale from the two case pivots, the zeroes where their lines end.
TEST_CASE("every ordinate of the arrangement is what a ruler finds on it") {
  int measured = 0;
  for (const auto& example : testing::Examples()) {
    INFO(example.name);
    const Design design = testing::MakeDesign(example);
    const auto all = testing::ReadSvg(ArrangementSvg(design, design.hinges[0]));
    const double off = design.job.inches ? 25.4 * 0.0005 + 0.01 : 0.015;
    for (const char* view : {"shut", "open"}) {
      const Vec2 a0 = CircleIn(all, view, "pivot case-a");
      const Vec2 b0 = CircleIn(all, view, "pivot case-b");
      const double scale =
          (b0 - a0).norm() / (example.pivots.case_b - example.pivots.case_a).norm();
      // Where the line of an ordinate starts, and whether it runs down or to the right.
      const auto line_at = [&](const Vec2& text, bool down) {
        Vec2 start = Vec2::Zero();
        double nearest = 1e300;
        for (const Element& path : Named(all, "path")) {
          if (!path.In(view) || !path.In("ordinates")) continue;
          const auto points = testing::PointsOf(path.attributes.at("d"));
          const double distance = (points.back() - text).norm();
          if (distance < nearest) {
            nearest = distance;
            start = points.front();
          }
        }
        CHECK(nearest < (down ? 30.0 : 3.0));
        return start;
      };
      struct Read {
        std::string text;
        Vec2 start;
      };
      std::map<bool, std::vector<Read>> read;
      for (const Element& text : Named(all, "text")) {
        if (!text.In(view) || !text.In("ordinates")) continue;
        const bool down = text.attributes.count("transform") == 1;
        Vec2 at(text.Number("x"), text.Number("y"));
        // An upright text ends at its line, half its height beside its base line.
        if (down) at += Vec2(-1.25, -text.Number("textLength"));
        if (!down) at.y() -= 1.25;
        read[down].push_back({text.text, line_at(at, down)});
      }
      for (const auto& [down, texts] : read) {
        const auto zero = std::find_if(texts.begin(), texts.end(),
                                       [](const Read& one) { return one.text == "0"; });
        REQUIRE(zero != texts.end());
        for (const Read& one : texts) {
          if (one.text == "0") continue;
          INFO(view << ": " << one.text);
          const double said = ReadLength(one.text.substr(one.text.rfind(' ') + 1));
          const Vec2 pivot = CircleIn(all, view, PivotOf(one.text));
          CHECK((one.start - pivot).norm() < 0.002);
          const double ruler =
              down ? (pivot.x() - zero->start.x()) / scale : (zero->start.y() - pivot.y()) / scale;
          CHECK(ruler == Approx(said).margin(off + 0.002 / scale));
          ++measured;
        }
      }
      // The zero is the case's inner back face at the rim, where the end wall begins.
      const ReachableFaces faces = FacesAtEnd(design.job, design.solid);
      const double x = a0.x() + scale * (faces.back_x_mm - example.pivots.case_a.x());
      CHECK(std::find_if(read[true].begin(), read[true].end(), [&](const Read& one) {
              return one.text == "0" && std::abs(one.start.x() - x) < 0.003;
            }) != read[true].end());
    }
  }
  CHECK(measured == 4 * (8 + 4));
}

TEST_CASE("distances to check by are those between the circles, shut and open") {
  const Design design = testing::MakeDesign(testing::Examples()[0]);
  const auto all = testing::ReadSvg(ArrangementSvg(design, design.hinges[0]));
  const Pivots p = testing::Examples()[0].pivots;
  std::map<std::string, std::vector<std::string>> rows;  // by height on the page
  std::map<std::string, std::string> heads;
  for (const Element& text : Named(all, "text")) {
    if (text.In("shut") || text.In("open")) continue;
    const std::string y = text.attributes.at("y");
    if (text.text.find(" \xE2\x80\x93 ") != std::string::npos) heads[text.text] = y;
    rows[y].push_back(text.text);
  }
  int checked = 0;
  const auto scale =
      (CircleIn(all, "open", "pivot case-b") - CircleIn(all, "open", "pivot case-a")).norm() /
      (p.case_b - p.case_a).norm();
  for (const auto& [head, y] : heads) {
    const auto arrow = head.find(" \xE2\x80\x93 ");
    if (head.find("pivots go") != std::string::npos) continue;
    const std::string from = PivotOf(head.substr(0, arrow) + " ");
    const std::string to = PivotOf(head.substr(arrow + 5) + " ");
    INFO(head);
    const auto& row = rows[y];
    const auto at = std::find(row.begin(), row.end(), head);
    REQUIRE(row.end() - at == 3);
    for (const char* view : {"shut", "open"}) {
      const double ruler = (CircleIn(all, view, from) - CircleIn(all, view, to)).norm() / scale;
      const double said = ReadLength(*(at + (std::string(view) == "shut" ? 1 : 2)));
      CHECK(said == Approx(ruler).margin(0.02));
      ++checked;
    }
  }
  CHECK(checked == 12);
}

TEST_CASE("room that the lid needs behind on its way stands in the arrangement, at its place") {
  int inches = 0;
  for (const auto& example : testing::Examples()) {
    INFO(example.name);
    Design design = testing::MakeDesign(example);
    Hinge& hinge = design.hinges[0];
    const auto needs = [&] {
      std::string said;
      for (const Element& text : Named(testing::ReadSvg(ArrangementSvg(design, hinge)), "text")) {
        if (text.In("room") && text.text.rfind("needs ", 0) == 0) said += text.text;
      }
      return said;
    };
    // No more than the open lid takes, or not known: one dimension is enough.
    CHECK(needs().empty());
    hinge.traits.reach_behind_mm = 1.0;
    hinge.traits.reach_behind_rad = 44.2 * kRadPerDeg;
    CHECK(needs().empty());
    hinge.traits.reach_behind_mm = 10.0 * 25.4;
    CHECK(needs() == (design.job.inches ? "needs 10\" behind, at 44\xC2\xB0"
                                        : "needs 254 behind, at 44\xC2\xB0"));
    inches += design.job.inches ? 1 : 0;
    // With a ruler: an upright line that far behind the case's rear face, x = 0.
    const auto all = testing::ReadSvg(ArrangementSvg(design, hinge));
    const Vec2 a0 = CircleIn(all, "open", "pivot case-a"),
               b0 = CircleIn(all, "open", "pivot case-b");
    const double scale = (b0 - a0).norm() / (example.pivots.case_b - example.pivots.case_a).norm();
    const double x = a0.x() - scale * (example.pivots.case_a.x() + 254.0);
    int lines = 0;
    for (const Element& path : Named(all, "path")) {
      if (!path.In("room")) continue;
      const auto points = testing::PointsOf(path.attributes.at("d"));
      if (points.size() != 2) continue;
      lines += std::abs(points[0].x() - x) < 0.01 && std::abs(points[1].x() - x) < 0.01;
    }
    CHECK(lines >= 1);
  }
  CHECK(inches > 0);
}

TEST_CASE("lid pivots are measured from the lid's own back and rim too") {
  Design design = testing::MakeDesign(testing::Examples()[0]);
  design.job.lid.wall_mm = 9.0;
  design.solid = MakeSolid(design.job);
  const ReachableFaces of_case = FacesAtEnd(design.job, design.solid);
  const ReachableFaces of_lid = LidFacesAtEnd(design.job, design.solid);
  // Bow and arch are common to both, walls are 12 and 9; lid and case meet at the rim.
  CHECK(of_case.back_x_mm - of_lid.back_x_mm == Approx(3.0).margin(0.05));
  CHECK(of_lid.rim_y_mm == Approx(of_case.rim_y_mm).margin(1e-3));
}

}  // namespace
}  // namespace lidwright
