// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/arms/arm.h"
#include "lidwright/cutting/cut_part.h"

namespace lidwright {

/// An arm as a piece to cut, in the coordinates of hinge.json (the case's frame, lid shut), so that
/// its holes can be compared there. The arm for the box's other end is the same piece turned over.
CutPart CutArm(const Arm& arm, const std::string& name);

}  // namespace lidwright
