// SPDX-License-Identifier: Apache-2.0
#include <catch2/catch.hpp>
#include <cmath>

#include "forces/force_cases.h"
#include "lidwright/base/check.h"
#include "lidwright/base/units.h"
#include "lidwright/forces/virtual_work.h"
#include "swing/loop_oracle.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

// What holds a linkage, each in turn: a hand on the lid, a force on either arm, a moment.
std::vector<Holder> HoldersAt(const ForceCase& c, const LidState& state, Draw& draw) {
  std::vector<Holder> holders{HandAt(c.motion, state, c.front)};
  for (const Body body : {Body::kLid, Body::kArmA, Body::kArmB}) {
    Holder holder;
    holder.body = body;
    holder.at = Vec2(draw(-50, 250), draw(-120, 60));
    const double angle = draw(0.0, 2.0 * kPi);
    holder.along = {std::cos(angle), std::sin(angle)};
    holders.push_back(holder);
  }
  Holder moment;
  moment.moment = true;
  holders.push_back(moment);
  return holders;
}

double HolderWork(const ForceCase& c, const LidState& state, const Holder& holder) {
  return holder.moment ? 1.0 : WorkOf_nmm(c.motion, state, holder.body, holder.along, holder.at);
}

}  // namespace

TEST_CASE("force balance and virtual work give one holding force, at random linkages") {
  Draw draw(5);
  int compared = 0, rubbing = 0;
  for (const ForceCase& c : RandomForceCases(300, 23)) {
    for (const double theta : {0.0, 0.3, 0.6, 0.9}) {
      const LidState state = c.motion.At(theta);
      if (c.motion.ArmsAngle_rad(state) < 0.05) continue;
      const std::vector<LidLoad> loads{
          {Vec2(draw(-40, 40), draw(-40, 40)), Vec2(draw(-50, 250), draw(-120, 60))}};
      for (const Holder& holder : HoldersAt(c, state, draw)) {
        const double lever = HolderWork(c, state, holder);
        if (!holder.moment && std::abs(lever) < 5.0) continue;  // it hardly holds anything
        for (const double sense : {0.0, 1.0, -1.0}) {
          const Balance balance =
              BalanceAt(c.motion, state, c.load, holder, loads, FrictionOf(c.load, sense));
          if (!balance.settled) continue;
          const double gravity = -ClosingMoment_nmm(c.motion, state, c.load);
          const double load =
              WorkOf_nmm(c.motion, state, Body::kLid, loads[0].force_n, loads[0].at);
          const double friction = FrictionWork_nmm(state, balance);
          const double size = std::abs(balance.held * lever) + std::abs(gravity) + std::abs(load) +
                              std::abs(friction);
          CHECK(std::abs(balance.held * lever + gravity + load + friction) < 1e-9 * size);
          CHECK(friction * sense <= 0.0);  // friction never helps the motion along
          ++compared;
          if (friction != 0.0) ++rubbing;
        }
      }
    }
  }
  CHECK(compared > 5000);
  CHECK(rubbing > 2000);
}

TEST_CASE("nothing is left over on the lid and on each arm") {
  Draw draw(6);
  int compared = 0;
  for (const ForceCase& c : RandomForceCases(150, 24)) {
    const double theta = draw(0.0, 0.95);
    const LidState state = c.motion.At(theta);
    if (c.motion.ArmsAngle_rad(state) < 0.05) continue;
    const Holder hand = HandAt(c.motion, state, c.front);
    if (std::abs(HolderWork(c, state, hand)) < 5.0) continue;
    const Balance b = BalanceAt(c.motion, state, c.load, hand, {}, FrictionOf(c.load, 1.0));
    if (!b.settled) continue;
    const Vec2 down(0.0, -kGravity_m_s2);
    const auto weigh = [&](Body body, const MassProperties& mass) {
      const Vec2 at = c.motion.BodyPose(body, state) * mass.centre;
      return std::pair(Vec2(mass.mass_kg * down), Cross(at, Vec2(mass.mass_kg * down)));
    };
    double size = 1.0;
    for (const Vec2& joint : b.joint) size += joint.norm();
    const auto [lid_n, lid_nmm] = weigh(Body::kLid, c.load.lid);
    CHECK((b.joint[kLidA] + b.joint[kLidB] + b.held * hand.along + lid_n).norm() < 1e-10 * size);
    CHECK(std::abs(Cross(state.lid_a, b.joint[kLidA]) + Cross(state.lid_b, b.joint[kLidB]) +
                   Cross(hand.at, Vec2(b.held * hand.along)) + lid_nmm + b.friction_nmm[kLidA] +
                   b.friction_nmm[kLidB]) < 1e-8 * size);
    const auto [arm_n, arm_nmm] = weigh(Body::kArmA, c.load.arm_a);
    CHECK((b.joint[kCaseA] - b.joint[kLidA] + arm_n).norm() < 1e-10 * size);
    CHECK(std::abs(Cross(c.motion.pivots().case_a, b.joint[kCaseA]) -
                   Cross(state.lid_a, b.joint[kLidA]) + arm_nmm + b.friction_nmm[kCaseA] -
                   b.friction_nmm[kLidA]) < 1e-8 * size);
    ++compared;
  }
  CHECK(compared > 80);
}

