// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/arms/hinge_parts.h"
#include "lidwright/cutting/parts_list.h"
#include "lidwright/drawing/canvas.h"

namespace lidwright {

/// One end's pieces drawn apart along the pins, as large as `area` of the page allows: seen from
/// inside the box, the end wall's side behind, at the upper right for the left end (`left`), its
/// mirror image for the right. Layers in the order in which they go on: packing, plates, screws,
/// pins, stop, spacers and washers, arms with their bushings before them, heads. Dash-dotted lines
/// run along the pins. Each piece carries its number of the parts list, screws of one plate once.
void DrawExploded(Canvas& canvas, const std::vector<HingePiece>& pieces, const PartsList& list,
                  const Rect2& area, bool left);

}  // namespace lidwright
