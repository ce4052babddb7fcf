// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <vector>

#include "lidwright/arms/shop_holding.h"
#include "lidwright/base/units.h"
#include "lidwright/forces/statics.h"

namespace lidwright {

/// [rad] A hand is under the lid till there. What would hold the lid nearer to shut, where it all
/// but lies on its rim, may be many times as much and would make it hard to lift everywhere (a
/// judgement, no source).
inline constexpr double kHandLeaves_rad = 15.0 * kRadPerDeg;

/// A washer as sold under a nut on one pivot at each end of the box, squeezed until it holds the
/// lid.
struct FrictionWasher {
  Joint joint = kCaseA;
  double torque_nmm = kUnset;  ///< it must resist with, at each end
  double clamp_n = kUnset;     ///< squeeze for that, two faces rub
  StockFriction stock;         ///< goes over the pin, and its own spring squeezes as much
};

/// A torsion spring on a case pivot at each end that carries part of the weight.
struct TorsionSpring {
  Joint joint = kCaseA;
  double turn_rad = kUnset;  ///< of that arm from shut to open; negative: the arm turns backwards
  double shut_nmm = kUnset;  ///< torque of one spring, lid shut; positive helps opening
  double open_nmm = kUnset;  ///< and open
  double rate_nmm_rad = kUnset;  ///< (open − shut) / turn
  /// Moment on the lid still to be held by friction, at the worst angle from kHandLeaves_rad on.
  double left_nmm = kUnset;
  bool pops_open = false;  ///< it would lift the shut lid by itself: a catch is needed
};

/// What would keep the lid where it is let go. What to buy is `support_nmm` and nothing else: every
/// text tells it; what would hold the lid at every angle is the reason why it is not more.
struct Holdings {
  bool needed = false;  ///< false: friction alone keeps it at every angle
  /// Friction of a pair of lid supports or hinges, about the lid's own turning, that holds the lid
  /// from kHandLeaves_rad on; 0 where the pins' friction does.
  double support_nmm = 0.0;
  double stay_nmm = 0.0;                ///< the same at every angle
  double stay_shut_nmm = 0.0;           ///< and if it may fall open
  std::vector<FrictionWasher> washers;  ///< on the joints where one does, least torque first
  std::vector<TorsionSpring> springs;   ///< on case A and case B, least left over first

  bool ToBuy() const;  ///< is there anything to hold from kHandLeaves_rad on?
};

/// Numbers to buy by, from a feel.
///
/// Supports: largest moment left over when the pins' friction is used up.
/// Washers: that moment from kHandLeaves_rad on over the joint's turning per lid angle, per end, at
/// the worst angle; of the washers sold that which fits the joint's pin the nearest, if its spring
/// has kFrictionInHand of the torque (TorqueOf_nmm); the squeeze in proportion. `pin_mm`: diameters
/// of one end's pins.
/// Springs: torque linear in the arm's turn, least squares over the swing of gravity's moment less
/// the springs'; what is left and not covered by the pins' friction is `left_nmm`.
Holdings HoldingsOf(const Feel& feel, const LidMotion& motion,
                    const std::array<double, kJoints>& pin_mm);

}  // namespace lidwright
