// SPDX-License-Identifier: Apache-2.0
#include "lidwright/linkage/lid_motion.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "lidwright/base/check.h"
#include "lidwright/base/units.h"
#include "loop_oracle.h"
#include "random_pivots.h"

// LidMotion's closed form against Newton on the loop equations, continued from the closed pose.

namespace lidwright {
namespace {

using namespace testing;

constexpr Body kAll[] = {Body::kCase, Body::kLid, Body::kArmA, Body::kArmB};

/// 600 linkages: anything at all, box-like ones, and ones whose swing is short on one side.
Pivots Linkage(Dice& dice, int k) {
  if (k % 3 == 0) return AnyPivots(dice);
  if (k % 3 == 1) return BoxPivots(dice);
  const double angle = std::pow(10.0, dice.Uniform(-4.0, -0.5));
  return NearlyParallelPivots(dice, k % 2 == 0 ? angle : -angle);
}

/// Where the loop stops closing, walking from 0 towards sign·π: a fine scan, a golden-section look
/// into each dip between samples, and a bisection.
double EndBySearch(const LoopOracle& oracle, double sign) {
  const int steps = 6000;
  const auto f = [&](double x) { return oracle.Closable(sign * x); };
  const auto bisect = [&](double in, double out) {
    for (int i = 0; i < 80; ++i) {
      const double middle = (in + out) / 2;
      (f(middle) > 0.0 ? in : out) = middle;
    }
    return sign * in;
  };
  double before = f(0.0), here = f(kPi / steps);
  if (here <= 0.0) return bisect(0.0, kPi / steps);
  for (int k = 1; k < steps; ++k) {
    const double x = kPi * k / steps, next = f(kPi * (k + 1) / steps);
    if (here <= before && here <= next) {  // a dip
      double low = kPi * (k - 1) / steps, high = kPi * (k + 1) / steps;
      for (int i = 0; i < 60; ++i) {
        const double p = low + 0.381966 * (high - low), q = low + 0.618034 * (high - low);
        (f(p) < f(q) ? high : low) = f(p) < f(q) ? q : p;
      }
      if (f(low) <= 0.0) return bisect(kPi * (k - 1) / steps, low);
    }
    if (next <= 0.0) return bisect(x, kPi * (k + 1) / steps);
    before = here;
    here = next;
  }
  return sign * kPi;
}

/// Five-point first derivative.
template <typename F>
auto Derivative(const F& f, double x, double h) {
  return (8.0 * (f(x + h) - f(x - h)) - (f(x + 2 * h) - f(x - 2 * h))) / (12.0 * h);
}

double Wrapped(double angle) {
  return std::remainder(angle, 2.0 * kPi);
}

TEST_CASE("the range of the lid ends where a search finds that the loop stops closing") {
  Dice dice(101);
  int shorter = 0, whole = 0, tiny = 0;
  for (int k = 0; k < 600; ++k) {
    CAPTURE(k);
    const Pivots pivots = Linkage(dice, k);
    const std::optional<LidMotion> motion = LidMotion::Make(pivots);
    REQUIRE(motion);
    const LoopOracle oracle(pivots);
    const AngleRange range = motion->Range();
    const double low = EndBySearch(oracle, -1.0), high = EndBySearch(oracle, 1.0);
    // Where the margin is almost tangent to zero its root is as soft as √ε.
    CHECK(std::abs(range.low_rad - low) < 1e-7);
    CHECK(std::abs(range.high_rad - high) < 1e-7);
    (high < kPi ? shorter : whole) += 1;
    tiny += std::min(-low, high) < 0.01;
  }
  CHECK(shorter > 200);
  CHECK(whole > 50);
  CHECK(tiny > 20);
}

TEST_CASE("poses of lid and arms are those that Newton finds from the closed pose on") {
  Dice dice(102);
  long poses = 0;
  for (int k = 0; k < 600; ++k) {
    CAPTURE(k);
    const Pivots pivots = Linkage(dice, k);
    const std::optional<LidMotion> motion = LidMotion::Make(pivots);
    REQUIRE(motion);
    for (const double end : {motion->Range().low_rad, motion->Range().high_rad}) {
      LoopOracle oracle(pivots);
      const double to = 0.999 * end;
      REQUIRE(std::abs(oracle.Follow(to, 0.5 * kRadPerDeg) - to) < 1e-12);
      for (int j = 0; j < 8; ++j) {
        const double theta = to * (j < 7 ? dice.Uniform(0.0, 1.0) : 1.0);
        CAPTURE(theta, end);
        const LidState state = motion->At(theta);
        const LoopOracle::Turns turns = oracle.At(theta);
        const double sine = std::sin(oracle.ArmsAngle(theta));
        // Rounding of lengths of some 100 mm, seen on an arm this short, and near parallel.
        const double shortest = std::min(motion->arm_a_mm(), motion->arm_b_mm());
        const double tolerance = 1e-11 / (sine * sine) * (1.0 + 10.0 / shortest);
        REQUIRE(sine > 0.0);
        CHECK(state.theta_rad == theta);
        const Placing lid = oracle.Place(Body::kLid, theta);
        CHECK((state.lid_a - lid(pivots.lid_a)).norm() < tolerance);
        CHECK((state.lid_b - lid(pivots.lid_b)).norm() < tolerance);
        for (const Body body : kAll) {
          const Pose pose = motion->BodyPose(body, state);
          const Placing placing = oracle.Place(body, theta);
          for (const Vec2& p : {Vec2(0, 0), Vec2(300, 0), Vec2(-40, 250)}) {
            CHECK((pose * p - placing(p)).norm() < 10 * tolerance);
          }
        }
        const double turn_a = motion->ArmTurn_rad(Body::kArmA, state);
        const double turn_b = motion->ArmTurn_rad(Body::kArmB, state);
        CHECK(std::abs(Wrapped(turn_a - turns.a)) < tolerance);
        CHECK(std::abs(Wrapped(turn_b - turns.b)) < tolerance);
        CHECK((turn_a > -kPi && turn_a <= kPi && turn_b > -kPi && turn_b <= kPi));
        CHECK(std::abs(motion->ArmsAngle_rad(state) - oracle.ArmsAngle(theta)) <
              1e-6 * std::sqrt(tolerance / 1e-11));
        const double on_b =
            std::asin(std::min(1.0, std::abs(oracle.ArmOnCoupler(Body::kArmB, theta))));
        CHECK(std::abs(motion->TransmissionAngle_rad(state) - on_b) <
              1e-6 * std::sqrt(tolerance / 1e-11));
        ++poses;
      }
    }
  }
  CHECK(poses == 600 * 16);
}

TEST_CASE("all frames coincide when the lid is shut") {
  Dice dice(103);
  for (int k = 0; k < 100; ++k) {
    const std::optional<LidMotion> motion = LidMotion::Make(AnyPivots(dice));
    REQUIRE(motion);
    const LidState shut = motion->At(0.0);
    for (const Body body : kAll) {
      const Pose pose = motion->BodyPose(body, shut);
      CHECK((pose * Vec2(123, -45) - Vec2(123, -45)).norm() < 1e-9);
    }
  }
}

TEST_CASE("arm rates are the slopes of Newton's arm angles") {
  Dice dice(104);
  int checked = 0;
  double worst = 0.0;
  for (int k = 0; k < 600; ++k) {
    const Pivots pivots = Linkage(dice, k);
    const std::optional<LidMotion> motion = LidMotion::Make(pivots);
    REQUIRE(motion);
    const double high = motion->Range().high_rad;
    LoopOracle oracle(pivots);
    oracle.Follow(0.97 * high, 0.5 * kRadPerDeg);
    for (int j = 0; j < 4; ++j) {
      const double theta = dice.Uniform(0.05, 0.9) * high;
      CAPTURE(k, theta, high);
      // Angles go like √(distance from the end) there: the step must stay far from the ends.
      const double h =
          std::min(2e-3, 2e-3 * std::min(high - theta, theta - motion->Range().low_rad));
      const LidState state = motion->At(theta);
      const double a = Derivative([&](double t) { return oracle.At(t).a; }, theta, h);
      const double b = Derivative([&](double t) { return oracle.At(t).b; }, theta, h);
      const double scale = (1.0 + std::abs(a) + std::abs(b)) / std::sin(oracle.ArmsAngle(theta));
      const double allowed = (1e-7 + 1e-13 / h) * scale;
      CHECK(std::abs(state.rate_a - a) < allowed);
      CHECK(std::abs(state.rate_b - b) < allowed);
      worst = std::max(worst, std::abs(state.rate_a - a) / allowed);
      ++checked;
    }
  }
  CHECK(checked == 2400);
  CHECK(worst > 1e-9);  // the comparison compares something
}

TEST_CASE("the lid point at the instant centre stands still") {
  Dice dice(105);
  int checked = 0;
  for (int k = 0; k < 500; ++k) {
    const Pivots pivots = Linkage(dice, k);
    const std::optional<LidMotion> motion = LidMotion::Make(pivots);
    REQUIRE(motion);
    const double high = motion->Range().high_rad;
    LoopOracle oracle(pivots);
    oracle.Follow(0.97 * high, 0.5 * kRadPerDeg);
    const double theta = dice.Uniform(0.05, 0.9) * high;
    const double sine = std::sin(oracle.ArmsAngle(theta));
    if (sine < 0.02) continue;  // far away, and as soft as 1 / sine
    CAPTURE(k, theta);
    const Vec2 centre = motion->InstantCentre(motion->At(theta));
    const Vec2 on_lid = oracle.Place(Body::kLid, theta).Inverse()(centre);
    const double h = std::min(1e-3, 1e-3 * (high - theta));
    const Vec2 velocity =
        Derivative([&](double t) { return Vec2(oracle.Place(Body::kLid, t)(on_lid)); }, theta, h);
    // A point r away from the centre moves at r: this is the centre's own error in mm.
    CHECK(velocity.norm() < 1e-5 / sine);
    ++checked;
  }
  CHECK(checked > 400);
}

// Khurmi & Gupta, Theory of Machines, Example 6.1 (AB 300, BC = CD 360, AD 600, angle BAD 60°);
// printed from a drawing: I13–B = 500 mm. Full digits re-derived by the cosine
// rule (printed values from memory).
TEST_CASE("the instant centre of Khurmi and Gupta's example 6.1 is found") {
  Pivots pivots;
  pivots.case_b = Vec2(600, 0);
  pivots.lid_a = 300.0 * Vec2(std::cos(kPi / 3), std::sin(kPi / 3));
  const double theta4 = 106.19401 * kRadPerDeg;
  pivots.lid_b = Vec2(600, 0) + 360.0 * Vec2(std::cos(theta4), std::sin(theta4));
  CHECK((pivots.lid_b - pivots.lid_a).norm() == Approx(360.0).epsilon(1e-6));
  const std::optional<LidMotion> motion = LidMotion::Make(pivots);
  REQUIRE(motion);
  const Vec2 centre = motion->InstantCentre(motion->At(0.0));
  CHECK(centre.x() == Approx(399.19872).margin(1e-3));
  CHECK(centre.y() == Approx(691.43246).margin(1e-3));
  CHECK((centre - pivots.lid_b).norm() == Approx(360.0).margin(1e-3));
  CHECK((centre - pivots.lid_a).norm() == Approx(500.0).epsilon(5e-3));
}

TEST_CASE("dead points are where a scan sees an arm line up with the coupler") {
  Dice dice(106);
  int found = 0, linkages_with = 0;
  for (int k = 0; k < 600; ++k) {
    CAPTURE(k);
    const Pivots pivots = Linkage(dice, k);
    const std::optional<LidMotion> motion = LidMotion::Make(pivots);
    REQUIRE(motion);
    const double to = 0.995 * motion->Range().high_rad;
    LoopOracle oracle(pivots);
    oracle.Follow(to, 0.5 * kRadPerDeg);
    std::vector<double> scanned;
    for (const Body arm : {Body::kArmA, Body::kArmB}) {
      const int steps = 3000;
      double before = oracle.ArmOnCoupler(arm, 0.0);
      for (int j = 1; j <= steps; ++j) {
        const double here = oracle.ArmOnCoupler(arm, to * j / steps);
        if ((before < 0.0) != (here < 0.0)) {
          double low = to * (j - 1) / steps, high = to * j / steps;
          for (int i = 0; i < 60; ++i) {
            const double middle = (low + high) / 2;
            ((oracle.ArmOnCoupler(arm, middle) < 0.0) == (before < 0.0) ? low : high) = middle;
          }
          scanned.push_back(low);
        }
        before = here;
      }
    }
    std::sort(scanned.begin(), scanned.end());
    const std::vector<double> dead = motion->DeadPoints(to);
    REQUIRE(dead.size() == scanned.size());
    CHECK(std::is_sorted(dead.begin(), dead.end()));
    for (std::size_t i = 0; i < dead.size(); ++i) CHECK(std::abs(dead[i] - scanned[i]) < 1e-8);
    for (const double theta : dead) {  // where an arm lines up the other arm turns back
      const LidState state = motion->At(theta);
      CHECK(std::min(std::abs(state.rate_a), std::abs(state.rate_b)) < 1e-6);
    }
    found += static_cast<int>(dead.size());
    linkages_with += !dead.empty();
  }
  CHECK(found > 150);
  CHECK(linkages_with > 100);
}

TEST_CASE("a plain hinge turns the lid about its pivot") {
  Dice dice(107);
  for (int k = 0; k < 50; ++k) {
    const Vec2 pivot = RandomPoint(dice, -50, 50, -50, 50);
    const LidMotion motion = LidMotion::MakePlain(pivot);
    CHECK(motion.plain());
    CHECK(motion.Range().low_rad == Approx(-kPi));
    CHECK(motion.Range().high_rad == Approx(kPi));
    const double theta = dice.Uniform(-3.1, 3.1);
    const LidState state = motion.At(theta);
    const Placing placing = Placing::About(AsComplex(pivot), theta);
    const Vec2 p = RandomPoint(dice, -300, 300, -300, 300);
    CHECK((motion.BodyPose(Body::kLid, state) * p - placing(p)).norm() < 1e-10);
    CHECK((motion.BodyPose(Body::kCase, state) * p - p).norm() == 0.0);
    CHECK((motion.InstantCentre(state) - pivot).norm() < 1e-9);
    CHECK(motion.DeadPoints(3.0).empty());
  }
}

TEST_CASE("arms on one case pivot turn the lid about it, all the way round") {
  Pivots pivots;
  pivots.case_a = pivots.case_b = Vec2(10, -20);
  pivots.lid_a = Vec2(60, 5);
  pivots.lid_b = Vec2(15, 40);
  const std::optional<LidMotion> motion = LidMotion::Make(pivots);
  REQUIRE(motion);
  CHECK(motion->Range().low_rad == Approx(-kPi));
  CHECK(motion->Range().high_rad == Approx(kPi));
  for (const double theta : {-2.5, -0.3, 0.7, 3.0}) {
    const Pose lid = motion->BodyPose(Body::kLid, motion->At(theta));
    const Placing placing = Placing::About(AsComplex(pivots.case_a), theta);
    CHECK((lid * Vec2(200, 30) - placing(Vec2(200, 30))).norm() < 1e-9);
  }
}

TEST_CASE("a linkage whose lid angle cannot start is refused") {
  const Pivots good{Vec2(0, 0), Vec2(50, 0), Vec2(10, 60), Vec2(70, 50)};
  REQUIRE(LidMotion::Make(good));
  Pivots no_arm_a = good;
  no_arm_a.lid_a = good.case_a;
  CHECK_FALSE(LidMotion::Make(no_arm_a));
  Pivots no_arm_b = good;
  no_arm_b.lid_b = good.case_b;
  CHECK_FALSE(LidMotion::Make(no_arm_b));
  Pivots no_coupler = good;
  no_coupler.lid_b = good.lid_a;
  CHECK_FALSE(LidMotion::Make(no_coupler));
  Pivots parallelogram = good;
  parallelogram.lid_b = Vec2(60, 60);
  CHECK_FALSE(LidMotion::Make(parallelogram));
  Pivots antiparallel = good;
  antiparallel.lid_b = good.case_b - 0.7 * (good.lid_a - good.case_a);
  CHECK_FALSE(LidMotion::Make(antiparallel));
  Pivots on_one_line{Vec2(0, 0), Vec2(90, 0), Vec2(40, 0), Vec2(60, 0)};
  CHECK_FALSE(LidMotion::Make(on_one_line));
  for (const double bad :
       {std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity()}) {
    Pivots broken = good;
    broken.case_b.y() = bad;
    CHECK_THROWS_AS(LidMotion::Make(broken), ContractError);
  }
}

TEST_CASE("parallel arms in any direction are refused, whatever the rounding") {
  Dice dice(108);
  for (int k = 0; k < 500; ++k) {
    CAPTURE(k);
    const Pivots pivots = NearlyParallelPivots(dice, 0.0);
    const std::optional<LidMotion> motion = LidMotion::Make(pivots);
    if (!motion) continue;
    // Parallel to the last digit but not beyond: then there must be next to no swing.
    const AngleRange range = motion->Range();
    CHECK(std::min(-range.low_rad, range.high_rad) < 1e-6);
  }
}

TEST_CASE("an angle outside the range breaks the contract") {
  Dice dice(109);
  int checked = 0;
  for (int k = 0; k < 60; ++k) {
    const std::optional<LidMotion> motion = LidMotion::Make(AnyPivots(dice));
    REQUIRE(motion);
    if (motion->Range().high_rad > 3.0) continue;
    CHECK_THROWS_AS(motion->At(motion->Range().high_rad + 0.01), ContractError);
    ++checked;
  }
  CHECK(checked > 20);
}

}  // namespace
}  // namespace lidwright
