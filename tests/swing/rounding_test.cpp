// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <complex>

#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/ring.h"
#include "lidwright/swing/clearance.h"
#include "random_pivots.h"

// What computed places of points may be off by, against the same linkage in extended precision
// (64 bits of mantissa, eleven more than a double's).

namespace lidwright {
namespace {

using namespace testing;
using Long = std::complex<long double>;

Long Wide(const Vec2& p) {
  return {p.x(), p.y()};
}
long double CrossOf(const Long& a, const Long& b) {
  return a.real() * b.imag() - a.imag() * b.real();
}

// The linkage closed by intersecting two circles, on the side where it stands when shut.
class WideLinkage {
 public:
  explicit WideLinkage(const Pivots& p)
      : case_a_(Wide(p.case_a)),
        case_b_(Wide(p.case_b)),
        lid_a_(Wide(p.lid_a)),
        lid_b_(Wide(p.lid_b)),
        a_(std::abs(lid_a_ - case_a_)),
        b_(std::abs(lid_b_ - case_b_)) {
    side_ = CrossOf(lid_a_ - case_a_, lid_b_ - case_b_) > 0.0L ? 1.0L : -1.0L;
  }

  // Where a point of the body, given where it is with the lid shut, is at an angle.
  Long Place(Body body, const Vec2& point, long double theta) const {
    const Long turn = std::polar(1.0L, theta);
    // Seen from pivot A, the lid's B lies turn (lid_b − lid_a) away: A is as far from case_a as the
    // arm is long, and as far from case_b less that as the other arm.
    const Long d = case_b_ - turn * (lid_b_ - lid_a_) - case_a_;
    const long double distance = std::abs(d);
    const long double along = (a_ * a_ - b_ * b_ + distance * distance) / (2.0L * distance);
    const long double across = std::sqrt(std::max(0.0L, a_ * a_ - along * along));
    const Long unit = d / distance;
    const Long left = case_a_ + unit * Long(along, across);
    const Long right = case_a_ + unit * Long(along, -across);
    // Arm A × arm B keeps its sign; arm B is arm A less d.
    const bool take_left = CrossOf(left - case_a_, left - case_a_ - d) * side_ > 0.0L;
    const Long lid_a = take_left ? left : right;
    const Long lid_b = lid_a + turn * (lid_b_ - lid_a_);
    if (body == Body::kLid) return lid_a + turn * (Wide(point) - lid_a_);
    if (body == Body::kArmA) return Turned(point, case_a_, lid_a_, lid_a);
    return Turned(point, case_b_, lid_b_, lid_b);
  }

