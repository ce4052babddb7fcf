// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/arms/hardware.h"
#include "lidwright/arms/shape_arms.h"

namespace lidwright {

/// One thing that a pin passes, from the outside of the box inwards.
struct StackRow {
  std::string part;
  std::string material;
  double z_min_mm = 0.0;
  double z_max_mm = 0.0;
  double Thickness_mm() const { return z_max_mm - z_min_mm; }
};

/// The section through one pivot at the +z end.
struct PivotStack {
  std::string pivot;        ///< "case pin of arm A" …
  Body body = Body::kCase;  ///< what holds the pin
  bool arm_b = false;
  Vec2 centre = Vec2::Zero();
  std::vector<StackRow> rows;  ///< touching each other, outermost first; the last is the pin's head
  double pin_length_mm = 0.0;  ///< all of it, head included: the sum of the rows
  LayerSpan pin, spacer, head;
};

/// Every place across the width that parts of one hinge take, z as in Solid. From the wall inwards:
/// ends that lean or are cupped get wooden blocks with an upright face (Solid::block), which count
/// as their wall; the case plate lies on the case's end wall, or on a packing piece that keeps it
/// out of the way of a lip inside the case's end; the lid plate passes over it, held off by a
/// packing piece between it and the lid's end wall; then the arms' layers.
struct StackPlan {
  std::string plate_material;
  LayerSpan case_block, lid_block;  ///< no thickness at upright ends; the case's: at the rim
  LayerSpan case_packing;           ///< no thickness unless the lid's end reaches farther in
  LayerSpan case_plate;
  LayerSpan lid_packing;
  LayerSpan lid_plate;
  LayerSpan arm_a, arm_b;
  double case_face_mm = 0.0;  ///< z of the inner face of the case's end wall or its block
  double lid_face_mm = 0.0;
  double case_wall_mm = 0.0;  ///< thickness of the wood behind it, where that is least
  double lid_wall_mm = 0.0;
  double case_end_mm = 0.0, lid_end_mm = 0.0;  ///< faces of the end walls alone, at the rim
  double lid_end_wall_mm = 0.0;
  double pin_in_wall_mm = 0.0;  ///< case pins go on into the wall by this
  LayerSpan case_screw, lid_screw;
  std::vector<PivotStack> pivots;  ///< case A, case B, lid A, lid B
};

/// Lays the stack between the end wall and the bay's inner limit, with the job's plates
/// (PlatesOf). Gives nothing and a sentence each in `faults` where it does not fit: plates too
/// thick for the room before the arms, a bay too thin, walls too thin for screws or pins.
std::optional<StackPlan> LayStack(const Job& job, const Solid& solid, const Pivots& pivots,
                                  const Arm& arm_a, const Arm& arm_b, const Hardware& hardware,
                                  std::vector<std::string>* faults);

}  // namespace lidwright
