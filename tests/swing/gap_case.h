// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>

#include "brute_gap.h"
#include "lidwright/swing/clearance.h"
#include "random_parts.h"

namespace lidwright::testing {

/// Two parts and a swing.
struct GapCase {
  std::optional<Vec2> hinge;  ///< a plain hinge here, or the linkage on `pivots`
  Pivots pivots;
  double from = 0.0, to = 0.0;
  Part first, second;

  LidMotion Motion() const {
    return hinge ? LidMotion::MakePlain(*hinge) : LidMotion::Make(pivots).value();
  }
  LoopOracle Oracle() const {
    LoopOracle oracle = hinge ? LoopOracle(*hinge) : LoopOracle(pivots);
    oracle.Follow(to, 0.25 * kRadPerDeg);
    return oracle;
  }
  bool Ruled() const {
    const auto ruled = [](const Part& p) { return p.at_z_min != p.at_z_max; };
    return ruled(first) || ruled(second);
  }
  BruteGap Brute(const LoopOracle& oracle, bool coarse = false) const {
    const double step = (coarse ? 1.0 : Ruled() ? 0.25 : 0.05) * kRadPerDeg;
    return Ruled() ? LeastOfRuled(oracle, first, second, from, to, step, coarse ? 5 : 17, !coarse)
                   : LeastOfPrisms(oracle, first, second, from, to, step);
  }
};

/// Everything turned, scaled and moved alike.
inline GapCase Mapped(GapCase c, double angle, double scale, const Vec2& t) {
  const Affine map = Affine::Similar(angle, scale, t);
  if (c.hinge) c.hinge = map(*c.hinge);
  for (Vec2* p : {&c.pivots.case_a, &c.pivots.case_b, &c.pivots.lid_a, &c.pivots.lid_b}) {
    *p = map(*p);
  }
  c.first = Mapped(c.first, map);
  c.second = Mapped(c.second, map);
  return c;
}

/// A linkage, two bodies and a range of angles.
inline GapCase RandomMotionCase(Dice& dice, int k) {
  static constexpr Body kPairs[][2] = {{Body::kLid, Body::kCase},  {Body::kCase, Body::kLid},
                                       {Body::kArmA, Body::kLid},  {Body::kArmA, Body::kCase},
                                       {Body::kCase, Body::kArmB}, {Body::kLid, Body::kArmB},
                                       {Body::kArmA, Body::kArmB}, {Body::kArmB, Body::kArmA}};
  GapCase c;
  c.first.body = kPairs[k % 8][0];
  c.second.body = kPairs[k % 8][1];
  if (k % 16 < 2 && dice.Whole(0, 1) == 0) {
    c.hinge = RandomPoint(dice, -20, 60, -40, 20);
    c.to = dice.Uniform(0.5, 1.9);
    return c;
  }
  while (true) {
    c.pivots = dice.Whole(0, 4) == 0 ? AnyPivots(dice) : BoxPivots(dice);
    const std::optional<LidMotion> motion = LidMotion::Make(c.pivots);
    if (!motion || motion->Range().high_rad < 0.35) continue;
    c.to = std::min(95 * kRadPerDeg, dice.Uniform(0.6, 0.95) * motion->Range().high_rad);
    c.from = dice.Whole(0, 3) == 0 ? dice.Uniform(0.0, 0.4) * c.to : 0.0;
    return c;
  }
}

/// Gives the case two parts of random shape that meet, or nearly, at some angle of the swing.
inline void PutRandomParts(GapCase& c, Dice& dice, const LoopOracle& oracle, int k, bool ruled) {
  const auto shape = [&](int s) {
    Shape kind = static_cast<Shape>(s % kShapes);
    if (ruled && kind == Shape::kFine) kind = Shape::kStar;  // kept small: z multiplies the work
    return RandomShape(dice, kind, dice.Uniform(6.0, 50.0));
  };
  c.first.at_z_min = shape(k);
  c.second.at_z_min = shape(k / kShapes + 3);
  const double theta = dice.Uniform(c.from, c.to);
  const Vec2 at = RandomPoint(dice, -20, 220, -80, 60);
  c.first = Mapped(c.first, Affine::Similar(dice.Uniform(0, 6.3), 1.0, at));
  c.second =
      Mapped(c.second, Affine::Similar(dice.Uniform(0, 6.3), 1.0,
                                       oracle.Place(c.first.body, c.second.body, theta)(at)));
  c.first.at_z_max = c.first.at_z_min;
  c.second.at_z_max = c.second.at_z_min;
  c.first.z_max_mm = c.second.z_max_mm = 20.0;
  if (ruled) {
    const auto twist = [&](Part& part) {
      // Stations in the part's own place, so that the map turns the shape, not the whole side view.
      const Vec2 centre = part.at_z_min[0][0];
      const double turn = dice.Whole(0, 2) == 0 ? 0.9 : 0.2;
      part.at_z_max = Mapped(
          OtherStation(dice, Mapped(part.at_z_min, Affine::Similar(0, 1, -centre)), turn, 8.0),
          Affine::Similar(0, 1, centre));
    };
    const int which = dice.Whole(0, 2);
    if (which != 0) twist(c.first);
    if (which != 1) twist(c.second);
    c.first.z_min_mm = dice.Whole(0, 1) * dice.Uniform(-15.0, 8.0);
    c.second.z_max_mm = 20.0 + dice.Whole(0, 1) * dice.Uniform(-8.0, 30.0);
  }
  c.first.name = "first";
  c.second.name = "second";
}

/// [mm] 0.02 to 0.5, small ones as likely as large ones.
inline double RandomTarget(Dice& dice) {
  return 0.02 * std::pow(25.0, dice.Uniform(0.0, 1.0));
}

/// Moves the second part along a random direction of its own body until the least gap, coarsely
/// looked at, is `target_mm`. If the parts are already clear (one within the other's hole, say)
/// they stay where they are.
inline void BringNear(GapCase& c, Dice& dice, const LoopOracle& oracle, double target_mm) {
  const double angle = dice.Uniform(0.0, 2 * kPi);
  const Vec2 direction(std::cos(angle), std::sin(angle));
  const Part home = c.second;
  const auto gap = [&](double s) {
    c.second = Mapped(home, Affine::Similar(0.0, 1.0, s * direction));
    return c.Brute(oracle, true).gap;
  };
  if (gap(0.0) > target_mm) return;
  double in = 0.0, out = 4.0;
  while (gap(out) <= target_mm) {
    in = out;
    out *= 2.0;
  }
  while (out - in > 0.02 * target_mm)
    ((gap((in + out) / 2) > target_mm) ? out : in) = (in + out) / 2;
  gap(out);
}

/// Two random parts on a random motion whose least gap is about `target_mm`.
inline GapCase RandomCase(Dice& dice, int k, bool ruled, double target_mm) {
  GapCase c = RandomMotionCase(dice, k);
  const LoopOracle oracle = c.Oracle();
  PutRandomParts(c, dice, oracle, k, ruled);
  BringNear(c, dice, oracle, target_mm);
  return c;
}

}  // namespace lidwright::testing
