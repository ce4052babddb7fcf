// SPDX-License-Identifier: Apache-2.0
#include <catch2/catch.hpp>
#include <cmath>

#include "forces/force_cases.h"
#include "lidwright/base/check.h"
#include "lidwright/forces/lift_curve.h"
#include "lidwright/forces/spring_size.h"
#include "lidwright/forces/virtual_work.h"

using namespace lidwright;
using namespace lidwright::testing;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double kOpen = 0.9;
constexpr int kSamples = 6401;

LidHolder Friction(Joint joint, double torque) {
  LidHolder holder;
  holder.joint = joint;
  holder.torque_nmm = torque;
  return holder;
}

// Integral of y over x by Simpson's rule on an odd number of even steps.
double Simpson(const std::vector<double>& x, const std::vector<double>& y) {
  double sum = 0.0;
  for (std::size_t i = 0; i + 2 < x.size(); i += 2) {
    sum += (x[i + 2] - x[i]) / 6.0 * (y[i] + 4.0 * y[i + 1] + y[i + 2]);
  }
  return sum;
}

}  // namespace

TEST_CASE("a hand's work over the swing is what weights, springs and friction take, in energies") {
  Draw draw(17);
  int checked = 0;
  for (ForceCase& c : RandomForceCases(12, 44)) {
    c.load.friction = 0.0;
    const Feel feel = FeelOf(c.load, c.motion, kOpen, c.front, kSamples);
    LidHolder spring;
    spring.kind = LidHolder::Kind::kSpring;
    spring.joint = static_cast<Joint>(checked % 4);
    spring.torque_nmm = draw(-300, 900);
    spring.rate_nmm_rad = draw(-400, 400);
    LidHolder weight;
    weight.kind = LidHolder::Kind::kCounterweight;
    weight.body = checked % 2 ? Body::kLid : Body::kArmB;
    weight.at = Vec2(draw(-80, 100), draw(-80, 40));
    weight.mass_kg = draw(0.1, 2.0);
    const Joint rubbed = static_cast<Joint>((checked + 1) % 4);
    const LiftCurve curve =
        LiftWith(feel, c.motion, c.front, {spring, weight, Friction(rubbed, 250.0)});
    // The hand's way: the front edge's speed per radian.
    std::vector<double> middle, spread;
    for (std::size_t i = 0; i < curve.theta_rad.size(); ++i) {
      const LidState state = c.motion.At(curve.theta_rad[i]);
      const double way = VelocityOf(c.motion, state, Body::kLid, state.X_CL * c.front).norm();
      middle.push_back((curve.raise_n[i] + curve.lower_n[i]) / 2.0 * way);
      spread.push_back((curve.raise_n[i] - curve.lower_n[i]) / 2.0 * way);
    }
    const LidState shut = c.motion.At(0.0), open = c.motion.At(kOpen);
    const auto height = [&](const LidState& state) {
      return WeightHeight_kg_mm(c.motion, state, c.load) +
             weight.mass_kg * (c.motion.BodyPose(weight.body, state) * weight.at).y();
    };
    const double raised = kGravity_m_s2 * (height(open) - height(shut));
    const std::vector<double> turns = JointTurns_rad(c.motion, spring.joint, feel.theta_rad);
    const double turn = std::abs(turns.back());
    const double released =
        2.0 * (spring.torque_nmm * turn + spring.rate_nmm_rad * turn * turn / 2.0);
    CHECK_THAT(Simpson(curve.theta_rad, middle),
               WithinAbs(raised - released, 1e-4 * (std::abs(raised) + std::abs(released))));
    const std::vector<double> rubs = JointTurns_rad(c.motion, rubbed, feel.theta_rad);
    double rubbed_rad = 0.0;
    for (std::size_t i = 1; i < rubs.size(); ++i) rubbed_rad += std::abs(rubs[i] - rubs[i - 1]);
    CHECK_THAT(Simpson(curve.theta_rad, spread), WithinRel(2.0 * 250.0 * rubbed_rad, 1e-3));
    ++checked;
  }
  CHECK(checked == 12);
}

TEST_CASE(
    "a holder that was picked keeps the lid everywhere, worn to half of what is needed it does "
    "not") {
  int washers = 0, inserts = 0;
  for (ForceCase& c : RandomForceCases(30, 71)) {
    c.load.friction = 0.05;
    c.load.lid.mass_kg = 0.3;
    const Feel feel = FeelOf(c.load, c.motion, kOpen, c.front, 201);
    const HolderChoices choices = ChooseHolders(feel, c.motion, c.front);
    REQUIRE(choices.needed);
    for (const auto* choice : {&choices.washer, &choices.insert}) {
      if (!*choice) continue;
      CHECK((*choice)->curve.stays_everywhere);
      CHECK((*choice)->curve.short_nmm == 0.0);
      CHECK_FALSE((*choice)->name.empty());
      LidHolder half = (*choice)->holder;
      if (choice == &choices.washer) {
        ++washers;
        // Picked with half as much again in hand: it may wear by a third.
        half.torque_nmm *= 0.5 / kFrictionInHand;
        CHECK_FALSE(LiftWith(feel, c.motion, c.front, {half}).stays_everywhere);
        half.torque_nmm *= 2.01;
        CHECK(LiftWith(feel, c.motion, c.front, {half}).stays_everywhere);
      } else {
        ++inserts;
      }
    }
  }
  CHECK(washers > 3);
  CHECK(inserts > 3);
}

