// SPDX-License-Identifier: Apache-2.0
#include "lidwright/cutting/cut_piece.h"

#include <algorithm>

#include "lidwright/base/tolerances.h"

namespace lidwright {

CutPart CutPiece(const HingePiece& piece, Hand hand) {
  const CutPart part{piece.name, piece.outline, piece.holes, piece.drills};
  return hand == Hand::kLeft ? part : Mirrored(part);
}

CutPart SmallHolesDrilled(CutPart part, double cutter_mm) {
  if (cutter_mm <= 0.0) return part;
  const auto small = [&](const Circle& hole) {
    return 2.0 * hole.radius_mm <= cutter_mm + kSamePoint_mm;
  };
  const auto from = std::stable_partition(part.holes.begin(), part.holes.end(),
                                          [&](const Circle& hole) { return !small(hole); });
  part.drill_marks.insert(part.drill_marks.begin(), from, part.holes.end());
  part.holes.erase(from, part.holes.end());
  return part;
}

int CountOf(const HingePiece& piece) {
  return piece.kind == PieceKind::kJig ? piece.per_end : 2 * piece.per_end;
}

}  // namespace lidwright
