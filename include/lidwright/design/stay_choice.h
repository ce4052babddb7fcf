// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/design/make_design.h"

namespace lidwright {

/// Mends a hinge that clears and still does not do all that is required. Where the lid plate's
/// screws give, its row of them is made longer, which bears what turns the plate. Where that is not
/// all, it is given a stay at each end in its post's stead: no post stops it, or it is too weak for
/// somebody who leans on the open lid. Of the
/// places that keep clear, the one that leaves the pins the least load; of what is sold, the
/// simplest that bears it. Left as it is where a stay does not mend that, nor makes the hinge twice
/// as strong when it is leaned on, or where the maker fits one (loads.stay). Parts, forces and the
/// merit's strength follow; trial builds are taken off.
void AddStayWhereNeeded(const BoxModel& box, Hinge& hinge);

}  // namespace lidwright
