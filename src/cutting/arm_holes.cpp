// SPDX-License-Identifier: Apache-2.0
#include "lidwright/cutting/arm_holes.h"

#include <cmath>

#include "lidwright/base/bench.h"
#include "lidwright/base/check.h"

namespace lidwright {

ArmHoles HolesOf(const Hinge& hinge, Body arm) {
  const std::optional<Arm>& shape = arm == Body::kArmA ? hinge.arm_a : hinge.arm_b;
  LW_REQUIRE(shape.has_value(), "the hinge lacks that arm");
  ArmHoles holes;
  holes.bushing_mm = 2.0 * shape->case_hole.radius_mm;
  if (!hinge.parts) return holes;
  if (hinge.parts->hardware) holes.bushing_mm = hinge.parts->hardware->bushing.outside_mm;
  for (const HingePiece& piece : hinge.parts->pieces) {
    if (piece.kind != PieceKind::kArm || piece.body != arm || piece.holes.empty()) continue;
    holes.drilled_mm = 2.0 * piece.holes[0].radius_mm;
  }
  return holes;
}

std::string HoleText(const ArmHoles& holes, bool inches) {
  if (std::isnan(holes.bushing_mm)) {
    return "hole " + BenchText(holes.drilled_mm, Bench::kHole, inches);
  }
  const std::string bushing = BenchText(holes.bushing_mm, Bench::kHole, inches) + " bushing";
  if (std::isnan(holes.drilled_mm)) return "hole for a " + bushing;
  return "hole " + BenchText(holes.drilled_mm, Bench::kHole, inches) + " for a " + bushing +
         (holes.drilled_mm < holes.bushing_mm ? " pressed in" : " glued in");
}

}  // namespace lidwright
