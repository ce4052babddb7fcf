// SPDX-License-Identifier: Apache-2.0
#include "lidwright/looks/looks.h"

namespace lidwright {
namespace {

enum Index : std::size_t {
  kCase,
  kLid,
  kArmA,
  kArmB,
  kPlate,
  kPacking,
  kSpacer,
  kBushing,
  kPin,
  kStop,
  kGround
};

constexpr std::array<Look, kLooks> kTable{{
    {"case", "case", 0xf1e4cf, 0x8f6f42, 0x4a3d2b, 0xa58a5f, Pattern::kLines, 45.0, 2.0},
    {"lid", "lid", 0xe6cfa9, 0x7a5426, 0x5b4729, 0xc49a5c, Pattern::kLines, 135.0, 1.4},
    {"arm-a", "arm A", 0xbcd0e0, 0x1f4560, 0x35516a, 0xa9cbe4, Pattern::kPlain, 0.0, 1.0},
    {"arm-b", "arm B", 0xffffff, 0x1f4560, 0x232b2e, 0xa9cbe4, Pattern::kDots, 30.0, 1.1},
    {"plate", "plates", 0xeceeea, 0x8b9497, 0x2a3234, 0x6f7a7d, Pattern::kLines, 0.0, 1.6},
    {"packing", "packing", 0xdcdfd8, 0x5f6a6d, 0x3a4340, 0x9aa5a4, Pattern::kLines, 90.0, 0.8},
    {"spacer", "spacers, washers", 0xf3e7bf, 0x6e5a1c, 0x4d4322, 0xc9b060, Pattern::kLines, 135.0,
     1.0},
    {"bushing", "bushings", 0xd9c27e, 0x6e5a1c, 0x8a7434, 0xe3cf8f, Pattern::kPlain, 0.0, 1.0},
    {"pin", "pins", 0xffffff, 0x1a1a1a, 0x1d2322, 0xd5dbd8, Pattern::kPlain, 0.0, 1.0},
    {"stop", "stop", 0xd2d2cc, 0x4a4f4c, 0x565d59, 0xc3cac6, Pattern::kCrossed, 45.0, 0.9},
    {"ground", "bench, wall", 0xffffff, 0x8a8a80, 0x151918, 0x767c77, Pattern::kLines, 60.0, 1.6},
}};

}  // namespace

const Look& LookOf(Body body) {
  switch (body) {
    case Body::kLid:
      return kTable[kLid];
    case Body::kArmA:
      return kTable[kArmA];
    case Body::kArmB:
      return kTable[kArmB];
    default:
      return kTable[kCase];
  }
}

const Look& LookOf(const HingePiece& piece) {
  switch (piece.kind) {
    case PieceKind::kArm:
      return LookOf(piece.body);
    case PieceKind::kCasePlate:
    case PieceKind::kLidPlate:
    case PieceKind::kJig:
      return kTable[kPlate];
    case PieceKind::kStop:
    case PieceKind::kPad:
      return kTable[kStop];
    case PieceKind::kBushing:
      return kTable[kBushing];
    case PieceKind::kSpacer:  // of sheet: what a plate is packed out with
      return kTable[piece.cut_from_sheet ? kPacking : kSpacer];
    case PieceKind::kWasher:
      return kTable[kSpacer];
    default:
      return kTable[kPin];
  }
}

const Look& GroundLook() {
  return kTable[kGround];
}

const std::array<Look, kLooks>& AllLooks() {
  return kTable;
}

}  // namespace lidwright
