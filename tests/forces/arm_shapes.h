// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/arms/arm_outline.h"
#include "lidwright/forces/strength.h"

namespace lidwright::testing {

/// An arm of constant width from (0, 0) over (50, offset) to (100, 0), or straight.
inline Arm ArmWithBend(double offset, double width = 8.0, double eye = 12.0, double hole = 4.0) {
  const Vec2 ground(0.0, 0.0), lid(100.0, 0.0);
  Arm arm;
  arm.centreline = {{ground, 0.0}, {lid, 0.0}};
  if (offset != 0.0) {
    arm.centreline = *RoundedCentreline({ground, Vec2(50.0, offset), lid}, 5.0, 40.0, 8.0);
  }
  arm.outline = ArmOutline(arm.centreline, {width, eye, hole, 2.0});
  arm.case_hole = {ground, hole / 2.0};
  arm.lid_hole = {lid, hole / 2.0};
  arm.z_min_mm = 0.0;
  arm.z_max_mm = 3.0;
  return arm;
}

}  // namespace lidwright::testing
