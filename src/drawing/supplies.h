// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/cutting/work_steps.h"

namespace lidwright {

/// What is used up at the bench and is no part: glue, retaining compound, tape, card, a line each
/// with the numbers of the steps that name it. The steps' words are the one source of what is done,
/// so they are what is looked through.
std::vector<std::string> SuppliesFor(const std::vector<WorkStep>& steps);

}  // namespace lidwright
