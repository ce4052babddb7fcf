// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/forces/strength.h"

namespace lidwright::testing {

/// A pull of `force_n` along the line of the pivots (positive pulls).
inline ArmLoad PullAlong(const Arm& arm, double force_n) {
  ArmLoad load;
  load.lid_n = force_n * (arm.lid_hole.centre - arm.case_hole.centre).normalized();
  return load;
}

}  // namespace lidwright::testing
