// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/arms/hinge_set.h"
#include "lidwright/cutting/cutter_check.h"
#include "lidwright/job/job.h"
#include "lidwright/report/remarks.h"

namespace lidwright {

/// The hinge's parts in plain words: are all made and do they
/// clear, what does not go, what stands against cutting; then what was picked and why.
Remarks PartsRemarks(const HingeSet& set, const std::vector<CutFault>& cut_faults, const Job& job);

}  // namespace lidwright
