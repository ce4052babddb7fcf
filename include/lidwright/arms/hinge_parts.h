// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/arms/arm.h"
#include "lidwright/certify/verdict.h"

namespace lidwright {

/// What a piece of the hinge is, for colours, layers, lists and messages.
enum class PieceKind {
  kArm,
  kCasePlate,
  kLidPlate,
  kStop,
  kSpacer,
  kWasher,
  kPin,
  kBushing,
  kScrew,
  kJig,
  kPad
};

/// One flat or turned piece of the hinge at the +z end of the box, in the case's frame with the lid
/// shut. The other end's piece is its mirror image.
struct HingePiece {
  std::string name;  ///< "arm A", "case plate", "lid pin of arm B" …
  PieceKind kind = PieceKind::kArm;
  Member member = Member::kNone;  ///< what it belongs to: a pin with its spacer and head …
  Body body = Body::kCase;        ///< what it moves with
  Outline outline;                ///< counter-clockwise; a circle for turned pieces
  std::vector<Circle> holes;      ///< through, to size
  std::vector<Circle> drills;     ///< to be drilled: centres marked, such as screw holes
  double z_min_mm = 0.0;          ///< its place in the stack
  double z_max_mm = 0.0;
  std::string material;        ///< "brass sheet", "birch plywood" …
  bool cut_from_sheet = true;  ///< goes to the cut files and the nested sheet
  int per_end = 1;             ///< how many of it at each end of the box
  std::string note;            ///< for the parts list: "4.76 mm (3/16 in) tube, 5.5 long"
  std::optional<Body> joined;  ///< the moving part that it runs in or that it is there to meet
};

/// Is it the block of wood that carries a plate beside an end that leans?
inline bool IsMountingBlock(const HingePiece& piece) {
  return piece.name.rfind("mounting block", 0) == 0;
}

}  // namespace lidwright
