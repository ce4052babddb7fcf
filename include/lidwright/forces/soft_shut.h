// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <limits>
#include <vector>

#include "lidwright/arms/shop_holding.h"
#include "lidwright/forces/lift_curve.h"

namespace lidwright {

/// A damper on a joint, one at each end.
struct LidDamper {
  Joint joint = kCaseA;
  double rate_nmm_s = 0.0;  ///< of one: torque per speed of the joint [N·mm s/rad]
  /// It works only below this lid angle (a plunger at the rim), or all the way.
  double below_rad = std::numeric_limits<double>::infinity();
};

/// How a lid comes down that is let go at rest.
struct Shutting {
  bool shuts = false;  ///< else it stays at rest_rad
  double rest_rad = 0.0;
  double speed_m_s = 0.0;    ///< of the front edge as it meets the rim
  double energy_j = 0.0;     ///< left in lid and arms then
  double fastest_m_s = 0.0;  ///< of the front edge on the way
  double time_s = 0.0;
  double damper_nmm = 0.0;  ///< largest torque on one damper
};

/// The lid's one equation of motion, energy over angle:
/// dE/d(−θ) = M(θ) − friction(θ) − Σ 2 c (dφ/dθ)² ω, ω = √(2 E / J(θ)), from rest at `from_rad`;
/// M and J by virtual_work.h, friction and moments of `curve` (LiftWith; between its angles
/// straight). Backward steps, so that stiff dampers do not ring, halved once and extrapolated.
/// Accuracy: 1e-3 of the speed (measured against step-by-step integration in time).
/// Requires 0 < from_rad ≤ the curve's last angle.
Shutting ShutFrom(double from_rad, const LoadCase& load, const LidMotion& motion,
                  const Vec2& front_edge, const LiftCurve& curve,
                  const std::vector<LidDamper>& dampers);

/// [m/s] A front edge that comes down no faster counts as softly shut: a hand put in its way is
/// pushed, not hit (common practice, no source).
inline constexpr double kSoft_m_s = 0.15;

/// The lightest damper sold, at the joint where it does most, with which the lid comes down softly
/// from every angle it falls from; nothing if none does.
struct DamperChoice {
  StockDamper damper;
  LidDamper at;
  Shutting shutting;  ///< from where it falls fastest
};
std::optional<DamperChoice> ChooseDamper(const LoadCase& load, const LidMotion& motion,
                                         const Vec2& front_edge, const LiftCurve& curve);

/// A lid that lands on pads with an energy left.
struct Landing {
  double pressed_mm = 0.0;
  double force_n = 0.0;  ///< largest, on all pads together
  bool hard = false;     ///< beyond half of the pad's thickness: it knocks through
};
/// Pads as springs, k = E A / t: x = √(2 energy / k). `area_mm2` is all pads' together.
Landing LandingOn(const StockPad& pad, double area_mm2, double energy_j);

/// Area of a pad that catches an energy without being pressed beyond half its thickness.
double PadArea_mm2(const StockPad& pad, double energy_j);

}  // namespace lidwright
