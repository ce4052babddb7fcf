// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/job/job.h"
#include "lidwright/solid/solid.h"

namespace lidwright {

/// What is wrong with a form that the job's own stations give, though each outline is right: a case
/// without a room in it, a body in pieces that touch nowhere. "" if nothing is, or there are none.
std::string FaultOfOwnForm(const Job& job, const Solid& solid);

}  // namespace lidwright
