// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/job/job.h"
#include "lidwright/job/read_job.h"

namespace lidwright {

/// The job that a file would be which says of `wish` the keys of `given` and nothing else: every
/// other key at its default, the whole checked as ReadJob checks a file. For jobs that are made,
/// not read.
///
/// `given` holds paths as in JobReference(): "case.width"; "stations", which stands for the whole
/// list with all that its objects say. The unit is always given. What is unset, empty or without
/// limit in `wish` counts as not given, whatever `given` says.
///
/// Fails as ReadJob does, with `file_name` and no lines in the problems. Requires known paths.
JobReading CompleteJob(const Job& wish, const std::vector<std::string>& given,
                       const std::string& file_name);

}  // namespace lidwright
