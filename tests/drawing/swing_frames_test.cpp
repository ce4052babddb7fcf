// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/swing_frames.h"

#include <catch2/catch.hpp>
#include <chrono>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/units.h"
#include "made_up_design.h"
#include "svg_reader.h"

namespace lidwright {
namespace {

using testing::Element;
using testing::Named;
using testing::ReadSvg;

Vec2 Turned(const Vec2& v, double angle) {
  return {std::cos(angle) * v.x() - std::sin(angle) * v.y(),
          std::sin(angle) * v.x() + std::cos(angle) * v.y()};
}

// The lid's pivots at a lid angle, by following the crank: Newton on the rocker's length for arm
// A's angle, from closed in small steps. Knows nothing of LidMotion.
struct Followed {
  Vec2 a, b;
};
Followed Follow(const Pivots& p, double theta) {
  const Vec2 arm_a = p.lid_a - p.case_a, coupler = p.lid_b - p.lid_a;
  const double b = (p.lid_b - p.case_b).norm();
  double crank = 0.0;  // turn of arm A since closed
  const int steps = 400;
  const auto miss = [&](double turn, double lid) {
    return (p.case_a + Turned(arm_a, turn) + Turned(coupler, lid) - p.case_b).norm() - b;
  };
  for (int i = 1; i <= steps; ++i) {
    const double lid = theta * i / steps;
    for (int k = 0; k < 30; ++k) {
      const double h = 1e-6;
      crank -= miss(crank, lid) * 2.0 * h / (miss(crank + h, lid) - miss(crank - h, lid));
    }
  }
  const Vec2 a = p.case_a + Turned(arm_a, crank);
  return {a, a + Turned(coupler, theta)};
}

Vec2 CentreOf(const std::vector<Element>& all, const std::string& name) {
  std::vector<Vec2> found;
  for (const Element& circle : Named(all, "circle")) {
    if (circle.Class() == name) found.push_back({circle.Number("cx"), circle.Number("cy")});
  }
  REQUIRE(found.size() == 1);
  return found[0];
}

// The frame's place and scale from the two case pivots, whose places in the model are known.
struct FrameMap {
  Vec2 origin;
  double scale;
  Vec2 operator()(const Vec2& model) const {
    return {origin.x() + scale * model.x(), origin.y() - scale * model.y()};
  }
};
FrameMap MapOf(const std::vector<Element>& all, const Pivots& p) {
  const Vec2 a = CentreOf(all, "pivot case-a"), b = CentreOf(all, "pivot case-b");
  const double scale = (b - a).norm() / (p.case_b - p.case_a).norm();
  return {{a.x() - scale * p.case_a.x(), a.y() + scale * p.case_a.y()}, scale};
}

TEST_CASE("frames show pivots, lid and arms where another calculation puts them") {
  int checked = 0;
  for (const auto& example : testing::Examples()) {
    INFO(example.name);
    const Design design = testing::MakeDesign(example);
    const int count = 20;
    const auto frames = SwingFrames(design, design.hinges[0], count);
    REQUIRE(frames.size() == static_cast<std::size_t>(count));
    const Pivots& p = example.pivots;
    for (int i = 0; i < count; ++i) {
      const auto all = ReadSvg(frames[static_cast<std::size_t>(i)]);
      const FrameMap map = MapOf(all, p);
      CHECK((CentreOf(all, "pivot case-b") - map(p.case_b)).norm() < 0.002);
      // One of the usual scales, taken off two rounded points.
      const double inverse = 1.0 / map.scale;
      CHECK(std::abs(inverse - std::round(2.0 * inverse) / 2.0) < 2e-3);
      const double theta = design.job.swing.open_rad * i / (count - 1);
      const Followed at = Follow(p, theta);
      CHECK((CentreOf(all, "pivot lid-a") - map(at.a)).norm() < 0.005);
      CHECK((CentreOf(all, "pivot lid-b") - map(at.b)).norm() < 0.005);
      // Arm B is a stadium: its outline's first point, turned about the case pivot.
      const Vec2 closed = p.lid_b - p.case_b, now = at.b - p.case_b;
      const double turn = std::atan2(Cross(closed, now), closed.dot(now));
      const Vec2 corner = design.hinges[0].arm_b->outline.vertices[0].point;
      const Vec2 expected = map(p.case_b + Turned(corner - p.case_b, turn));
      for (const Element& path : Named(all, "path")) {
        if (!path.In("arm-b") || path.attributes.at("fill") == "none") continue;
        CHECK((testing::PointsOf(path.attributes.at("d")).at(0) - expected).norm() < 0.005);
        ++checked;
      }
      // The lid's end wall, dashed: its first vertex goes with the lid.
      for (const Station& station : design.solid.stations) {
        if (!station.end_wall) continue;
        const Vec2 vertex = station.lid_rings[0][0];
        const Vec2 moved = map(at.a + Turned(vertex - p.lid_a, theta));
        int near = 0;
        for (const Element& path : Named(all, "path")) {
          if (!path.In("lid") || path.attributes.count("stroke-dasharray") == 0) continue;
          if ((testing::PointsOf(path.attributes.at("d")).at(0) - moved).norm() < 0.005) ++near;
        }
        CHECK(near == 1);
        break;
      }
    }
  }
  CHECK(checked == 4 * 20);
}

void CheckPages(const Design& design) {
  const auto frames = SwingFrames(design, design.hinges[0], 24);
  const auto first = ReadSvg(frames[0])[0];
  const std::string& box = first.attributes.at("viewBox");
  const double width = std::strtod(box.c_str() + 4, nullptr);
  const double height = std::strtod(box.c_str() + box.rfind(' '), nullptr);
  REQUIRE(width > 50.0);
  for (const std::string& frame : frames) {
    const auto all = ReadSvg(frame);
    CHECK(all[0].attributes == first.attributes);
    CHECK(frame.find(" id=") == std::string::npos);
    for (const Element& path : Named(all, "path")) {
      for (const Vec2& p : testing::PointsOf(path.attributes.at("d"))) {
        if (p.x() < 0.0 || p.y() < 0.0 || p.x() > width || p.y() > height) FAIL_CHECK(p);
      }
    }
  }
}

TEST_CASE("all frames of a swing have one page, and everything stays on it") {
  for (const auto& example : testing::Examples()) CheckPages(testing::MakeDesign(example));
  // A lid that is higher at its ends than in the middle.
  Job job = testing::ReadExample("sample_chest");
  job.room.behind_mm = job.room.above_mm = std::numeric_limits<double>::infinity();
  const Ring box = {{0.0, -120.0}, {220.0, -120.0}, {220.0, 0.0}, {0.0, 0.0}};
  const auto lid = [](double top) {
    return Ring{{0.0, 0.0}, {220.0, 0.0}, {220.0, top}, {0.0, top}};
  };
  job.stations = {
      {-170.0, {box}, {lid(90.0)}}, {0.0, {box}, {lid(20.0)}}, {170.0, {box}, {lid(90.0)}}};
  CheckPages(testing::MakeDesign(job, testing::Examples()[0].pivots));
}

TEST_CASE("each tight spot is named in the frame nearest to its angle and in no other") {
  Design design = testing::MakeDesign(testing::Examples()[0]);
  Hinge& hinge = design.hinges[0];
  hinge.verdicts = {
      testing::MakeGap(Requirement::kLidToCase, Member::kNone, 2.134, 0.613, {2.0, 3.0}),
      testing::MakeGap(Requirement::kArmToLid, Member::kArmA, 1.3, design.job.swing.open_rad,
                       {30.0, 40.0}),
      testing::MakeGap(Requirement::kArmToCase, Member::kArmB, 1.5, 0.0, {60.0, -20.0}),
      testing::MakeGap(Requirement::kArmToAround, Member::kArmB, 40.0, 0.3,
                       {80.0, -20.0})};  // roomy
  const int count = 40;
  const auto frames = SwingFrames(design, hinge, count);
  const std::pair<std::string, double> expected[] = {
      {"2.1 mm lid to case", 0.613},
      {"1.3 mm arm A to lid", design.job.swing.open_rad},
      {"1.5 mm arm B to case", 0.0}};
  for (const auto& [label, angle] : expected) {
    int nearest = 0;
    for (int i = 1; i < count; ++i) {
      const auto off = [&, the_angle = angle](int k) {
        return std::abs(design.job.swing.open_rad * k / (count - 1) - the_angle);
      };
      if (off(i) < off(nearest)) nearest = i;
    }
    for (int i = 0; i < count; ++i) {
      const auto texts = testing::TextsOf(ReadSvg(frames[static_cast<std::size_t>(i)]));
      const auto named = std::count(texts.begin(), texts.end(), label);
      INFO(label << " in frame " << i << ", nearest " << nearest);
      CHECK(named == (i == nearest ? 1 : 0));
    }
  }
  // The others show them small, and gaps with plenty of room not at all.
  int small = 0;
  for (const Element& circle : Named(ReadSvg(frames[20]), "circle")) {
    small += circle.Class() == "tight" ? 1 : 0;
  }
  CHECK(small == 3);
}

TEST_CASE("a frame says its angle and its number") {
  const Design design = testing::MakeDesign(testing::Examples()[0]);
  const auto frames = SwingFrames(design, design.hinges[0], 96);
  const auto has = [&](std::size_t frame, const std::string& text) {
    const auto texts = testing::TextsOf(ReadSvg(frames[frame]));
    return std::count(texts.begin(), texts.end(), text) == 1;
  };
  CHECK(has(0, "0.0\xC2\xB0"));
  CHECK(has(48, "48.0\xC2\xB0"));
  CHECK(has(48, "49 / 96"));
  CHECK(has(95, "95.0\xC2\xB0"));
}

TEST_CASE("pivots that cannot move the lid all the way are drawn as far as they go") {
  Design design = testing::MakeDesign(testing::Examples()[0]);
  Hinge& hinge = design.hinges[0];
  hinge.pivots = {{40.0, -60.0}, {75.0, -45.0}, {42.0, -40.0}, {140.0, -35.0}};
  const auto motion = LidMotion::Make(hinge.pivots);
  REQUIRE(motion);
  REQUIRE(motion->Range().high_rad < design.job.swing.open_rad);
  auto texts = testing::TextsOf(ReadSvg(SwingFrames(design, hinge, 5).back()));
  bool said = false;
  for (const std::string& text : texts) said = said || text.find("no further") != std::string::npos;
  CHECK(said);
  hinge.pivots = {{40.0, -60.0}, {80.0, -60.0}, {40.0, -20.0}, {80.0, -20.0}};  // parallel arms
  REQUIRE_FALSE(LidMotion::Make(hinge.pivots));
  texts = testing::TextsOf(ReadSvg(SwingFrames(design, hinge, 5).back()));
  CHECK(std::count(texts.begin(), texts.end(), "cannot move") == 1);
  CHECK_THROWS_AS(SwingFrames(design, hinge, 0), ContractError);
}

TEST_CASE("a hinge without arms shows lines between its pivots") {
  Design design = testing::MakeDesign(testing::Examples()[0]);
  design.hinges[0].arm_a.reset();
  design.hinges[0].arm_b.reset();
  const auto all = ReadSvg(SwingFrames(design, design.hinges[0], 3)[1]);
  const FrameMap map = MapOf(all, design.hinges[0].pivots);
  int lines = 0;
  for (const Element& path : Named(all, "path")) {
    if (!path.In("arm-a")) continue;
    const auto points = testing::PointsOf(path.attributes.at("d"));
    CHECK((points.at(0) - map(design.hinges[0].pivots.case_a)).norm() < 0.002);
    ++lines;
  }
  CHECK(lines == 1);
}

TEST_CASE("the instant centre is where the arms' lines meet") {
  const Design design = testing::MakeDesign(testing::Examples()[0]);
  SwingFrameOptions options;
  options.count = 30;
  options.instant_centre = true;
  int shown = 0;
  for (const Canvas& canvas : SwingFrameCanvases(design, design.hinges[0], options)) {
    const auto all = ReadSvg(canvas.Svg());
    const Vec2 a0 = CentreOf(all, "pivot case-a"), b0 = CentreOf(all, "pivot case-b");
    const Vec2 a = CentreOf(all, "pivot lid-a"), b = CentreOf(all, "pivot lid-b");
    for (const Element& path : Named(all, "path")) {
      if (!path.In("instant-centre")) continue;
      const auto p = testing::PointsOf(path.attributes.at("d"));
      const Vec2 centre = (p.at(0) + p.at(1)) / 2.0;
      CHECK(std::abs(Cross(Vec2(a - a0), Vec2(centre - a0))) / (a - a0).norm() < 0.05);
      CHECK(std::abs(Cross(Vec2(b - b0), Vec2(centre - b0))) / (b - b0).norm() < 0.05);
      ++shown;
    }
  }
  CHECK(shown >= 5);
}

TEST_CASE("96 frames take less than a second on one core") {
  const Design design = testing::MakeDesign(testing::Examples()[0]);
  const auto start = std::chrono::steady_clock::now();
  const auto frames = SwingFrames(design, design.hinges[0], 96);
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
  CHECK(frames.size() == 96);
  CHECK(took.count() < 1.0);
}

}  // namespace
}  // namespace lidwright
