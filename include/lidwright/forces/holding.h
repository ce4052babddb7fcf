// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/forces/statics.h"

namespace lidwright {

/// A washer under a nut on one pivot at each end of the box, squeezed until it holds the lid.
struct FrictionWasher {
  Joint joint = kCaseA;
  double torque_nmm = kUnset;  ///< it must resist with, at each end
  double clamp_n = kUnset;     ///< squeeze for that, with the washer below; two faces rub
};

/// A torsion spring on a case pivot at each end that carries part of the weight.
struct TorsionSpring {
  Joint joint = kCaseA;
  double turn_rad = kUnset;  ///< of that arm from shut to open; negative: the arm turns backwards
  double shut_nmm = kUnset;  ///< torque of one spring, lid shut; positive helps opening
  double open_nmm = kUnset;  ///< and open
  double rate_nmm_rad = kUnset;  ///< (open − shut) / turn
  double left_nmm = kUnset;  ///< moment on the lid still to be held by friction, at the worst angle
  bool pops_open = false;    ///< it would lift the shut lid by itself: a catch is needed
};

/// What would keep the lid where it is let go: torques, springs and washers to buy by.
struct Holdings {
  bool needed = false;  ///< false: friction alone keeps it at every angle
  double stay_nmm =
      0.0;  ///< friction of a pair of lid stays or hinges, about the lid's own turning
  double stay_shut_nmm = 0.0;           ///< the same if it may fall open
  std::vector<FrictionWasher> washers;  ///< one kind for each joint, least torque first
  std::vector<TorsionSpring> springs;   ///< on case A and case B, least left over first
  double washer_outside_mm = kUnset, washer_inside_mm = kUnset, washer_friction = kUnset;
};

struct WasherWish {
  double outside_mm = 12.0;
  double inside_mm = 4.0;
  double friction = 0.2;  ///< fibre or nylon on metal (from memory: 0.15 … 0.3)
};

/// Numbers to buy by, from a feel.
///
/// Stays: largest moment left over when the pins' friction is used up.
/// Washers: that moment over the joint's turning per lid angle, per end, at the worst angle; the
/// squeeze from torque = 2 μ F r with r = (2/3)(R³ − r³)/(R² − r²), even pressure (the textbook's
/// disc clutch).
/// Springs: torque linear in the arm's turn, least squares over the swing of gravity's moment less
/// the springs'; what is left and not covered by the pins' friction is `left_nmm`.
Holdings HoldingsOf(const Feel& feel, const LidMotion& motion, const WasherWish& wish = {});

}  // namespace lidwright
