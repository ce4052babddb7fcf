// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <optional>

#include "gap_case.h"
#include "swing/keeps_all.h"

// Random parts that touch when closed, in a point or along an edge, on random motions: does
// KeepsClosedGap see at which speed they part and whether they stay apart? The speed comes from the
// contact's normal and from differences of the loop's own solutions, staying apart from plain
// search. A pair that overlaps and is called kept is the worst defect there can be.

namespace lidwright {
namespace {

using namespace testing;

/// A place where the parts touch: `normal` is of unit length and points out of the second part.
struct Touch {
  Vec2 point, normal;
  bool clear_of_ends = false;  // not a vertex on a vertex
};

/// mm per radian at which the first part's point at the contact leaves the second part.
double Speed(const GapCase& c, const LoopOracle& oracle, const Touch& touch) {
  const Vec2 velocity = oracle.ClosedVelocity(c.first.body, touch.point) -
                        oracle.ClosedVelocity(c.second.body, touch.point);
  return velocity.dot(touch.normal);
}

Touch Touching(const Section& vertices, const Section& edges) {
  double best2 = 1e300;
  Touch touch;
  for (const Segment& v : vertices.edges) {
    for (const Segment& e : edges.edges) {
      const double d2 = PointSegment2(v.ax, v.ay, e);
      if (d2 >= best2) continue;
      best2 = d2;
      const Vec2 a(e.ax, e.ay), along = Vec2(e.bx, e.by) - a;
      touch.point = Vec2(v.ax, v.ay);
      touch.normal = -Perp(Vec2(along.normalized()));  // solid lies to the left of an edge
      const double s = (touch.point - a).dot(along) / along.squaredNorm();
      touch.clear_of_ends = std::min(s, 1.0 - s) * along.norm() > 0.02;
    }
  }
  touch.clear_of_ends = touch.clear_of_ends && best2 < 1e-13;
  return touch;
}

/// Moves the second part along a random direction until it is some 1e-8 mm off the first, lid
/// shut, at z. Nothing if they touch at other than a vertex on an edge.
std::optional<Touch> BringTogether(GapCase& c, Dice& dice, double z) {
  const double angle = dice.Uniform(0.0, 2 * kPi);
  const Vec2 direction(std::cos(angle), std::sin(angle));
  const Part home = c.second;
  const Section first = SectionAt(c.first, z);
  const auto gap = [&](double s) {
    c.second = Mapped(home, Affine::Similar(0.0, 1.0, s * direction));
    return RegionDistance(first, SectionAt(c.second, z));
  };
  double in = 0.0, out = 4.0;
  if (gap(in) > 0.0) return std::nullopt;
  while (gap(out) <= 1e-8) {
    in = out;
    out *= 2.0;
  }
  for (int i = 0; i < 70; ++i) ((gap((in + out) / 2) > 1e-8) ? out : in) = (in + out) / 2;
  if (gap(out) > 1e-6) return std::nullopt;  // it jumped: the contact ended beside the direction
  const Section second = SectionAt(c.second, z);
  const Touch one = Touching(first, second);
  if (one.clear_of_ends) return one;
  Touch other = Touching(second, first);
  other.normal = -other.normal;
  return other.clear_of_ends ? std::optional<Touch>(other) : std::nullopt;
}

/// Lays an edge of the second part on one of the first, facing it and overlapping it in part.
/// Gives the two ends of what touches; nothing if the parts overlap so.
std::optional<std::array<Touch, 2>> LayTogether(GapCase& c, Dice& dice) {
  const Ring &p = c.first.at_z_min[0], &q = c.second.at_z_min[0];
  const auto edge = [&](const Ring& ring) {
    const auto i = static_cast<std::size_t>(dice.Whole(0, static_cast<int>(ring.size()) - 1));
    return std::pair<Vec2, Vec2>(ring[i], ring[(i + 1) % ring.size()]);
  };
  const auto [a, b] = edge(p);
  const auto [e, f] = edge(q);
  const Vec2 along = (b - a).normalized();
  const Vec2 out(along.y(), -along.x());  // of the first part
  // The second part's edge must run from b to a.
  const double turn = std::atan2(-along.y(), -along.x()) - std::atan2((f - e).y(), (f - e).x());
  Affine map = Affine::Similar(turn, 1.0, Vec2::Zero());
  const double length = (b - a).norm(), other = (f - e).norm();
  const double slide = dice.Uniform(-0.9 * other, 0.9 * length);  // of the second part's f from a
  map.t = a + slide * along + 1e-8 * out - map(f);
  c.second = Mapped(c.second, map);
  const double low = std::max(0.0, slide), high = std::min(length, slide + other);
  const double gap = RegionDistance(SectionAt(c.first, 0.0), SectionAt(c.second, 0.0));
  if (high - low < 0.1 || gap < 5e-9) return std::nullopt;
  return std::array<Touch, 2>{Touch{a + low * along, -out, true},
                              Touch{a + high * along, -out, true}};
}

struct Course {
  bool overlaps = false;
  bool clear = true;  // it opens at a decent rate and never comes near again
};

/// What plain search sees after closed.
Course Watch(const GapCase& c, const LoopOracle& oracle, double speed, double contact_z) {
  Course course;
  const auto [z_low, z_high] = SharedZ(c.first, c.second);
  const int layers = c.Ruled() ? 9 : 1;
  for (int j = 0; j < layers; ++j) {
    const double z = layers == 1 ? contact_z : z_low + (z_high - z_low) * j / (layers - 1);
    const Section first = SectionAt(c.first, z), second = SectionAt(c.second, z);
    const double shut = RegionDistance(first, second);
    bool parted = shut > 0.05;
    const auto look = [&](double theta) {
      const Placing placing = oracle.Place(c.first.body, c.second.body, theta);
      const double gap = RegionDistance(Placed(first, placing), second);
      course.overlaps |= gap == 0.0;
      parted |= gap > 0.05;
      course.clear = course.clear && (parted ? gap > 0.03 : gap > 0.4 * speed * theta);
    };
    const double step = (c.Ruled() ? 0.2 : 0.05) * kRadPerDeg;
    for (double theta = 1e-6; theta < step; theta *= 1.7) look(theta);
    for (double theta = step; theta < c.to; theta += step) look(theta);
    look(c.to);
  }
  return course;
}

struct Count {
  int kept = 0, refused = 0, unclear = 0;
};

void CheckKept(const GapCase& c, const LoopOracle& oracle, double speed, double contact_z,
               Count& count) {
  const LidMotion motion = c.Motion();
  const Swing bounds(motion, 0.0, c.to);
  REQUIRE(bounds.Bounded());
  const PartTree first(c.first), second(c.second);
  const Course course = Watch(c, oracle, speed, contact_z);
  for (const PartPair& pair : {PartPair{&first, &second}, PartPair{&second, &first}}) {
    const KeepReport report = KeepsClosedGap(bounds, {pair}, 0.5);
    CAPTURE(speed, report.separation_mm, report.kept(), course.overlaps, course.clear, c.to,
            report.worst->at);
    // The other parts of a ruled contact, and all others within a micrometre, count as well.
    if (c.Ruled()) {
      CHECK(report.separation_mm <= speed + 1e-3 + 1e-5 * std::abs(speed));
    } else {
      CHECK(report.separation_mm == Approx(speed).epsilon(1e-5).margin(1e-3));
    }
    if (speed < -0.01 || course.overlaps) CHECK_FALSE(report.kept());
    // A contact in one point of twisted parts may be refused for want of one direction that parts
    // them all along z (clearance.h); then it says so by a speed of minus infinity. Any other
    // refusal of a contact that parts and stays clear is a defect.
    if (speed > 1.0 && course.clear && !course.overlaps && !report.kept()) {
      CHECK(c.Ruled());
      CHECK(report.separation_mm == -std::numeric_limits<double>::infinity());
    }
    if (!report.kept()) {
      CHECK(report.worst->at >= 0.0);
      CHECK(report.worst->at <= c.to);
    }
  }
  if (speed < -0.01 || course.overlaps) {
    ++count.refused;
  } else if (speed > 1.0 && course.clear) {
    ++count.kept;
  } else {
    ++count.unclear;
  }
}

GapCase TouchingCase(Dice& dice, int k, bool ruled) {
  GapCase c = RandomMotionCase(dice, k);
  c.from = 0.0;
  c.to *= dice.Whole(0, 1) == 0 ? 1.0 : dice.Uniform(0.1, 0.6);
  const LoopOracle oracle = c.Oracle();
  PutRandomParts(c, dice, oracle, k, ruled);
  return c;
}

TEST_CASE("random parts that touch in a point are kept exactly if they part and stay apart") {
  Dice dice(601);
  Count count;
  for (int k = 0; k < 400; ++k) {
    CAPTURE(k);
    GapCase c = TouchingCase(dice, k, false);
    // Over each other when shut, wherever they were brought together for the swing.
    c.second =
        Mapped(c.second, Affine::Similar(0, 1, c.first.at_z_min[0][0] - c.second.at_z_min[0][0]));
    const LoopOracle oracle = c.Oracle();
    const std::optional<Touch> touch = BringTogether(c, dice, 0.0);
    if (touch) CheckKept(c, oracle, Speed(c, oracle, *touch), 0.0, count);
  }
  CAPTURE(count.kept, count.refused, count.unclear);
  CHECK(count.kept > 60);
  CHECK(count.refused > 100);
  CHECK(count.unclear < 100);
}

TEST_CASE("random parts that touch along an edge are kept exactly if both its ends part") {
  Dice dice(602);
  Count count;
  for (int k = 0; k < 1200; ++k) {
    CAPTURE(k);
    GapCase c = TouchingCase(dice, k, false);
    const std::optional<std::array<Touch, 2>> ends = LayTogether(c, dice);
    if (!ends) continue;
    c.second.at_z_max = c.second.at_z_min;
    const LoopOracle oracle = c.Oracle();
    double speed = std::min(Speed(c, oracle, (*ends)[0]), Speed(c, oracle, (*ends)[1]));
    // A shape that is not convex may lie on that edge in more than one place.
    for (const auto& [part, other] : {std::pair(&c.first, &c.second), {&c.second, &c.first}}) {
      const Section section = SectionAt(*other, 0.0);
      for (const Vec2& p : part->at_z_min[0]) {
        double near2 = 1e300;
        for (const Segment& e : section.edges) {
          near2 = std::min(near2, PointSegment2(p.x(), p.y(), e));
        }
        if (near2 > 1e-14) continue;
        speed = std::min(speed, Speed(c, oracle, {p, (*ends)[0].normal, true}));
      }
    }
    CheckKept(c, oracle, speed, 0.0, count);
  }
  CAPTURE(count.kept, count.refused, count.unclear);
  CHECK(count.kept > 20);
  CHECK(count.refused > 100);
}

TEST_CASE("twisted parts that touch at one end of theirs are kept only if they stay apart") {
  Dice dice(603);
  Count count;
  int cases = 0;
  for (int k = 0; k < 300 && cases < 60; ++k) {
    CAPTURE(k);
    GapCase c = TouchingCase(dice, k, true);
    c.second =
        Mapped(c.second, Affine::Similar(0, 1, c.first.at_z_min[0][0] - c.second.at_z_min[0][0]));
    const auto [z_low, z_high] = SharedZ(c.first, c.second);
    const double z = dice.Whole(0, 1) == 0 ? z_low : z_high;
    const LoopOracle oracle = c.Oracle();
    const std::optional<Touch> touch = BringTogether(c, dice, z);
    if (!touch) continue;
    bool apart = true;  // at every other z
    for (int j = 0; j <= 64; ++j) {
      const double w = z_low + (z_high - z_low) * j / 64.0;
      apart = apart && RegionDistance(SectionAt(c.first, w), SectionAt(c.second, w)) > 5e-9;
    }
    if (!apart) continue;
    ++cases;
    CheckKept(c, oracle, Speed(c, oracle, *touch), z, count);
  }
  CAPTURE(count.kept, count.refused, count.unclear);
  CHECK(count.kept > 8);
  CHECK(count.refused > 20);
}

}  // namespace
}  // namespace lidwright
