// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/fixing_rules.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/ring.h"

namespace lidwright {
namespace {

// Does the wood stay out of the ellipse with these half axes about the screw?
bool StaysOut(const std::vector<Ring>& wood, const Vec2& screw, double grain_rad, double along_mm,
              double across_mm) {
  const Vec2 grain(std::cos(grain_rad), std::sin(grain_rad));
  std::vector<Ring> scaled = wood;
  for (Ring& ring : scaled) {
    for (Vec2& p : ring) {
      const Vec2 off = p - screw;
      p = {off.dot(grain) / along_mm, off.dot(Perp(grain)) / across_mm};
    }
  }
  return SignedDistance(scaled, Vec2::Zero()) <= -1.0 + kSamePoint_mm;
}

}  // namespace

double FixingShare(const std::vector<Ring>& wood, const Vec2& screw, double grain_rad,
                   double diameter_mm) {
  LW_REQUIRE(diameter_mm > 0.0, "diameter=" << diameter_mm);
  const double d = diameter_mm;
  if (StaysOut(wood, screw, grain_rad, kEndFull * d, kEdgeFull * d)) return 1.0;
  if (StaysOut(wood, screw, grain_rad, kEndHalf * d, kEdgeHalf * d)) return 0.5;
  return 0.0;
}

double DeepestPilot_mm(double wall_mm) {
  return std::max(0.0, wall_mm - kWallLeft_mm);
}

std::optional<ScrewLength> LongestScrew(const std::vector<double>& lengths_mm, double over_mm,
                                        double wall_mm) {
  const double deepest = DeepestPilot_mm(wall_mm);
  std::optional<ScrewLength> longest;
  for (const double length : lengths_mm) {
    const double in_wood = length - over_mm;
    if (in_wood <= 0.0 || in_wood > deepest + kSamePoint_mm) continue;
    if (!longest || length > longest->length_mm) longest = ScrewLength{length, in_wood};
  }
  return longest;
}

}  // namespace lidwright
