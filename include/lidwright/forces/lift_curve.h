// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/arms/shop_holding.h"
#include "lidwright/forces/statics.h"

namespace lidwright {

/// Something that helps to hold the lid, the same at each end of the box.
struct LidHolder {
  enum class Kind {
    kFriction,      ///< washer, torque insert, damper at rest: resists either way
    kSpring,        ///< torsion spring at a joint
    kCounterweight  ///< a weight on a body
  };
  Kind kind = Kind::kFriction;
  Joint joint = kCaseA;       ///< kFriction, kSpring
  double torque_nmm = 0.0;    ///< of one end; a spring's with the lid shut, positive helps opening
  double rate_nmm_rad = 0.0;  ///< kSpring: growth of that per radian the joint turns open
  Body body = Body::kLid;     ///< kCounterweight
  Vec2 at = Vec2::Zero();     ///< its centre, lid shut
  double mass_kg = 0.0;       ///< both ends' together
};

/// How a joint turns per lid angle: the arm in the case, or the lid on the arm.
double JointRate(const LidState& state, Joint joint);

/// How far a joint has turned at each of growing lid angles from shut, followed past half a turn.
/// Requires the first angle 0.
std::vector<double> JointTurns_rad(const LidMotion& motion, Joint joint,
                                   const std::vector<double>& theta_rad);

/// What a hand feels over the swing with holders fitted, at Feel's angles. Both ends together.
struct LiftCurve {
  std::vector<double> theta_rad;
  std::vector<double> moment_nmm;    ///< left to hold: weight less springs; positive wants to shut
  std::vector<double> friction_nmm;  ///< pins' and holders'
  std::vector<double> raise_n, lower_n;  ///< at the front edge, as Feel's
  double largest_lift_n = 0.0;
  double largest_push_n = 0.0;    ///< to let it down
  bool stays_everywhere = false;  ///< but shut and open, where it rests
  double short_nmm = 0.0;         ///< moment still missing where it does not stay
  double short_at_rad = kUnset;
  bool pops_open = false;  ///< it rises from shut by itself: a catch is needed
};

/// By virtual work: a torque T at a joint counts T |dφ/dθ|, a weight its rise per radian. The pins'
/// own friction is Feel's (what holders add to the pins' loads is left out: a share of a share).
LiftCurve LiftWith(const Feel& feel, const LidMotion& motion, const Vec2& front_edge,
                   const std::vector<LidHolder>& holders);

/// [1] A friction holder is chosen with this much in hand: friction wears and falls to two thirds
/// (common practice, no source).
inline constexpr double kFrictionInHand = 1.5;

/// What was picked to keep the lid anywhere, and what it leads to.
struct HolderChoice {
  LidHolder holder;
  std::string name;
  LiftCurve curve;
};

/// Friction washers and torque inserts that keep the lid at every angle, at the joint at which the
/// smallest does: the washer with its squeeze (capacity 2 μ F r, r = ⅔ (R³ − r³)/(R² − r²)) and the
/// insert of the least torque. Nothing of a kind if none of those sold does. `needed`
/// false and nothing else if the pins' friction keeps it already.
struct HolderChoices {
  bool needed = false;
  std::optional<HolderChoice> washer, insert;
};
HolderChoices ChooseHolders(const Feel& feel, const LidMotion& motion, const Vec2& front_edge);

/// Torque that a friction washer resists with under its spring's squeeze.
double TorqueOf_nmm(const StockFriction& washer);

/// The weight at a place of a body that leaves the least to hold over the swing, by least squares
/// of the moment, with what is left; 0 kg if a weight there would only make it worse.
HolderChoice Counterweight(const Feel& feel, const LidMotion& motion, const Vec2& front_edge,
                           Body body, const Vec2& at);

}  // namespace lidwright
