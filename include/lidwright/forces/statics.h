// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <vector>

#include "lidwright/forces/balance.h"

namespace lidwright {

/// Everything about how the lid feels, sampled evenly from shut to open. Forces are for both ends
/// of the box together unless they are on one pin.
struct Feel {
  MassProperties lid;
  std::vector<double> theta_rad;
  std::vector<double> moment_nmm;    ///< gravity's, positive wants to shut (virtual work)
  std::vector<double> friction_nmm;  ///< moment between about to rise and about to sink, halved
  std::vector<double> hand_n;        ///< at the front edge along its path, without friction
  std::vector<double> raise_n;       ///< the same hand about to raise the lid, with friction
  std::vector<double> lower_n;       ///< and about to let it down: negative if it must be pushed
  std::vector<double> short_nmm;     ///< moment a stay must add to keep it there; 0 where it stays
  std::vector<double> arm_a_n, arm_b_n;            ///< pull in the arms while the hand holds
  std::vector<std::array<double, kJoints>> pin_n;  ///< load of each pin of one end, lid held

  double largest_lift_n = kUnset;   ///< to raise it, friction included
  double balance_rad = kUnset;      ///< the last angle at which the weight passes over
  double over_centre_rad = kUnset;  ///< opening angle less that: NaN if it never passes over
  double over_centre_nmm =
      kUnset;  ///< moment that keeps the open lid open; negative: wants to shut
  double over_centre_tilt_rad =
      kUnset;                   ///< the box tilted forward by this, the open lid comes back
  double shut_push_n = kUnset;  ///< hand at the front edge that starts the open lid back
  struct Stretch {
    double from_rad = 0.0, to_rad = 0.0;
  };
  std::vector<Stretch> stays;     ///< where friction alone keeps the lid, ends to 1e-6 rad
  double largest_pin_n = kUnset;  ///< on one pin of one end, lid held, over the swing

  double stop_n = kUnset;         ///< on one end's stop under the lid's weight; NaN: not leaned on
  double leaning_pin_n = kUnset;  ///< on one pin when somebody leans on the open lid's edge
  Joint leaning_joint = kCaseA;
  double leaning_rad = kUnset;     ///< direction of that force: 0 to the front, π/2 up
  double leaning_stop_n = kUnset;  ///< largest on one end's stop
  double stop_pin_n = kUnset;      ///< on one pin, open, the weight on the stop, nobody leaning

  double holding_nmm = kUnset;       ///< moment a stay must add to keep it at every angle
  double holding_shut_nmm = kUnset;  ///< only against falling shut

  double slam_m_s = kUnset;  ///< speed of the front edge at the rim, let go from the highest point
  double slam_j = kUnset;    ///< and the energy
  double thrown_m_s = kUnset;  ///< at the stop, let go from the highest point the other way; or 0
  double thrown_j = kUnset;
};

/// Friction: each joint resists with μ · pin radius · its load; loads and friction are found
/// together (balance.h). The lid stays where a hand would have to push either way:
/// lower ≤ 0 ≤ raise. The same μ serves for rest and motion; washers' friction is left out.
///
/// Falling is without friction or air, from rest where the lid's centre is highest: the worst case.
///
/// Leaning: the case's force at `front_edge` of the open lid with its weight, over all directions
/// in the side view at half-degree steps; directions that lift the lid off its stop are left out
/// (they start it back, they load nothing). Without a stop in the case a pure moment takes its
/// place and all directions count. The nearer end gets the case's share of all of it.
///
/// Requires a linkage whose range goes beyond open_rad.
Feel FeelOf(const LoadCase& load, const LidMotion& motion, double open_rad, const Vec2& front_edge,
            int samples = 96);

}  // namespace lidwright