 private:
  static Long Turned(const Vec2& point, const Long& about, const Long& was, const Long& is) {
    const Long turn = (is - about) / (was - about);
    return about + turn / std::abs(turn) * (Wide(point) - about);
  }
  Long case_a_, case_b_, lid_a_, lid_b_;
  long double a_, b_, side_;
};

}  // namespace

TEST_CASE("no computed place of a point is farther from the true one than its rounding says") {
  Dice dice(911);
  double closest = 0.0;  // of what is off to what may be
  int looked = 0;
  while (looked < 4000) {
    const Pivots pivots = looked % 3 == 0   ? AnyPivots(dice)
                          : looked % 3 == 1 ? NearlyParallelPivots(dice, dice.Uniform(1e-4, 0.1))
                                            : BoxPivots(dice);
    const auto motion = LidMotion::Make(pivots);
    if (!motion || motion->Range().high_rad < 0.02) continue;
    // Up to where arms come nearly parallel: there the rounding grows beyond all bounds.
    const double to = std::min(2.0, motion->Range().high_rad * dice.Uniform(0.3, 0.9999));
    const Swing swing(*motion, 0.0, to);
    if (!swing.Bounded()) continue;
    ++looked;
    const WideLinkage wide(pivots);
    for (int i = 0; i < 20; ++i) {
      const double theta = i == 0 ? to : dice.Uniform(0.0, to);
      const BodiesAt bodies = swing.At(theta);
      for (const Body body : {Body::kLid, Body::kArmA, Body::kArmB}) {
        const Vec2 point = RandomPoint(dice, -3000, 3000, -3000, 3000);
        const Long true_place = wide.Place(body, point, theta);
        const double off =
            static_cast<double>(std::abs(Wide(bodies.Of(body) * point) - true_place));
        const double allowed = swing.Rounding_mm(body);
        CAPTURE(looked, theta, to, static_cast<int>(body), off, allowed);
        CHECK(off <= allowed);
        closest = std::max(closest, off / allowed);
      }
    }
  }
  CHECK(closest > 1e-4);  // the bound is a bound, not a wish
}

TEST_CASE(
    "no computed place of a point on a slide is farther from the true one than its rounding says") {
  Dice dice(913);
  double closest = 0.0;  // of what is off to what may be
  for (int i = 0; i < 4000; ++i) {
    BodiesAt standing;
    for (const Body body : {Body::kLid, Body::kArmA, Body::kArmB}) {
      const double turn = dice.Uniform(-3.0, 3.0);
      standing.Put(body, Pose::Make(turn, RandomPoint(dice, -500, 500, -500, 500)), 0.0,
                   Vec2::Zero());
    }
    const Body sliding = i % 3 == 0 ? Body::kLid : i % 3 == 1 ? Body::kArmA : Body::kArmB;
    const Vec2 way = RandomPoint(dice, -2000, 2000, -2000, 2000);
    const Slide slide(standing, sliding, way);
    const double s = dice.Uniform(0.0, slide.to());
    const BodiesAt bodies = slide.At(s);
    for (const Body body : {Body::kCase, Body::kLid, Body::kArmA, Body::kArmB}) {
      const Vec2 point = RandomPoint(dice, -3000, 3000, -3000, 3000);
      // Along the way, as far before its end as is left of it: all on the body's own pose.
      const Pose& end = standing.Of(body);
      Long place = Wide(end.origin) + Long(end.cosine, end.sine) * Wide(point);
      const Long along = Wide(way) / std::abs(Wide(way));
      if (body == sliding) place += (static_cast<long double>(s) - std::abs(Wide(way))) * along;
      const double off = static_cast<double>(std::abs(Wide(bodies.Of(body) * point) - place));
      const double allowed = slide.Rounding_mm(body);
      CAPTURE(i, static_cast<int>(body), off, allowed);
      // Bodies that stand have the place that they are given, whatever its own rounding.
      if (body == sliding) {
        CHECK(off <= allowed);
        closest = std::max(closest, off / allowed);
      } else {
        CHECK(bodies.Of(body) * point == end * point);
        CHECK(allowed == 0.0);
      }
    }
  }
  CHECK(closest > 1e-4);  // the bound is a bound, not a wish
}

TEST_CASE("no computed distance of a point from an edge is farther off than its rounding says") {
  Dice dice(912);
  double worst = 0.0;
  for (int i = 0; i < 100000; ++i) {
    const double reach = i % 2 == 0 ? 3500.0 : 100.0;
    const Vec2 a = RandomPoint(dice, -reach, reach, -reach, reach);
    const double length = std::pow(10.0, dice.Uniform(-3.0, 2.0));
    const Vec2 b = a + length * RandomPoint(dice, -1, 1, -1, 1);
    const Vec2 p = a + dice.Uniform(-0.5, 1.5) * (b - a) + RandomPoint(dice, -1, 1, -1, 1);
    const double got = (p - NearestOnSegment(p, a, b)).norm();
    const Long along = Wide(b) - Wide(a), to = Wide(p) - Wide(a);
    const long double share = std::clamp(
        (to.real() * along.real() + to.imag() * along.imag()) / std::norm(along), 0.0L, 1.0L);
    const double off = static_cast<double>(std::abs(got - std::abs(to - share * along)));
    worst = std::max(worst, off);
  }
  CHECK(worst <= kDistanceRounding_mm);
  CHECK(worst > 1e-4 * kDistanceRounding_mm);
}

}  // namespace lidwright