TEST_CASE("the force in a weightless arm with friction touches both friction circles") {
  // The textbook's picture: the line of force of a link about to move is tangent to the circles of
  // radius μ r about both of its pins.
  Draw draw(7);
  int compared = 0;
  for (ForceCase& c : RandomForceCases(200, 25)) {
    c.load.arm_a.mass_kg = 0.0;
    c.load.friction = 0.3;
    const LidState state = c.motion.At(0.5);
    if (c.motion.ArmsAngle_rad(state) < 0.1) continue;
    const Holder hand = HandAt(c.motion, state, c.front);
    if (std::abs(HolderWork(c, state, hand)) < 10.0) continue;
    const JointFriction friction = FrictionOf(c.load, 1.0);
    const Balance b = BalanceAt(c.motion, state, c.load, hand, {}, friction);
    if (!b.settled) continue;
    // The arm bears one force and its opposite, on one line; where that line lies follows from the
    // moment about a pin.
    const Vec2 force = b.joint[kCaseA];
    const double off_ground = std::abs(b.friction_nmm[kCaseA]) / force.norm();
    CHECK(off_ground == Approx(0.3 * friction.radius_mm[kCaseA]).epsilon(1e-9));
    // Point of the line nearest to the case pin, by the moment there; then its distance from the
    // lid pin.
    const Vec2 on_line =
        c.motion.pivots().case_a + b.friction_nmm[kCaseA] / force.squaredNorm() * -Perp(force);
    const double off_lid = std::abs(Cross(Vec2(state.lid_a - on_line), force)) / force.norm();
    CHECK(off_lid == Approx(0.3 * friction.radius_mm[kLidA]).epsilon(1e-6));
    ++compared;
  }
  CHECK(compared > 100);
}

TEST_CASE("gravity's moment is the slope of the potential energy, by another pose code") {
  int compared = 0;
  for (const ForceCase& c : RandomForceCases(60, 26)) {
    LoopOracle oracle(c.motion.pivots());
    if (oracle.Follow(1.0) < 1.0) continue;
    const double h = 1e-5;
    const auto energy = [&](double theta) {
      return kGravity_m_s2 *
             (c.load.lid.mass_kg * oracle.Place(Body::kLid, theta)(c.load.lid.centre).y() +
              c.load.arm_a.mass_kg * oracle.Place(Body::kArmA, theta)(c.load.arm_a.centre).y() +
              c.load.arm_b.mass_kg * oracle.Place(Body::kArmB, theta)(c.load.arm_b.centre).y());
    };
    CHECK(ClosingMoment_nmm(c.motion, c.motion.At(0.5), c.load) ==
          Approx((energy(0.5 + h) - energy(0.5 - h)) / (2.0 * h)).epsilon(1e-6).margin(1e-4));
    CHECK(kGravity_m_s2 * WeightHeight_kg_mm(c.motion, c.motion.At(0.5), c.load) ==
          Approx(energy(0.5)));
    ++compared;
  }
  CHECK(compared > 40);
}

TEST_CASE("the moving inertia is twice the kinetic energy of points that move by another code") {
  // Each body as two points on a line through its centre that have its mass and inertia.
  for (const ForceCase& c : RandomForceCases(20, 27)) {
    LoopOracle oracle(c.motion.pivots());
    if (oracle.Follow(1.0) < 1.0) continue;
    double energy = 0.0;
    for (const auto& [mass, body] : {std::pair(&c.load.lid, Body::kLid),
                                     {&c.load.arm_a, Body::kArmA},
                                     {&c.load.arm_b, Body::kArmB}}) {
      const double arm = std::sqrt(mass->inertia_kg_mm2 / mass->mass_kg), h = 1e-5;
      for (const double side : {-1.0, 1.0}) {
        const Vec2 p = mass->centre + side * Vec2(arm, 0.0);
        const Vec2 v = (oracle.Place(body, 0.5 + h)(p) - oracle.Place(body, 0.5 - h)(p)) / (2 * h);
        energy += mass->mass_kg / 2.0 * v.squaredNorm();
      }
    }
    CHECK(MovingInertia_kg_mm2(c.motion, c.motion.At(0.5), c.load) == Approx(energy).epsilon(1e-6));
  }
}

TEST_CASE("a holder that holds nothing is a broken contract") {
  const ForceCase c = RandomForceCases(1, 28)[0];
  const LidState state = c.motion.At(0.5);
  Holder through_centre;
  through_centre.at = c.motion.InstantCentre(state);
  through_centre.along = {1.0, 0.0};
  CHECK_THROWS_AS(BalanceAt(c.motion, state, c.load, through_centre), ContractError);
  through_centre.body = Body::kCase;
  CHECK_THROWS_AS(BalanceAt(c.motion, state, c.load, through_centre), ContractError);
}
