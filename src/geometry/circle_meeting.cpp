// SPDX-License-Identifier: Apache-2.0
#include "lidwright/geometry/circle_meeting.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"

namespace lidwright {
namespace {

// 0 if a difference of lengths is negative by rounding only.
double TouchingIsZero(double difference, double size) {
  return difference < 0.0 && difference >= -kTouchingCircles * size ? 0.0 : difference;
}

}  // namespace

std::optional<Vec2> CircleMeeting(const Vec2& c0, double r0_mm, const Vec2& c1, double r1_mm,
                                  int side) {
  LW_REQUIRE(r0_mm >= 0.0 && r1_mm >= 0.0, "r0=" << r0_mm << " r1=" << r1_mm);
  LW_REQUIRE(side == 1 || side == -1, "side=" << side);
  const Vec2 base = c1 - c0;
  const double distance = base.norm();
  if (!(distance > 0.0)) return std::nullopt;
  const double size = r0_mm + r1_mm + distance, difference = std::abs(r0_mm - r1_mm);
  const double apart = TouchingIsZero((r0_mm + r1_mm) - distance, size);
  const double inside = TouchingIsZero(distance - difference, size);
  if (!(apart >= 0.0 && inside >= 0.0)) return std::nullopt;
  const double half_chord =
      std::sqrt(apart * inside * (distance + difference) * size) / (2.0 * distance);
  // Not beyond the circle where the touching was granted and the centres are close.
  const double along =
      std::clamp((distance + (r0_mm - r1_mm) * ((r0_mm + r1_mm) / distance)) / 2.0, -r0_mm, r0_mm);
  const Vec2 unit = base / distance;
  return Vec2(c0 + along * unit + side * half_chord * Perp(unit));
}

}  // namespace lidwright
