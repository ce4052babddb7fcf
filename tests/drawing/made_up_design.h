// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>
#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "certify/verdicts.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/design/design.h"
#include "lidwright/job/read_job.h"
#include "lidwright/linkage/lid_motion.h"
#include "places.h"

/// Designs put together by hand, to be drawn: the example boxes with pivots that move the lid all
/// the way (picked from random ones by eye), and arms of simple shapes. Nothing is certified here:
/// the gaps and their places are made up.
namespace lidwright::testing {

struct Example {
  std::string name;  ///< of the file in examples/
  Pivots pivots;
};

inline std::vector<Example> Examples() {
  return {
      {"sample_chest", {{17.0, -21.5}, {21.0, -44.0}, {40.0, -9.0}, {96.0, -51.5}}},
      {"sample_chest_tight", {{119.0, -75.0}, {171.0, -11.0}, {18.0, -11.0}, {36.0, 5.0}}},
      {"barrel_chest", {{84.5, -17.0}, {95.0, -140.0}, {22.0, -33.5}, {20.0, -72.5}}},
      {"jewellery_casket", {{17.0, -27.0}, {19.5, -63.0}, {35.5, -0.5}, {131.0, -38.0}}},
  };
}

inline Job ReadExample(const std::string& name) {
  std::ifstream file(lidwright::testing::SourceFolder() + "/examples/" + name + ".json");
  std::stringstream text;
  text << file.rdbuf();
  const JobReading reading = ReadJob(text.str(), name);
  if (!reading.job) throw std::runtime_error("examples/" + name + ".json cannot be read");
  Job job = *reading.job;
  if (name == "sample_chest_tight") job.arms.width_mm = job.arms.eye_mm = 8.0;  // made-up arms'
  return job;
}

/// An arm of constant width whose centre line is one arc (a straight line for bulge 0), rounded
/// about its holes.
inline Arm MakeArm(const Vec2& ground, const Vec2& lid, double bulge, double width_mm,
                   double hole_mm) {
  Arm arm;
  const double half = width_mm / 2.0;
  arm.case_hole = {ground, hole_mm / 2.0};
  arm.lid_hole = {lid, hole_mm / 2.0};
  arm.centreline = {{ground, bulge}, {lid, 0.0}};
  arm.length_mm = (lid - ground).norm();
  // Along the arc the normals at its ends lean by half its turn.
  const double heading = std::atan2((lid - ground).y(), (lid - ground).x());
  const double lean = 2.0 * std::atan(bulge);
  const auto normal = [&](double angle) { return Vec2(-std::sin(angle), std::cos(angle)); };
  const Vec2 n0 = normal(heading - lean), n1 = normal(heading + lean);
  arm.outline.vertices = {{ground - half * n0, bulge},
                          {lid - half * n1, 1.0},
                          {lid + half * n1, -bulge},
                          {ground + half * n0, 1.0}};
  arm.inside_radius_mm = SmallestInsideRadius(arm.outline);
  return arm;
}

inline Verdict MakeGap(Requirement what, Member of, double gap_mm, double angle_rad,
                       const Vec2& at) {
  Verdict verdict;
  verdict.what = what;
  verdict.of = of;
  verdict.outcome = Outcome::kClear;
  verdict.required = 1.0;
  verdict.found = gap_mm;
  verdict.angle_rad = angle_rad;
  verdict.nearest = Nearness{
      gap_mm, angle_rad, 0, 0, 0, at - Vec2(gap_mm / 2.0, 0.0), at + Vec2(gap_mm / 2.0, 0.0), 0.0};
  return verdict;
}

inline Design MakeDesign(const Job& job, const Pivots& pivots) {
  Design design;
  design.job = job;
  design.solid = MakeSolid(job);
  Hinge hinge;
  hinge.character = "made up";
  hinge.pivots = pivots;
  const ArmWish& wish = job.arms;
  hinge.arm_a = MakeArm(pivots.case_a, pivots.lid_a, 0.35, wish.width_mm, wish.bushing_mm - 0.05);
  hinge.arm_b = MakeArm(pivots.case_b, pivots.lid_b, 0.0, wish.width_mm, wish.bushing_mm - 0.05);
  const double z = design.solid.bay.z_max_mm - 4.0;
  hinge.arm_a->z_max_mm = z;
  hinge.arm_a->z_min_mm = z - wish.thickness_mm;
  hinge.arm_b->layer = 1;
  hinge.arm_b->z_max_mm = z - wish.thickness_mm - 1.0;
  hinge.arm_b->z_min_mm = hinge.arm_b->z_max_mm - wish.thickness_mm;
  hinge.verdicts = {MakeGap(Requirement::kLidToCase, Member::kNone, 2.13, 0.6, {2.0, 3.0}),
                    MakeGap(Requirement::kArmToCase, Member::kArmA, 1.31, 1.1, {30.0, -8.0})};
  // Without a place: not a spot on a drawing.
  hinge.verdicts.push_back(Reckoned(Requirement::kOpenLidForemost, Unit::kMm, 100.0, 60.0, true));
  design.hinges.push_back(hinge);
  return design;
}

inline Design MakeDesign(const Example& example) {
  return MakeDesign(ReadExample(example.name), example.pivots);
}

}  // namespace lidwright::testing
