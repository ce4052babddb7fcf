// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/design/design.h"
#include "lidwright/drawing/canvas.h"

namespace lidwright {

/// The two arms to scale on one sheet, each laid with its case hole at the left and its lid hole
/// on a level with it: hole pitch, holes, eyes, width in the middle, radii, overall size. A drawing
/// to read and to check pieces against; parts are cut from the cut files.
///
/// Shown as seen from the +z end; the other end's arms are the mirror images. Arms that the hinge
/// lacks are said to be missing. No two texts overlap. Same design, same bytes.
Canvas ArmSheet(const Design& design, const Hinge& hinge);

std::string ArmSheetSvg(const Design& design, const Hinge& hinge);
std::string ArmSheetPdf(const Design& design, const Hinge& hinge);

}  // namespace lidwright
