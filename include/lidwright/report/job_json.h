// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/job/job.h"

namespace lidwright {

/// The job as a job file in the maker's unit, every default filled in, so that nothing depends on
/// what a later version takes for granted. ReadJob takes it back to the same Job.
///
/// Accuracy: a number is written as its shortest decimal of at most 9 places if that reads back to
/// the same double, else in full. A length in mm comes back to the last bit; one in inches and an
/// angle to within a rounding (1e-15 of it), because the unit is converted on the way.
/// Same job, same bytes.
std::string WriteJobJson(const Job& job);

}  // namespace lidwright
