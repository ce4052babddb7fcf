// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/arms/jig.h"
#include "lidwright/cutting/parts_list.h"
#include "lidwright/drawing/canvas.h"
#include "lidwright/job/job.h"
#include "lidwright/solid/solid.h"

namespace lidwright {

/// The closed-position jig at full size, as many sheets as it takes: outline and holes, measured
/// from its back edge and its level edge, and the steps of its use. Seen from outside of the left
/// end; for the right end the jig is turned over. Where the jig's edges do not lie where the
/// drilling templates are laid on, because the wall is bowed or the rim arched, it says by how much
/// and why.
///
/// With the hinge's pieces and their list, holes are named after the pin or screw they are for, by
/// its number there.
std::vector<Canvas> JigSheets(const Job& job, const Solid& solid, const Jig& jig,
                              const std::vector<HingePiece>& pieces = {},
                              const PartsList* list = nullptr);

}  // namespace lidwright
