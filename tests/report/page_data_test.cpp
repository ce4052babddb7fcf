// SPDX-License-Identifier: Apache-2.0
#include "report/page_data.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "design/examples.h"
#include "drawing/made_up_design.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"
#include "lidwright/report/html.h"
#include "swing/geos_distance.h"

namespace lidwright {
namespace {

Vec2 Apply(const Json& row, const Vec2& p) {
  const double c = row[1], s = row[2];
  return {c * p.x() - s * p.y() + row[3].get<double>(),
          s * p.x() + c * p.y() + row[4].get<double>()};
}

Vec2 Turned(const Vec2& about, double angle, const Vec2& p) {
  return Pose::About(about, angle) * p;
}

std::vector<Ring> Moved(const std::vector<Ring>& rings, const Pose& pose) {
  std::vector<Ring> out;
  for (const Ring& ring : rings) out.push_back(lidwright::Moved(ring, pose));
  return out;
}

}  // namespace

TEST_CASE("every pose in the page holds the linkage together", "[report]") {
  int rows = 0;
  for (const testing::Example& example : testing::Examples()) {
    INFO(example.name);
    const Design design = testing::MakeDesign(example);
    const Hinge& hinge = design.hinges.front();
    const Json data = HingeData(design, hinge);
    const Pivots& p = hinge.pivots;
    REQUIRE(data["rows"].size() > 20);
    CHECK(data["rows"].front()[0] == 0.0);
    CHECK(data["rows"].back()[0].get<double>() == Approx(data["open"].get<double>()));
    double before = -1.0;
    for (const Json& row : data["rows"]) {
      const double theta = row[0];
      CHECK(theta > before);
      CHECK((before < 0.0 || theta - before <= kPageStep_rad + 1e-7));
      before = theta;
      // The lid has turned by θ, and each of its pivots sits where its arm has turned to.
      CHECK(std::atan2(row[2].get<double>(), row[1].get<double>()) == Approx(theta).margin(1e-7));
      CHECK((Apply(row, p.lid_a) - Turned(p.case_a, row[5], p.lid_a)).norm() < 1e-4);
      CHECK((Apply(row, p.lid_b) - Turned(p.case_b, row[6], p.lid_b)).norm() < 1e-4);
      ++rows;
    }
  }
  CHECK(rows > 300);
}

TEST_CASE("between the page's poses straight lines stay within their tolerance", "[report]") {
  for (const testing::Example& example : testing::Examples()) {
    INFO(example.name);
    const Design design = testing::MakeDesign(example);
    const Hinge& hinge = design.hinges.front();
    const Json rows = HingeData(design, hinge)["rows"];
    const LidMotion motion = *LidMotion::Make(hinge.pivots);
    double worst = 0.0;
    for (std::size_t i = 0; i + 1 < rows.size(); ++i) {
      const double theta = (rows[i][0].get<double>() + rows[i + 1][0].get<double>()) / 2.0;
      const LidState state = motion.At(theta);
      for (int k = 3; k < 5; ++k) {
        const double between = (rows[i][k].get<double>() + rows[i + 1][k].get<double>()) / 2.0;
        worst = std::max(worst, std::abs(between - state.X_CL.origin[k - 3]));
      }
      for (const auto& [k, body] : {std::pair(5, Body::kArmA), {6, Body::kArmB}}) {
        const double between = (rows[i][k].get<double>() + rows[i + 1][k].get<double>()) / 2.0;
        const double off = std::abs(between - motion.ArmTurn_rad(body, state));
        worst = std::max(worst, off * motion.arm_a_mm());
      }
    }
    CHECK(worst < 0.01);
  }
}

TEST_CASE("the gap curve agrees with distances of whole slices by another library", "[report]") {
  const Design design = testing::MakeDesign(testing::Examples()[0]);
  const Hinge& hinge = design.hinges.front();
  const Json data = HingeData(design, hinge);
  REQUIRE(data["gap"].size() >= data["rows"].size());
  // The model's error is off the curve, as it is off the bounds.
  const Solid& solid = design.solid;
  const double error =
      2.0 * solid.blend_error_mm + solid.chord_error_mm + solid.case_chord_error_mm;
  const LidMotion motion = *LidMotion::Make(hinge.pivots);
  const testing::Geos geos;
  int compared = 0;
  for (std::size_t i = 0; i < data["gap"].size(); i += 9) {
    const Pose pose = motion.At(data["gap"][i][0]).X_CL;
    double least = 1e300;
    for (const Station& s : design.solid.stations) {
      least = std::min(least, geos.Distance(Moved(s.lid_rings, pose), s.case_rings));
    }
    INFO("row " << i);
    // Slices are part of the solid; between them the gap can only be a blend's worth less.
    CHECK(data["gap"][i][1].get<double>() <= least + 1e-3);
    CHECK(data["gap"][i][1].get<double>() >= least - 0.1 - error);
    ++compared;
  }
  CHECK(compared > 15);
}

TEST_CASE("spots stand in the page as they were certified", "[report]") {
  const Design design = testing::MakeDesign(testing::Examples()[0]);
  const Hinge& hinge = design.hinges.front();
  const Json spots = HingeData(design, hinge)["spots"];
  REQUIRE(spots.size() == 2);  // the third verdict has no place
  CHECK(spots[1]["what"] == "arm A to case");
  CHECK(spots[1]["theta"] == hinge.verdicts[1].angle_rad);
  CHECK(spots[1]["gap"] == hinge.verdicts[1].found);
  CHECK(spots[1]["at"][2] == hinge.verdicts[1].nearest->on_second.x());
}

TEST_CASE("a thinned outline stays within its tolerance", "[report]") {
  Ring ring;
  for (int i = 0; i < 900; ++i) {
    const double a = 2.0 * kPi * i / 900.0;
    ring.push_back((80.0 + 9.0 * std::sin(7.0 * a)) * Vec2(std::cos(a), std::sin(a)));
  }
  for (const double tolerance : {0.02, 0.3, 4.0}) {
    const Ring thin = Thinned(ring, tolerance);
    INFO(tolerance << " mm leaves " << thin.size());
    CHECK(thin.size() < ring.size());
    double worst = 0.0;
    for (const Vec2& p : ring) worst = std::max(worst, std::abs(SignedDistance({thin}, p)));
    CHECK(worst <= tolerance * (1.0 + 1e-9));
    CHECK(worst > 0.2 * tolerance);
  }
  CHECK(Thinned({{0, 0}, {1, 0}, {0, 1}}, 10.0).size() == 3);
}

TEST_CASE("the largest job still makes a page of at most a megabyte and a half", "[report]") {
  Design design = testing::MakeDesign(testing::Examples()[0]);
  // A hundred slices with a thousand points each, rough as a scan is.
  design.solid.stations.clear();
  for (int k = 0; k < 100; ++k) {
    Station station;
    station.z_mm = 1.7 * k;
    station.end_wall = k > 92;
    const auto ring = [&](double y, double height) {
      Ring points;
      for (int i = 0; i < 500; ++i) {
        const double a = 2.0 * kPi * i / 500.0;
        points.push_back({110.0 + 110.0 * std::cos(a) + 0.03 * std::sin(41.0 * i + k),
                          y + height * std::sin(a) + 0.03 * std::cos(57.0 * i + k)});
      }
      return points;
    };
    station.case_rings = {ring(-60.0, 59.0)};
    station.lid_rings = {ring(20.0, 19.0)};
    design.solid.stations.push_back(station);
  }
  const std::string page = ReportHtml(design, {});
  CHECK(page.size() <= 1'500'000);
  const Json box = BoxData(design.job, design.solid);
  CHECK(box["thinned"].get<double>() > 0.0);
  CHECK(box["thinned"].get<double>() < 0.2);
}

TEST_CASE("a linkage that cannot move still makes a page, shut", "[report]") {
  Design design = testing::MakeDesign(testing::Examples()[0]);
  design.hinges[0].pivots = {{31, -15}, {61, -15}, {31, -35}, {61, -35}};
  const Json data = HingeData(design, design.hinges[0]);
  CHECK(data["open"] == 0.0);
  CHECK(data["rows"].size() == 1);
  CHECK_FALSE(data.contains("gap"));
  CHECK(ReportHtml(design, {}).find("id=\"theta\"") != std::string::npos);
}

}  // namespace lidwright