TEST_CASE("a friction washer's torque is the disc clutch's, by rings added up") {
  for (const StockFriction& washer : StockFrictions()) {
    const double inside = washer.inside_mm / 2.0, outside = washer.outside_mm / 2.0;
    const double pressure = washer.clamp_n / (kPi * (outside * outside - inside * inside));
    double torque = 0.0;
    constexpr int kRings = 10000;
    for (int i = 0; i < kRings; ++i) {
      const double r = inside + (outside - inside) * (i + 0.5) / kRings;
      torque += 2.0 * washer.friction * pressure * r * 2.0 * kPi * r * (outside - inside) / kRings;
    }
    CHECK_THAT(TorqueOf_nmm(washer), WithinRel(torque, 1e-6));
  }
}

TEST_CASE("a counterweight is the one with the least left to hold, by trying them") {
  Draw draw(8);
  int useful = 0;
  for (ForceCase& c : RandomForceCases(10, 5)) {
    const Feel feel = FeelOf(c.load, c.motion, kOpen, c.front, 101);
    const Vec2 at(draw(-100, 0), draw(-100, 0));
    const HolderChoice choice = Counterweight(feel, c.motion, c.front, Body::kArmA, at);
    const auto left = [&](double mass) {
      LidHolder holder = choice.holder;
      holder.mass_kg = mass;
      double sum = 0.0;
      for (const double m : LiftWith(feel, c.motion, c.front, {holder}).moment_nmm) sum += m * m;
      return sum;
    };
    double best = 0.0;
    for (double mass = 0.0; mass < 40.0; mass += 0.005) {
      if (left(mass) < left(best)) best = mass;
      if (mass > choice.holder.mass_kg + 1.0) break;
    }
    CHECK_THAT(choice.holder.mass_kg, WithinAbs(best, 0.006));
    useful += best > 0.0;
  }
  CHECK(useful > 2);
}

TEST_CASE("springs have the published rates, strengths and largest torque") {
  // READ (a spring maker's page): 0.035 in wire, mean 0.465 in, 3 coils, 30e6 psi: 2.988 lb in for
  // each turn.
  const double in = 25.4, lb_in = 4.4482216 * 25.4, psi = 0.00689475729;
  CHECK_THAT(SpringRate_nmm_rad(0.035 * in, 0.465 * in, 3.0, 30e6 * psi) * 2.0 * kPi / lb_in,
             WithinAbs(2.988, 0.002));
  // READ (a page that computes Shigley's stock spring): wire 1.829, mean 13.252, legs of 25.4 on
  // 4.25 turns: 525.11 N mm/rad; breaking strength 2025.67; most it bears 851.27 N mm.
  const double mean = 15.081 - 1.829, turns = 4.25 + 2.0 * 25.4 / (3.0 * kPi * mean);
  CHECK_THAT(SpringRate_nmm_rad(1.829, mean, turns), WithinRel(525.11, 1e-3));
  CHECK_THAT(MusicWire_mpa(1.829), WithinAbs(2025.67, 0.2));
  CHECK_THAT(MusicWire_mpa(6.0), WithinAbs(1705.13, 0.2));
  CHECK_THAT(SpringStress_mpa(851.27, 1.829, mean), WithinRel(kSpringShare * 2025.67, 1e-3));
}

TEST_CASE("a spring that was sized gives what was asked, fits and is of the thinnest wire") {
  const std::vector<double> wires = SpringWires_mm(false);
  int sized = 0;
  for (const double shut : {200.0, 600.0, 1500.0}) {
    for (const double open : {20.0, 150.0}) {
      SpringWish wish;
      wish.shut_nmm = shut;
      wish.open_nmm = open;
      wish.turn_rad = 1.4;
      wish.pin_mm = 4.0;
      wish.room_mm = 25.0;
      wish.outside_mm = 24.0;
      const auto size = SizeSpring(wish, wires);
      INFO(shut << " " << open);
      if (!size) continue;
      ++sized;
      CHECK_THAT(size->rate_nmm_rad * wish.turn_rad, WithinRel(shut - open, 1e-9));
      CHECK_THAT(size->wound_rad * size->rate_nmm_rad, WithinRel(shut, 1e-9));
      CHECK_THAT(SpringRate_nmm_rad(size->wire_mm, size->mean_mm, size->turns),
                 WithinRel(size->rate_nmm_rad, 1e-9));
      CHECK(size->stress_mpa <= size->allowed_mpa);
      CHECK(size->inside_mm >= kSpringClears * wish.pin_mm - 1e-9);
      CHECK(size->length_mm <= wish.room_mm);
      CHECK(size->mean_mm + size->wire_mm <= wish.outside_mm + 1e-9);
      // The same wire is as long wound as free: turns times diameter.
      const double wound_turns = size->turns + size->wound_rad / (2.0 * kPi);
      CHECK_THAT((size->inside_mm + size->wire_mm) * wound_turns,
                 WithinRel(size->mean_mm * size->turns, 1e-9));
      std::vector<double> thinner;
      for (const double wire : wires) {
        if (wire < size->wire_mm) thinner.push_back(wire);
      }
      CHECK_FALSE(SizeSpring(wish, thinner));
    }
  }
  CHECK(sized >= 4);
  SpringWish both_ways;
  both_ways.shut_nmm = 100.0;
  both_ways.open_nmm = -100.0;
  both_ways.turn_rad = 1.0;
  both_ways.pin_mm = 3.0;
  CHECK_FALSE(SizeSpring(both_ways, wires));
  CHECK_THROWS_AS(MusicWire_mpa(10.0), ContractError);
}
