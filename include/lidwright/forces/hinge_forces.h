// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>

#include "lidwright/forces/statics.h"
#include "lidwright/forces/strength.h"
#include "lidwright/forces/tipping.h"

namespace lidwright {

/// What the forces do to a finished hinge.
struct HingeForces {
  Feel feel;
  double load_n = kUnset;        ///< on one arm: the larger of the lid's own and somebody leaning
  ArmStress arm_a, arm_b;        ///< under that load
  PinStress pin;                 ///< of the pin with the longest reach
  double pin_reach_mm = kUnset;  ///< from the plates to the middle of the outer arm
  Tipping tipping;
  double safety = kUnset;  ///< the least strength over stress, of arms and pins
  double safety_wanted = kUnset;
  std::string weakest;  ///< what that is
};

/// Requires arms and a motion that reaches the opening angle. Pins are taken as mild steel with a
/// yield of 235 MPa (common practice, no source) and the diameter of the bushing less 1 mm.
HingeForces ForcesOf(const Job& job, const Solid& solid, const LidMotion& motion,
                     const Vec2& front_edge, const Arm& arm_a, const Arm& arm_b);

}  // namespace lidwright
