// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/soft_shut.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "forces/force_cases.h"
#include "lidwright/base/check.h"
#include "lidwright/forces/virtual_work.h"

using namespace lidwright;
using namespace lidwright::testing;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double kOpen = 0.9;

// A case whose lid falls shut from all of its swing.
std::vector<ForceCase> FallingCases(int count) {
  std::vector<ForceCase> falling;
  for (ForceCase& c : RandomForceCases(80, 29)) {
    c.load.friction = 0.0;
    bool falls = true;
    for (int i = 0; i <= 50; ++i) {
      falls = falls && ClosingMoment_nmm(c.motion, c.motion.At(kOpen * i / 50), c.load) > 200.0;
    }
    if (falls) falling.push_back(c);
    if (static_cast<int>(falling.size()) == count) break;
  }
  return falling;
}

// Step by step in time, fourth order, with forces from heights and finite differences only.
struct Stepped {
  double speed_m_s = 0.0, time_s = 0.0;
};
Stepped StepByStep(const ForceCase& c, double from, const std::vector<LidDamper>& dampers) {
  const auto inertia = [&](double theta) {
    return MovingInertia_kg_mm2(c.motion, c.motion.At(theta), c.load);
  };
  const double h = 1e-5;
  const auto acceleration = [&](double theta, double rate) {
    const double height = (WeightHeight_kg_mm(c.motion, c.motion.At(theta + h), c.load) -
                           WeightHeight_kg_mm(c.motion, c.motion.At(theta - h), c.load)) /
                          (2.0 * h);
    double torque = -1000.0 * kGravity_m_s2 * height;
    for (const LidDamper& damper : dampers) {
      if (theta > damper.below_rad) continue;
      const double r = JointRate(c.motion.At(theta), damper.joint);
      torque -= 2.0 * 1000.0 * damper.rate_nmm_s * r * r * rate;
    }
    const double slope = (inertia(theta + h) - inertia(theta - h)) / (2.0 * h);
    return (torque - slope * rate * rate / 2.0) / inertia(theta);
  };
  double theta = from, rate = 0.0, t = 0.0;
  const double step = 2e-4;
  while (theta > 0.0 && t < 20.0) {
    const double a1 = acceleration(theta, rate);
    const double a2 = acceleration(theta + step / 2 * rate, rate + step / 2 * a1);
    const double a3 = acceleration(theta + step / 2 * (rate + step / 2 * a1), rate + step / 2 * a2);
    const double a4 = acceleration(theta + step * (rate + step / 2 * a2), rate + step * a3);
    theta += step * rate + step * step / 6 * (a1 + a2 + a3);
    rate += step / 6 * (a1 + 2 * a2 + 2 * a3 + a4);
    t += step;
  }
  const LidState shut = c.motion.At(0.0);
  const double way = VelocityOf(c.motion, shut, Body::kLid, shut.X_CL * c.front).norm();
  return {std::abs(rate) * way / 1000.0, t};
}

}  // namespace

TEST_CASE("without a damper a lid comes down with the speed of its fallen height") {
  int fell = 0;
  for (const ForceCase& c : FallingCases(6)) {
    const LiftCurve curve =
        LiftWith(FeelOf(c.load, c.motion, kOpen, c.front, 201), c.motion, c.front, {});
    const Shutting shutting = ShutFrom(kOpen, c.load, c.motion, c.front, curve, {});
    CHECK(shutting.shuts);
    const double energy = kGravity_m_s2 / 1000.0 *
                          (WeightHeight_kg_mm(c.motion, c.motion.At(kOpen), c.load) -
                           WeightHeight_kg_mm(c.motion, c.motion.At(0.0), c.load));
    CHECK_THAT(shutting.energy_j, WithinRel(energy, 1e-3));
    CHECK(shutting.damper_nmm == 0.0);
    ++fell;
  }
  CHECK(fell >= 3);
}

TEST_CASE("a damped lid moves as step by step integration in time says") {
  int compared = 0;
  for (const ForceCase& c : FallingCases(5)) {
    const LiftCurve curve =
        LiftWith(FeelOf(c.load, c.motion, kOpen, c.front, 401), c.motion, c.front, {});
    for (const double rate : {20.0, 400.0}) {
      for (const double below : {10.0, 0.4}) {
        const std::vector<LidDamper> dampers{{kCaseA, rate, below}};
        const Shutting ours = ShutFrom(kOpen, c.load, c.motion, c.front, curve, dampers);
        const Stepped stepped = StepByStep(c, kOpen, dampers);
        INFO(rate << " " << below);
        if (stepped.time_s > 19.0) continue;
        CHECK_THAT(ours.speed_m_s, WithinRel(stepped.speed_m_s, 3e-3));
        CHECK_THAT(ours.time_s, WithinRel(stepped.time_s, 3e-3));
        ++compared;
      }
    }
  }
  CHECK(compared > 8);
}

