// SPDX-License-Identifier: Apache-2.0
#include "lidwright/swing/motion_bounds.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "lidwright/base/units.h"
#include "loop_oracle.h"
#include "random_pivots.h"

// The second difference (q(θ+h) − 2 q(θ) + q(θ−h)) / h² is a weighted mean of q'' over [θ−h, θ+h],
// so with that interval inside a piece it may not exceed the piece's bound but by rounding.
// Positions come from Newton on the loop, never from LidMotion.

namespace lidwright {
namespace {

using namespace testing;

struct BodyPair {
  Body body, frame;
};

std::vector<BodyPair> AllBodyPairs() {
  const Body all[] = {Body::kCase, Body::kLid, Body::kArmA, Body::kArmB};
  std::vector<BodyPair> pairs;
  for (const Body body : all) {
    for (const Body frame : all) {
      if (body != frame) pairs.push_back({body, frame});
    }
  }
  return pairs;
}

/// The bound over the index-th of 2^level equal pieces of the swing.
AccelerationBound PieceBound(const MotionBounds& bounds, const BodyPair& pair, int level,
                             int index) {
  const double width = std::ldexp(bounds.to_rad() - bounds.from_rad(), -level);
  const double low = bounds.from_rad() + index * width;
  return bounds.Acceleration(pair.body, pair.frame, low, low + width);
}

/// Three placings of a body seen from a frame, h apart: all that a second difference needs.
struct Triple {
  Placing before, at, after;
  double h = 0.0;
  Triple(const LoopOracle& oracle, const BodyPair& pair, double theta, double step)
      : before(oracle.Place(pair.body, pair.frame, theta - step)),
        at(oracle.Place(pair.body, pair.frame, theta)),
        after(oracle.Place(pair.body, pair.frame, theta + step)),
        h(step) {}
  double Acceleration(const Vec2& p) const {
    const Complex c = AsComplex(p);
    return std::abs(after(c) - 2.0 * at(c) + before(c)) / (h * h);
  }
};

struct Stretch {
  Pivots pivots;
  double from = 0.0, to = 0.0;
};

Stretch RandomStretch(Dice& dice, int k) {
  while (true) {
    Stretch swing;
    swing.pivots = k % 4 == 0 ? AnyPivots(dice) : BoxPivots(dice);
    const std::optional<LidMotion> motion = LidMotion::Make(swing.pivots);
    if (!motion || motion->Range().high_rad < 0.3) continue;
    // One in three comes near the end of the range, where rates grow without limit.
    const double short_of_end = k % 3 == 0 ? std::pow(10.0, dice.Uniform(-5.0, -1.0)) : 0.2;
    const double reach = (1.0 - short_of_end) * motion->Range().high_rad;
    swing.to = std::min(reach, dice.Uniform(0.2, 1.9));
    swing.from = k % 5 == 0 ? dice.Uniform(0.0, 0.5) * swing.to : 0.0;
    return swing;
  }
}

TEST_CASE("no point of any body accelerates beyond the bound of its piece") {
  Dice dice(201);
  const std::vector<BodyPair> pairs = AllBodyPairs();
  long samples = 0, refused = 0;
  double worst = 0.0;  // measured / bound
  for (int k = 0; k < 160; ++k) {
    const Stretch swing = RandomStretch(dice, k);
    const LidMotion motion = *LidMotion::Make(swing.pivots);
    const int depth = k % 7 == 0 ? dice.Whole(2, 6) : 8;
    const MotionBounds bounds(motion, swing.from, swing.to, depth);
    if (!bounds.ok()) {
      ++refused;
      continue;
    }
    LoopOracle oracle(swing.pivots);
    REQUIRE(oracle.Follow(swing.to, 0.25 * kRadPerDeg) == swing.to);
    for (int j = 0; j < 150; ++j) {
      const int level = dice.Whole(0, 10);  // finer than the tree too
      const int index = dice.Whole(0, (1 << level) - 1);
      const double width = (swing.to - swing.from) / (1 << level);
      const double low = swing.from + index * width;
      const double h = std::min(0.3 * width, 2e-3);
      const double theta = std::min(low + dice.Uniform(h, width - h), low + width - h);
      for (const BodyPair& pair : pairs) {
        CAPTURE(k, level, index, theta, static_cast<int>(pair.body), static_cast<int>(pair.frame));
        const AccelerationBound bound = PieceBound(bounds, pair, level, index);
        const Triple triple(oracle, pair, theta, h);
        const double rounding = 3e-12 / (h * h);
        for (int i = 0; i < 4; ++i) {
          const Vec2 p = i == 0 ? bound.centre : RandomPoint(dice, -300, 300, -300, 300);
          const double measured = triple.Acceleration(p);
          const double allowed = bound.At((p - bound.centre).norm());
          if (measured > allowed + rounding) {
            CAPTURE(measured, allowed, rounding);
            FAIL("a point accelerates more than its bound");
          }
          worst = std::max(worst, measured / (allowed + rounding));
          ++samples;
        }
      }
    }
  }
  INFO("acceleration bound: " << samples << " samples, worst measured/bound " << worst << ", "
                              << refused << " motions refused");
  CHECK(samples > 800000);
  CHECK(worst > 0.9);  // close to the bound somewhere, or nothing was attacked
  CHECK(refused <= 8);
}

TEST_CASE("on the finest pieces the bound is near what the points do") {
  Dice dice(202);
  std::vector<double> ratios;
  for (int k = 0; k < 60; ++k) {
    const Stretch swing = RandomStretch(dice, k);
    const LidMotion motion = *LidMotion::Make(swing.pivots);
    const MotionBounds bounds(motion, swing.from, swing.to);
    if (!bounds.ok()) continue;
    LoopOracle oracle(swing.pivots);
    oracle.Follow(swing.to, 0.25 * kRadPerDeg);
    for (int j = 0; j < 20; ++j) {
      const int index = dice.Whole(0, 255);
      const double width = (swing.to - swing.from) / 256;
      const double theta = swing.from + (index + 0.5) * width;
      for (const BodyPair& pair : AllBodyPairs()) {
        const AccelerationBound bound = PieceBound(bounds, pair, 8, index);
        const Triple triple(oracle, pair, theta, 0.3 * width);
        const double radius = 150.0;
        double most = 0.0;  // over a circle of points, as the bound knows only the distance
        for (int i = 0; i < 24; ++i) {
          const double angle = 2 * kPi * i / 24;
          most = std::max(most, triple.Acceleration(bound.centre + radius * Vec2(std::cos(angle),
                                                                                 std::sin(angle))));
        }
        ratios.push_back(bound.At(radius) / most);
      }
    }
  }
  REQUIRE(ratios.size() > 10000);
  std::sort(ratios.begin(), ratios.end());
  const auto at = [&](double share) {
    return ratios[static_cast<std::size_t>(share * static_cast<double>(ratios.size() - 1))];
  };
  INFO("acceleration bound over measured: least " << at(0) << ", median " << at(0.5) << ", 90 % "
                                                  << at(0.9) << ", most " << at(1));
  CHECK(at(0) > 0.999);
  CHECK(at(0.5) < 1.5);
  CHECK(at(0.9) < 5.0);
}

TEST_CASE("a plain hinge's points accelerate by their distance from the pivot") {
  const Vec2 pivot(-4, 3);
  const MotionBounds bounds(LidMotion::MakePlain(pivot), 0.0, 1.6);
  REQUIRE(bounds.ok());
  for (const auto& [body, frame] :
       {std::pair(Body::kLid, Body::kCase), std::pair(Body::kCase, Body::kLid)}) {
    for (int level = 0; level < 9; ++level) {
      const AccelerationBound bound = PieceBound(bounds, {body, frame}, level, 0);
      for (const Vec2& p : {Vec2(216, 3), Vec2(-4, 3), Vec2(30, -80)}) {
        const double exact = (p - pivot).norm();  // |d²p/dθ²| = r
        const double allowed = bound.At((p - bound.centre).norm());
        CHECK(allowed >= exact * (1 - 1e-12));
        CHECK(allowed <= exact * 1.001 + 1e-6);
      }
    }
  }
}

TEST_CASE("a coarser piece bounds no less than its halves") {
  Dice dice(203);
  int checked = 0;
  for (int k = 0; k < 20; ++k) {
    const Stretch swing = RandomStretch(dice, k);
    const MotionBounds bounds(*LidMotion::Make(swing.pivots), swing.from, swing.to);
    if (!bounds.ok()) continue;
    for (const BodyPair& pair : AllBodyPairs()) {
      for (int level = 0; level < 8; ++level) {
        const int index = dice.Whole(0, (1 << level) - 1);
        const AccelerationBound whole = PieceBound(bounds, pair, level, index);
        for (int half = 0; half < 2; ++half) {
          const AccelerationBound part = PieceBound(bounds, pair, level + 1, 2 * index + half);
          for (const double r : {0.0, 10.0, 400.0}) CHECK(whole.At(r) >= part.At(r) * (1 - 1e-12));
          ++checked;
        }
      }
    }
  }
  CHECK(checked > 1000);
}

}  // namespace
}  // namespace lidwright
