// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>

#include "lidwright/arms/arm_outline.h"
#include "lidwright/arms/arm_room.h"
#include "lidwright/synthesis/box_assembly.h"

namespace lidwright {

/// Both arms of one end, as cut, with what was certified of them.
struct ArmsResult {
  std::optional<Arm> arm_a, arm_b;  ///< the best that was found, even if not everything is met
  Verdicts verdicts;                ///< arm A and B to case, lid, contents; arm to arm; layers
  bool met = false;                 ///< both arms exist and every verdict is met
};

/// Everything about a box that arms need, made once.
struct ArmsTask {
  const Job& job;
  const Solid& solid;
  const Assembly& box;
  Limits limits;
  ArmObstacles obstacles;
  ArmShape shape;
};
ArmsTask MakeArmsTask(const Job& job, const Solid& solid, const LidTask& task, const Assembly& box);

/// The stretch of z of a layer at the +z end: plates first, then each arm behind a washer.
struct LayerSpan {
  double z_min_mm = 0.0, z_max_mm = 0.0;
};
LayerSpan SpanOf(const Job& job, const Solid& solid, int layer);

/// Routes both arms (R3), shapes them, and certifies the outlines as cut over the whole swing
/// against case, lid, contents, surroundings and each other. First both on one layer; if they would
/// meet there, on two, the outer one's pins and spacers then standing in the inner one's way.
/// Requires a motion that reaches the opening angle.
ArmsResult ShapeArms(const ArmsTask& task, const Swing& swing);

/// Can plates carry the lid's pivots? For each, whether a strip as wide as the eye comes from the
/// pivot to the lid's end wall, in the room that the case and the case pins leave free over the
/// swing, at the room's sampled accuracy (not proven: the plate itself is not shaped yet).
Verdicts LidPlateRoom(const ArmsTask& task, const LidMotion& motion);

/// Registers an arm as cut: at one end, or in a box whose ends differ at both.
void AddArm(const Arm& arm, Body body, bool mirrored, Assembly& assembly);

/// The certificate of arms, one of which may be missing. `swing` runs from shut to open.
Verdicts CertifyArms(const ArmsTask& task, const Swing& swing, const std::optional<Arm>& arm_a,
                     const std::optional<Arm>& arm_b);

/// An arm whose outline somebody gives, with its place in the stack; a centre line that does not
/// run from hole to hole counts as unknown, and is taken as straight.
Arm GivenArmAsCut(const ArmsTask& task, const Outline& outline, const Circle& case_hole,
                  const Circle& lid_hole, int layer, const Centreline& centreline = {});

}  // namespace lidwright
