// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/forces/hinge_forces.h"
#include "lidwright/report/remarks.h"

namespace lidwright {

/// [N] What one hand lifts at the front edge without thinking (common practice, no source): more is
/// a warning wherever it is told.
inline constexpr double kEasyLift_n = 50.0;

/// How the lid will feel and whether it holds, a remark each, with by how much. `gap_mm`: lid to
/// case at the angles of `forces.feel`, for fingers; may be empty.
Remarks ForcesRemarks(const HingeForces& forces, const Job& job,
                      const std::vector<double>& gap_mm = {});

}  // namespace lidwright
