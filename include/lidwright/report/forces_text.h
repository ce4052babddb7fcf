// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/forces/hinge_forces.h"

namespace lidwright {

/// How the lid will feel and whether it holds, a line each, with "good" or "watch" in words and by
/// how much. `gap_mm`: lid to case at the angles of `forces.feel`, for fingers; may be empty.
std::string ForcesText(const HingeForces& forces, const Job& job,
                       const std::vector<double>& gap_mm = {});

}  // namespace lidwright
