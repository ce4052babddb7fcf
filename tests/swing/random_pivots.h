// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>

#include "../geometry/random_outline.h"
#include "lidwright/linkage/lid_motion.h"

namespace lidwright::testing {

inline Vec2 RandomPoint(Dice& dice, double x0, double x1, double y0, double y1) {
  const double x = dice.Uniform(x0, x1);  // one after the other: argument order is unspecified
  return {x, dice.Uniform(y0, y1)};
}

/// Four pivots anywhere.
inline Pivots AnyPivots(Dice& dice) {
  Pivots pivots;
  pivots.case_a = RandomPoint(dice, -100, 100, -100, 100);
  pivots.case_b = RandomPoint(dice, -100, 100, -100, 100);
  pivots.lid_a = RandomPoint(dice, -100, 100, -100, 100);
  pivots.lid_b = RandomPoint(dice, -100, 100, -100, 100);
  return pivots;
}

/// Arms that are `angle_rad` off parallel when shut: the swing to one side is short.
inline Pivots NearlyParallelPivots(Dice& dice, double angle_rad) {
  Pivots pivots = AnyPivots(dice);
  const Vec2 arm = pivots.lid_a - pivots.case_a;
  const double along = dice.Uniform(0.4, 2.0) * (dice.Whole(0, 3) == 0 ? -1.0 : 1.0);
  pivots.lid_b = pivots.case_b + along * Pose::Make(angle_rad, Vec2::Zero()).Turn(arm);
  return pivots;
}

/// Pivots about where a box has them: case pivots in the case, lid pivots near the rim.
inline Pivots BoxPivots(Dice& dice) {
  Pivots pivots;
  pivots.case_a = RandomPoint(dice, 5, 110, -90, -5);
  pivots.case_b = RandomPoint(dice, 5, 110, -90, -5);
  pivots.lid_a = RandomPoint(dice, 5, 150, -25, 40);
  pivots.lid_b = RandomPoint(dice, 5, 150, -25, 40);
  return pivots;
}

}  // namespace lidwright::testing
