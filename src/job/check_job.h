// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "job/job_keys.h"
#include "job/key_reader.h"

namespace lidwright {

/// Complains about measures that are fine on their own and absurd together. Measures that are
/// missing or faulty (NaN) pass: they have been complained about.
void CheckMeasures(const JobDraft& draft, KeyReader* reader);

/// Complains about pinned pivots outside the box or on top of each other.
void CheckPivots(const Job& job, KeyReader* reader);

/// Complains about stations in the wrong order or not reaching the ends, and mirrors them if only
/// those with z ≥ 0 are given. Requires at least two.
void CheckAndCompleteStations(Job* job, KeyReader* reader);

}  // namespace lidwright
