// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "job/findings.h"
#include "job/job_keys.h"

namespace lidwright {

/// Complains about measures that are fine on their own and absurd together. Measures that are
/// missing or faulty (NaN) pass: they have been complained about.
void CheckMeasures(const JobDraft& draft, Findings* findings);

/// Complains about pinned pivots outside the box or on top of each other.
void CheckPivots(const Job& job, Findings* findings);

}  // namespace lidwright
