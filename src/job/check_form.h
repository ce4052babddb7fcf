// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "job/findings.h"
#include "lidwright/job/job.h"

namespace lidwright {

/// Complains about measures of the form that no box can have: arcs beyond what their chord allows,
/// walls that lean or cup into each other, feet and bottoms that do not go together, lips without
/// room, profiles that give no shape. NaN passes: it has been complained
/// about.
void CheckForm(const Job& job, Findings* findings);

}  // namespace lidwright
