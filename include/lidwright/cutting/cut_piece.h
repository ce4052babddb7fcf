// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/arms/hinge_parts.h"
#include "lidwright/cutting/cut_part.h"

namespace lidwright {

/// The end of the box a piece is for, as seen by someone standing before the box. The left end is
/// the one at +z, where pieces are designed.
enum class Hand { kLeft, kRight };

/// A flat piece of the hinge as a part to cut, seen from outside of its end of the box: the left
/// one in the coordinates of hinge.json (the case's frame, lid shut, x from the back to the front),
/// the right one its exact mirror image in x = 0. Holes of `piece.drills` become drill marks. So
/// the upper face of every part in the cut files is the one that faces out of the box.
CutPart CutPiece(const HingePiece& piece, Hand hand);

/// Holes that a cutter of this diameter cannot cut, as drill marks: the bench drills them. A hole
/// as wide as the cutter is one too.
CutPart SmallHolesDrilled(CutPart part, double cutter_mm);

/// How many of a piece both ends of the box need together. The jig serves both ends.
int CountOf(const HingePiece& piece);

}  // namespace lidwright
