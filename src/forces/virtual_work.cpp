// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/virtual_work.h"

#include <array>

namespace lidwright {
namespace {

struct Moving {
  const MassProperties* mass;
  Body body;
};

std::array<Moving, 3> BodiesOf(const LoadCase& load) {
  return {{{&load.lid, Body::kLid}, {&load.arm_a, Body::kArmA}, {&load.arm_b, Body::kArmB}}};
}

double RateOf(const LidState& state, Body body) {
  switch (body) {
    case Body::kLid:
      return 1.0;
    case Body::kArmA:
      return state.rate_a;
    case Body::kArmB:
      return state.rate_b;
    default:
      return 0.0;
  }
}

}  // namespace

Vec2 VelocityOf(const LidMotion& motion, const LidState& state, Body body, const Vec2& p) {
  switch (body) {
    case Body::kLid:
      // Pivot A goes round its case pivot; the lid turns about pivot A.
      return state.rate_a * Perp(Vec2(state.lid_a - motion.pivots().case_a)) +
             Perp(Vec2(p - state.lid_a));
    case Body::kArmA:
      return state.rate_a * Perp(Vec2(p - motion.pivots().case_a));
    case Body::kArmB:
      return state.rate_b * Perp(Vec2(p - motion.pivots().case_b));
    default:
      return Vec2::Zero();
  }
}

double WorkOf_nmm(const LidMotion& motion, const LidState& state, Body body, const Vec2& force_n,
                  const Vec2& at) {
  return force_n.dot(VelocityOf(motion, state, body, at));
}

double FrictionWork_nmm(const LidState& state, const Balance& balance) {
  return balance.friction_nmm[kCaseA] * state.rate_a + balance.friction_nmm[kCaseB] * state.rate_b +
         balance.friction_nmm[kLidA] * (1.0 - state.rate_a) +
         balance.friction_nmm[kLidB] * (1.0 - state.rate_b);
}

double ClosingMoment_nmm(const LidMotion& motion, const LidState& state, const LoadCase& load) {
  double moment = 0.0;
  for (const Moving& moving : BodiesOf(load)) {
    if (!(moving.mass->mass_kg > 0.0)) continue;
    const Vec2 centre = motion.BodyPose(moving.body, state) * moving.mass->centre;
    moment +=
        moving.mass->mass_kg * kGravity_m_s2 * VelocityOf(motion, state, moving.body, centre).y();
  }
  return moment;
}

double WeightHeight_kg_mm(const LidMotion& motion, const LidState& state, const LoadCase& load) {
  double sum = 0.0;
  for (const Moving& moving : BodiesOf(load)) {
    if (!(moving.mass->mass_kg > 0.0)) continue;
    sum += moving.mass->mass_kg * (motion.BodyPose(moving.body, state) * moving.mass->centre).y();
  }
  return sum;
}

double MovingInertia_kg_mm2(const LidMotion& motion, const LidState& state, const LoadCase& load) {
  double sum = 0.0;
  for (const Moving& moving : BodiesOf(load)) {
    if (!(moving.mass->mass_kg > 0.0)) continue;
    const Vec2 centre = motion.BodyPose(moving.body, state) * moving.mass->centre;
    const double rate = RateOf(state, moving.body);
    sum += moving.mass->mass_kg * VelocityOf(motion, state, moving.body, centre).squaredNorm() +
           moving.mass->inertia_kg_mm2 * rate * rate;
  }
  return sum;
}

}  // namespace lidwright