TEST_CASE("friction that holds the lid keeps it where it is let go, springs bring it down softer") {
  int held = 0;
  for (const ForceCase& c : FallingCases(4)) {
    const Feel feel = FeelOf(c.load, c.motion, kOpen, c.front, 201);
    LidHolder strong;
    strong.joint = kCaseB;
    strong.torque_nmm = 1e6;
    const Shutting stays =
        ShutFrom(0.5, c.load, c.motion, c.front, LiftWith(feel, c.motion, c.front, {strong}), {});
    CHECK_FALSE(stays.shuts);
    CHECK_THAT(stays.rest_rad, WithinAbs(0.5, 1e-9));
    LidHolder spring;
    spring.kind = LidHolder::Kind::kSpring;
    spring.joint = kCaseA;
    spring.torque_nmm =
        0.2 * feel.moment_nmm.front() / 2.0 / std::abs(JointRate(c.motion.At(0.0), kCaseA));
    const double plain =
        ShutFrom(0.5, c.load, c.motion, c.front, LiftWith(feel, c.motion, c.front, {}), {})
            .energy_j;
    const double sprung =
        ShutFrom(0.5, c.load, c.motion, c.front, LiftWith(feel, c.motion, c.front, {spring}), {})
            .energy_j;
    CHECK(sprung < plain);
    ++held;
  }
  CHECK(held >= 3);
}

TEST_CASE("the damper picked is the lightest with which the lid comes down softly") {
  int picked = 0;
  for (ForceCase& c : FallingCases(6)) {
    c.load.lid.mass_kg = 0.8;
    const LiftCurve curve =
        LiftWith(FeelOf(c.load, c.motion, kOpen, c.front, 101), c.motion, c.front, {});
    const auto choice = ChooseDamper(c.load, c.motion, c.front, curve);
    if (!choice) continue;
    ++picked;
    CHECK(choice->shutting.speed_m_s <= kSoft_m_s);
    CHECK(choice->shutting.damper_nmm <= choice->damper.most_nmm);
    for (const StockDamper& damper : StockDampers()) {
      if (damper.rate_nmm_s >= choice->damper.rate_nmm_s) break;
      for (const Joint joint : {kCaseA, kCaseB, kLidA, kLidB}) {
        double fastest = 0.0, torque = 0.0;
        for (int i = 1; i <= 12; ++i) {
          const Shutting now = ShutFrom(kOpen * i / 12, c.load, c.motion, c.front, curve,
                                        {{joint, damper.rate_nmm_s}});
          if (now.shuts) fastest = std::max(fastest, now.speed_m_s);
          torque = std::max(torque, now.damper_nmm);
        }
        CHECK((fastest > kSoft_m_s || torque > damper.most_nmm));
      }
    }
  }
  CHECK(picked > 1);
}

TEST_CASE("a pad takes a lid's energy as a spring does, and says when it knocks through") {
  const StockPad felt{"felt", 3.0, 0.5, 0.25, {}};
  // 0.05 J on 400 mm²: k = 66.7 N/mm, x = √(2 · 50 / 66.7) = 1.22 mm, 81.6 N.
  const Landing landing = LandingOn(felt, 400.0, 0.05);
  CHECK_THAT(landing.pressed_mm, WithinAbs(1.2247, 1e-3));
  CHECK_THAT(landing.force_n, WithinAbs(81.65, 0.01));
  CHECK_FALSE(landing.hard);
  CHECK(LandingOn(felt, 200.0, 0.05).hard);
  const double area = PadArea_mm2(felt, 0.05);
  CHECK_THAT(LandingOn(felt, area, 0.05).pressed_mm, WithinRel(1.5, 1e-9));
  // Work of the pad's force over its way, added up, is the energy.
  double work = 0.0;
  for (int i = 0; i < 1000; ++i) {
    const double x = landing.pressed_mm * (i + 0.5) / 1000;
    work += landing.force_n * x / landing.pressed_mm * landing.pressed_mm / 1000;
  }
  CHECK_THAT(work / 1000.0, WithinRel(0.05, 1e-9));
  CHECK_THROWS_AS(LandingOn(felt, 0.0, 0.05), ContractError);
}
