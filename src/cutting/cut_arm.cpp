// SPDX-License-Identifier: Apache-2.0
#include "lidwright/cutting/cut_arm.h"

namespace lidwright {

CutPart CutArm(const Arm& arm, const std::string& name) {
  return {name, arm.outline, {arm.ground_hole, arm.lid_hole}, {}};
}

}  // namespace lidwright
