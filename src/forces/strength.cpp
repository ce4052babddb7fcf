// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/strength.h"

#include <algorithm>
#include <cmath>

#include "lidwright/arms/arm_outline.h"
#include "lidwright/base/check.h"

namespace lidwright {
namespace {

// [mm] The centre line is looked at this often.
constexpr double kSampling_mm = 0.25;
// [–] Bars with a radius of this many depths are as good as straight.
constexpr double kStraightFrom = 50.0;

}  // namespace

double CurvedBarStress_mpa(double moment_nmm, double depth_mm, double thickness_mm,
                           double centre_radius_mm) {
  LW_REQUIRE(depth_mm > 0.0 && thickness_mm > 0.0, "depth=" << depth_mm);
  const double area = depth_mm * thickness_mm;
  if (!(centre_radius_mm < kStraightFrom * depth_mm)) {
    return std::abs(moment_nmm) * 6.0 / (area * depth_mm);
  }
  LW_REQUIRE(centre_radius_mm > depth_mm / 2.0, "radius=" << centre_radius_mm);
  const double inner = centre_radius_mm - depth_mm / 2.0, outer = centre_radius_mm + depth_mm / 2.0;
  const double neutral = depth_mm / std::log(outer / inner);
  const double shift = centre_radius_mm - neutral;
  return std::abs(moment_nmm) * (neutral - inner) / (area * shift * inner);
}

ArmStress StressOf(const Arm& arm, const Job& job, double force_n) {
  ArmStress stress;
  const Vec2 from = arm.ground_hole.centre, to = arm.lid_hole.centre;
  const Vec2 along = (to - from).normalized();
  const double width = job.arms.width_mm, thickness = job.arms.thickness_mm;
  const double direct = std::abs(force_n) / (width * thickness);
  for (std::size_t i = 0; i + 1 < arm.centreline.size(); ++i) {
    const OutlineVertex &a = arm.centreline[i], &b = arm.centreline[i + 1];
    const double radius = a.bulge == 0.0 ? std::numeric_limits<double>::infinity()
                                         : ArcOf(a.point, b.point, a.bulge).radius_mm;
    for (const Vec2& p : PointsAlong({a, {b.point, 0.0}}, kSampling_mm)) {
      const double off = std::abs(Cross(along, Vec2(p - from)));
      stress.eccentricity_mm = std::max(stress.eccentricity_mm, off);
      const double bending = CurvedBarStress_mpa(force_n * off, width, thickness, radius);
      stress.body_mpa = std::max(stress.body_mpa, bending + direct);
    }
  }
  const double hole = 2.0 * arm.ground_hole.radius_mm;
  stress.eye_mpa = std::abs(force_n) / ((job.arms.eye_mm - hole) * thickness);
  stress.bearing_mpa = std::abs(force_n) / (hole * thickness);
  return stress;
}

PinStress PinStressOf(double load_n, double reach_mm, double diameter_mm) {
  LW_REQUIRE(diameter_mm > 0.0, "diameter=" << diameter_mm);
  const double area = std::acos(-1.0) * diameter_mm * diameter_mm / 4.0;
  const double modulus = std::acos(-1.0) * std::pow(diameter_mm, 3) / 32.0;
  return {std::abs(load_n) * reach_mm / modulus, std::abs(load_n) / area};
}

}  // namespace lidwright
