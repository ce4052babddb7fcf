// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/forces/lid_mass.h"
#include "lidwright/linkage/lid_motion.h"

namespace lidwright {

inline constexpr double kGravity_m_s2 = 9.80665;

/// What holds a lid at one angle, from force balance: its weight, one force along each arm (arms
/// are two-force members: pulling is positive), and a hand at the front edge that pushes square to
/// the line from the edge to the instant centre, positive in the opening sense. All for both ends
/// of the box together, in newtons.
struct Holding {
  double hand_n = kUnset;
  double arm_a_n = kUnset;
  double arm_b_n = kUnset;
};

/// Three equations (two forces, one moment), three unknowns. Requires arms that are not parallel.
Holding HoldingAt(const LidMotion& motion, const MassProperties& lid, const Vec2& front_edge,
                  double theta_rad);

/// Gravity's generalised force against opening: weight times rise of the mass centre per radian of
/// lid angle [N·mm]. Positive: the lid wants to shut. By virtual work, without any forces.
double ClosingMoment_nmm(const LidMotion& motion, const MassProperties& lid, double theta_rad);

/// Everything about how the lid feels, sampled evenly from shut to open.
struct Feel {
  MassProperties lid;
  std::vector<double> theta_rad;
  std::vector<double> moment_nmm;        ///< ClosingMoment
  std::vector<double> friction_nmm;      ///< what the pins' friction can hold against it, at most
  std::vector<double> hand_n;            ///< lift force at the front edge
  std::vector<double> arm_a_n, arm_b_n;  ///< while the hand holds, both ends together

  double largest_lift_n = kUnset;
  double balance_rad = kUnset;  ///< where the weight passes over: beyond it the lid opens by itself
  double over_centre_rad = kUnset;  ///< opening angle less balance: negative if it never gets over
  struct Stretch {
    double from_rad = 0.0, to_rad = 0.0;
  };
  std::vector<Stretch> stays;     ///< where friction alone keeps the lid
  double largest_pin_n = kUnset;  ///< on one pin of one end, over the swing
  double leaning_pin_n = kUnset;  ///< the same when somebody leans on the open lid's edge
  double holding_nmm = kUnset;    ///< moment that a stay must add to keep it at every angle
  double slam_m_s = kUnset;  ///< speed of the front edge if let go from the balance point (or open)
  double slam_j = kUnset;    ///< and the energy
};

/// Friction: each of the four joints resists with μ · pin radius · its load, turning at its own
/// rate (arm against case, arm against lid), the loads being those of the held lid. The drop is
/// without friction: the worst case.
/// Leaning: the job's force at the open lid's edge in the worst direction in the plane, the lid
/// held from turning by its stop.
Feel FeelOf(const Job& job, const Solid& solid, const LidMotion& motion, const Vec2& front_edge,
            int samples = 96);

}  // namespace lidwright
