// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/arms/hinge_parts.h"
#include "lidwright/cutting/parts_list.h"
#include "lidwright/drawing/canvas.h"
#include "lidwright/job/job.h"
#include "lidwright/solid/solid.h"

namespace lidwright {

/// Every flat piece but arms and jig (plates, packing) at full size, as many on a sheet as fit: the
/// outline in the blank it is cut from, every hole as ordinates and in a table from the blank's
/// left and lower edges, diameters, radii, size and thickness. Where the box needs mounting blocks,
/// what they measure stands with them. Laid as in the cut files: longer side across, seen from
/// outside of the left end, with an arrow that says which way is up; the right end's are mirror
/// images.
///
/// Each sheet has the bars of Tiles. Numbers in rings are those of the parts list. No two texts
/// overlap. Same pieces, same bytes.
std::vector<Canvas> PlateSheets(const Job& job, const Solid& solid,
                                const std::vector<HingePiece>& pieces, const PartsList& list);

}  // namespace lidwright
