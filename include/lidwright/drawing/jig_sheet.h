// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/arms/jig.h"
#include "lidwright/drawing/canvas.h"
#include "lidwright/job/job.h"

namespace lidwright {

/// The closed-position jig at full size, as many sheets as it takes: outline and holes, measured
/// from its back edge and its level edge, and the steps of its use. Seen from outside of the left
/// end; for the right end the jig is turned over.
std::vector<Canvas> JigSheets(const Job& job, const Jig& jig);

}  // namespace lidwright
