// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/forces/statics.h"

namespace lidwright {

/// Fills what the open lid's stop and pins bear, by itself and with somebody leaning on its edge.
void AddLeaning(const LoadCase& load, const LidMotion& motion, double open_rad,
                const Vec2& front_edge, Feel& feel);

/// One end's joints (in Joint's order: case ones on the arm, lid ones on the lid) and the force
/// of its stop while somebody leans in one direction.
struct LeaningHand {
  std::array<Vec2, kJoints> joint;
  double stop_n = 0.0;
  double direction_rad = 0.0;
};

/// Hands that lean in `count` directions round, those left out that lift the lid off its stop.
std::vector<LeaningHand> Leanings(const LoadCase& load, const LidMotion& motion, double open_rad,
                                  const Vec2& front_edge, int count);

}  // namespace lidwright
