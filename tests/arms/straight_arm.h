// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/arms/shape_arms.h"

namespace lidwright::testing {

/// A straight arm between two pivots; nothing if its eyes run into each other.
inline std::optional<Arm> StraightArm(const ArmsTask& task, const Vec2& case_pivot,
                                      const Vec2& lid_pivot, int layer) {
  const double neck = NeckLength_mm(task.shape, NeckFillet_mm(task.shape));
  if ((lid_pivot - case_pivot).norm() <= 2.0 * neck) return std::nullopt;
  const Centreline line{{case_pivot, 0.0}, {lid_pivot, 0.0}};
  const double hole = task.shape.hole_mm / 2.0;
  return GivenArmAsCut(task, ArmOutline(line, task.shape), {case_pivot, hole}, {lid_pivot, hole},
                       layer);
}

}  // namespace lidwright::testing
