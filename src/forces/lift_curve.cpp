// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/lift_curve.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/numbers.h"
#include "lidwright/forces/virtual_work.h"

namespace lidwright {
namespace {

// [N·mm] Less than this over the whole lid is nothing: a gram at a metre.
constexpr double kNothing_nmm = 10.0;
constexpr double kIdleJoint = 0.05;  // [1] turns so little per lid angle that it holds nothing

std::vector<LidState> StatesOf(const LidMotion& motion, const std::vector<double>& theta_rad) {
  std::vector<LidState> states;
  for (const double theta : theta_rad) states.push_back(motion.At(theta));
  return states;
}

// What a weight of a kilogram at a place adds to the moment that wants to shut the lid.
double ShutsPerKg_nmm(const LidMotion& motion, const LidState& state, Body body, const Vec2& at) {
  const Vec2 now = motion.BodyPose(body, state) * at;
  return kGravity_m_s2 * VelocityOf(motion, state, body, now).y();
}

// Adds one holder to the moments and frictions left.
void Add(const LidHolder& holder, const LidMotion& motion, const std::vector<LidState>& states,
         LiftCurve& curve) {
  if (holder.kind == LidHolder::Kind::kCounterweight) {
    for (std::size_t i = 0; i < states.size(); ++i) {
      curve.moment_nmm[i] +=
          holder.mass_kg * ShutsPerKg_nmm(motion, states[i], holder.body, holder.at);
    }
    return;
  }
  const std::vector<double> turns = JointTurns_rad(motion, holder.joint, curve.theta_rad);
  const double sense = turns.back() < 0.0 ? -1.0 : 1.0;
  for (std::size_t i = 0; i < states.size(); ++i) {
    const double rate = JointRate(states[i], holder.joint);
    if (holder.kind == LidHolder::Kind::kFriction) {
      curve.friction_nmm[i] += 2.0 * holder.torque_nmm * std::abs(rate);
    } else {
      const double torque = holder.torque_nmm + holder.rate_nmm_rad * sense * turns[i];
      curve.moment_nmm[i] -= 2.0 * torque * sense * rate;
    }
  }
}

// Shut the lid rests on the rim, open on its stop: it has to be held only away from those.
bool Rests(std::size_t i, std::size_t count, double moment_nmm) {
  return (i == 0 && moment_nmm > 0.0) || (i + 1 == count && moment_nmm < 0.0);
}

void Judge(const std::vector<double>& lever_mm, LiftCurve& curve) {
  curve.stays_everywhere = true;
  for (std::size_t i = 0; i < curve.theta_rad.size(); ++i) {
    const double moment = curve.moment_nmm[i], friction = curve.friction_nmm[i];
    curve.raise_n.push_back((moment + friction) / lever_mm[i]);
    curve.lower_n.push_back((moment - friction) / lever_mm[i]);
    curve.largest_lift_n = std::max(curve.largest_lift_n, curve.raise_n.back());
    curve.largest_push_n = std::max(curve.largest_push_n, -curve.lower_n.back());
    const bool rests = Rests(i, curve.theta_rad.size(), moment);
    const double lacks = rests ? 0.0 : std::abs(moment) - friction;
    if (lacks <= kNothing_nmm) continue;
    curve.stays_everywhere = false;
    if (lacks <= curve.short_nmm) continue;
    curve.short_nmm = lacks;
    curve.short_at_rad = curve.theta_rad[i];
  }
  curve.pops_open = -curve.moment_nmm.front() > curve.friction_nmm.front() + kNothing_nmm;
}

// Torque that one end's joint must resist with so that the lid stays everywhere; nothing where the
// joint does not turn while it is needed.
std::optional<double> TorqueNeeded_nmm(const Feel& feel, const LidMotion& motion, Joint joint) {
  double torque = 0.0;
  for (std::size_t i = 0; i < feel.theta_rad.size(); ++i) {
    if (feel.short_nmm[i] <= kNothing_nmm) continue;
    if (Rests(i, feel.theta_rad.size(), feel.moment_nmm[i])) continue;
    const double rate = std::abs(JointRate(motion.At(feel.theta_rad[i]), joint));
    if (rate < kIdleJoint) return std::nullopt;
    torque = std::max(torque, feel.short_nmm[i] / rate / 2.0);
  }
  return torque;
}

}  // namespace

double JointRate(const LidState& state, Joint joint) {
  switch (joint) {
    case kCaseA:
      return state.rate_a;
    case kCaseB:
      return state.rate_b;
    case kLidA:
      return 1.0 - state.rate_a;
    default:
      return 1.0 - state.rate_b;
  }
}

std::vector<double> JointTurns_rad(const LidMotion& motion, Joint joint,
                                   const std::vector<double>& theta_rad) {
  LW_REQUIRE(!theta_rad.empty() && theta_rad.front() == 0.0, "angles do not begin shut");
  const Body arm = joint == kCaseA || joint == kLidA ? Body::kArmA : Body::kArmB;
  std::vector<double> turns;
  double turn = 0.0, last = 0.0;
  for (const double theta : theta_rad) {
    const double now = motion.ArmTurn_rad(arm, motion.At(theta));
    turn += std::remainder(now - last, 2.0 * kPi);
    last = now;
    turns.push_back(joint < kLidA ? turn : theta - turn);
  }
  return turns;
}

LiftCurve LiftWith(const Feel& feel, const LidMotion& motion, const Vec2& front_edge,
                   const std::vector<LidHolder>& holders) {
  LiftCurve curve;
  curve.theta_rad = feel.theta_rad;
  curve.moment_nmm = feel.moment_nmm;
  curve.friction_nmm = feel.friction_nmm;
  const std::vector<LidState> states = StatesOf(motion, feel.theta_rad);
  for (const LidHolder& holder : holders) Add(holder, motion, states, curve);
  std::vector<double> levers;
  for (const LidState& state : states) {
    levers.push_back((state.X_CL * front_edge - motion.InstantCentre(state)).norm());
  }
  Judge(levers, curve);
  return curve;
}

double TorqueOf_nmm(const StockFriction& washer) {
  const double outside = washer.outside_mm / 2.0, inside = washer.inside_mm / 2.0;
  const double radius = 2.0 / 3.0 * (std::pow(outside, 3) - std::pow(inside, 3)) /
                        (std::pow(outside, 2) - std::pow(inside, 2));
  return 2.0 * washer.friction * washer.clamp_n * radius;
}

HolderChoices ChooseHolders(const Feel& feel, const LidMotion& motion, const Vec2& front_edge) {
  HolderChoices choices;
  choices.needed = feel.holding_nmm > kNothing_nmm;
  if (!choices.needed) return choices;
  const auto pick = [&](double torque, Joint joint, const std::string& name) {
    LidHolder holder;
    holder.joint = joint;
    holder.torque_nmm = torque;
    return HolderChoice{holder, name, LiftWith(feel, motion, front_edge, {holder})};
  };
  double least_washer = std::numeric_limits<double>::infinity(), least_insert = least_washer;
  for (const Joint joint : {kCaseA, kCaseB, kLidA, kLidB}) {
    const std::optional<double> needed = TorqueNeeded_nmm(feel, motion, joint);
    if (!needed) continue;
    const double wanted = kFrictionInHand * *needed;
    for (const StockFriction& washer : StockFrictions()) {
      // The nut sets the squeeze, so a washer is used at what is wanted, not at all it could.
      if (TorqueOf_nmm(washer) < wanted || wanted >= least_washer) continue;
      least_washer = wanted;
      const double squeeze = washer.clamp_n * wanted / TorqueOf_nmm(washer);
      choices.washer =
          pick(wanted, joint, washer.name + ", squeezed with " + Text(squeeze, 0) + " N");
      break;
    }
    for (const StockTorque& insert : StockTorques()) {
      if (insert.torque_nmm < wanted || insert.torque_nmm >= least_insert) continue;
      least_insert = insert.torque_nmm;
      choices.insert = pick(insert.torque_nmm, joint, insert.name);
      break;
    }
  }
  return choices;
}

HolderChoice Counterweight(const Feel& feel, const LidMotion& motion, const Vec2& front_edge,
                           Body body, const Vec2& at) {
  // Least squares in one unknown: m = −Σ M g / Σ g².
  double products = 0.0, squares = 0.0;
  for (std::size_t i = 0; i < feel.theta_rad.size(); ++i) {
    const double per_kg = ShutsPerKg_nmm(motion, motion.At(feel.theta_rad[i]), body, at);
    products += feel.moment_nmm[i] * per_kg;
    squares += per_kg * per_kg;
  }
  LidHolder holder;
  holder.kind = LidHolder::Kind::kCounterweight;
  holder.body = body;
  holder.at = at;
  holder.mass_kg = squares > 0.0 ? std::max(0.0, -products / squares) : 0.0;
  return {holder, "counterweight of " + Text(holder.mass_kg, 2) + " kg",
          LiftWith(feel, motion, front_edge, {holder})};
}

}  // namespace lidwright
