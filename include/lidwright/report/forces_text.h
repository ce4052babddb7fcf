// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/forces/hinge_forces.h"

namespace lidwright {

/// How the lid will feel and whether it holds, a line each, with "good" or "watch" in words.
std::string ForcesText(const HingeForces& forces, const Job& job);

}  // namespace lidwright
