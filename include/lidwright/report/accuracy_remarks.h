// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/accuracy/builds.h"
#include "lidwright/report/remarks.h"

namespace lidwright {

/// How exactly the holes must sit, in words. `play_factor` as in Traits.
Remarks AccuracyRemarks(const Accuracy& accuracy, const Job& job, double play_factor);

}  // namespace lidwright
