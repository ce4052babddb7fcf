// SPDX-License-Identifier: Apache-2.0
#include "lidwright/geometry/ring.h"

#include <geos_c.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "lidwright/base/units.h"
#include "random_outline.h"

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace lidwright {
namespace {

using testing::Dice;

const Ring kSquare = {{0, 0}, {4, 0}, {4, 4}, {0, 4}};

Ring RandomRing(Dice& dice, int n) {
  Ring ring;
  for (int i = 0; i < n; ++i) ring.push_back({dice.Uniform(-50, 50), dice.Uniform(-50, 50)});
  return ring;
}

// Winding number by summed angles: inside a simple ring when it is not zero.
bool InsideByAngles(const Ring& ring, const Vec2& p) {
  double sum = 0.0;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Vec2 u = ring[i] - p, v = ring[(i + 1) % ring.size()] - p;
    sum += std::atan2(Cross(u, v), u.dot(v));
  }
  return std::lround(sum / (2 * kPi)) % 2 != 0;
}

// ---- Oracle for segments on whole numbers: Cramer's rule, exact in 64 bits. ----
struct Spot {
  long x, y;
};
long CrossOf(Spot a, Spot b) {
  return a.x * b.y - a.y * b.x;
}
Spot operator-(Spot a, Spot b) {
  return {a.x - b.x, a.y - b.y};
}
bool OnSegment(Spot p, Spot a, Spot b) {
  const Spot u = p - a, v = b - a;
  const long dot = u.x * v.x + u.y * v.y;
  return CrossOf(u, v) == 0 && dot >= 0 && dot <= v.x * v.x + v.y * v.y &&
         !(v.x == 0 && v.y == 0 && (u.x != 0 || u.y != 0));
}
bool MeetExactly(Spot a, Spot b, Spot c, Spot d) {
  const long den = CrossOf(b - a, d - c);
  if (den == 0) {
    return OnSegment(a, c, d) || OnSegment(b, c, d) || OnSegment(c, a, b) || OnSegment(d, a, b);
  }
  const long t = CrossOf(c - a, d - c) * (den > 0 ? 1 : -1);
  const long s = CrossOf(c - a, b - a) * (den > 0 ? 1 : -1);
  return t >= 0 && s >= 0 && t <= std::abs(den) && s <= std::abs(den);
}

class Geos {
 public:
  Geos() : handle_(GEOS_init_r()) {}
  ~Geos() { GEOS_finish_r(handle_); }
  bool Valid(const Ring& ring) const {
    const unsigned n = static_cast<unsigned>(ring.size());
    GEOSCoordSequence* points = GEOSCoordSeq_create_r(handle_, n + 1, 2);
    for (unsigned i = 0; i <= n; ++i) {
      GEOSCoordSeq_setXY_r(handle_, points, i, ring[i % n].x(), ring[i % n].y());
    }
    GEOSGeometry* polygon =
        GEOSGeom_createPolygon_r(handle_, GEOSGeom_createLinearRing_r(handle_, points), nullptr, 0);
    const bool valid = GEOSisValid_r(handle_, polygon) == 1;
    GEOSGeom_destroy_r(handle_, polygon);
    return valid;
  }

 private:
  GEOSContextHandle_t handle_;
};

TEST_CASE("a ring's area and centre are those of known figures, either way round") {
  CHECK(SignedArea(kSquare) == 16.0);
  CHECK(SignedArea(Ring(kSquare.rbegin(), kSquare.rend())) == -16.0);
  CHECK(SignedArea(Ring{}) == 0.0);
  CHECK((Centroid(kSquare) - Vec2(2, 2)).norm() < 1e-15);
  // An L of three unit squares: centre (5/6, 5/6). Far from the origin it must not be lost.
  for (const double shift : {0.0, 1e6}) {
    Ring corner = {{0, 0}, {2, 0}, {2, 1}, {1, 1}, {1, 2}, {0, 2}};
    for (Vec2& p : corner) p += Vec2(shift, -shift);
    const Vec2 centre = Centroid(corner) - Vec2(shift, -shift);
    CHECK_THAT(centre.x(), WithinAbs(5.0 / 6.0, 1e-9));
    CHECK_THAT(centre.y(), WithinAbs(5.0 / 6.0, 1e-9));
    CHECK((Centroid(Ring(corner.rbegin(), corner.rend())) - Centroid(corner)).norm() < 1e-9);
  }
}

TEST_CASE("a point is inside exactly when the ring winds round it") {
  Dice dice(11);
  int inside = 0;
  for (int i = 0; i < 4000; ++i) {
    const Ring ring = RandomRing(dice, dice.Whole(3, 9));
    const Vec2 p(dice.Uniform(-50, 50), dice.Uniform(-50, 50));
    const bool truth = InsideByAngles(ring, p);
    REQUIRE(Contains({ring}, p) == truth);
    inside += truth ? 1 : 0;
  }
  CHECK(inside > 400);
  // A hole is outside, whichever way it runs.
  const Ring hole = {{1, 1}, {1, 3}, {3, 3}, {3, 1}};
  CHECK_FALSE(Contains({kSquare, hole}, {2, 2}));
  CHECK(Contains({kSquare, hole}, {0.5, 2}));
}

TEST_CASE("the distance to a ring is the least over a dense walk of it") {
  Dice dice(12);
  for (int i = 0; i < 300; ++i) {
    const Ring ring = RandomRing(dice, dice.Whole(3, 7));
    const Vec2 p(dice.Uniform(-80, 80), dice.Uniform(-80, 80));
    double least = std::numeric_limits<double>::infinity(), step = 0.0;
    for (std::size_t k = 0; k < ring.size(); ++k) {
      const Vec2 &a = ring[k], &b = ring[(k + 1) % ring.size()];
      for (int s = 0; s <= 2000; ++s)
        least = std::min(least, (a + s / 2000.0 * (b - a) - p).norm());
      step = std::max(step, (b - a).norm() / 2000.0);
    }
    Vec2 nearest = Vec2::Constant(1e9);
    const double distance = SignedDistance({ring}, p, &nearest);
    REQUIRE(std::abs(distance) <= least + 1e-12);
    REQUIRE(std::abs(distance) >= least - step);
    REQUIRE((distance < 0) == InsideByAngles(ring, p));
    REQUIRE_THAT((nearest - p).norm(), WithinAbs(std::abs(distance), 1e-12));
    double off = std::numeric_limits<double>::infinity();
    for (std::size_t k = 0; k < ring.size();
         ++k) {  // `nearest` lies on an edge: a–q–b is no detour
      const Vec2 &a = ring[k], &b = ring[(k + 1) % ring.size()];
      off = std::min(off, (nearest - a).norm() + (nearest - b).norm() - (b - a).norm());
    }
    REQUIRE(off < 1e-9);
  }
  CHECK(SignedDistance({kSquare}, {2, 1}) == -1.0);
  CHECK(SignedDistance({kSquare}, {7, 8}) == 5.0);
  CHECK(NearestOnSegment({3, 3}, {1, 1}, {1, 1}) == Vec2(1, 1));
}

TEST_CASE("segments meet exactly when whole-number arithmetic says so") {
  // Every pair of segments on a grid of 4 × 4 points, points and collinear overlaps included.
  long checked = 0, meeting = 0, wrong = 0;
  const auto spot = [](int k) { return Spot{k % 4, k / 4}; };
  const auto vec = [](Spot s) { return Vec2(static_cast<double>(s.x), static_cast<double>(s.y)); };
  for (int a = 0; a < 16; ++a) {
    for (int b = 0; b < 16; ++b) {
      for (int c = 0; c < 16; ++c) {
        for (int d = 0; d < 16; ++d) {
          const Spot p = spot(a), q = spot(b), r = spot(c), s = spot(d);
          const bool truth = MeetExactly(p, q, r, s);
          wrong += SegmentsMeet(vec(p), vec(q), vec(r), vec(s)) != truth ? 1 : 0;
          meeting += truth ? 1 : 0;
          ++checked;
        }
      }
    }
  }
  CHECK(wrong == 0);
  CHECK(checked == 65536);
  CHECK(meeting > 10000);
}

TEST_CASE("turned segments that clearly cross meet, and those clearly apart do not") {
  Dice dice(13);
  for (int i = 0; i < 20000; ++i) {
    const Pose pose = Pose::Make(dice.Uniform(-4, 4), {dice.Uniform(-1e3, 1e3), 3e2});
    const double x = dice.Uniform(0.001, 9.999);
    const Vec2 a = pose * Vec2(0, 0), b = pose * Vec2(10, 0);
    const Vec2 up = pose * Vec2(x, 5), through = pose * Vec2(x + 1, -1e-9),
               short_of = pose * Vec2(x + 1, 1e-9);
    REQUIRE(SegmentsMeet(a, b, up, through) == (x + 1 < 10));
    REQUIRE_FALSE(SegmentsMeet(a, b, up, short_of));
  }
}

TEST_CASE("a ring has a fault exactly when another library calls its polygon invalid") {
  // OGC validity as GEOS judges it, on whole numbers, where neither has rounding to hide behind.
  const Geos geos;
  Dice dice(14);
  int valid = 0, invalid = 0;
  for (int i = 0; i < 60000; ++i) {
    Ring ring;
    const int n = dice.Whole(3, 8);
    for (int k = 0; k < n; ++k) {
      ring.push_back({double(dice.Whole(0, 6)), double(dice.Whole(0, 6))});
    }
    bool repeats = false;
    for (std::size_t k = 0; k < ring.size(); ++k) {
      repeats = repeats || ring[k] == ring[(k + 1) % ring.size()];
    }
    if (repeats) {
      REQUIRE(FaultOf(ring));  // a repeated point is a fault here, not there
      continue;
    }
    const bool truth = geos.Valid(ring);
    (truth ? valid : invalid) += 1;
    if (FaultOf(ring).has_value() == truth) {
      for (const Vec2& p : ring) UNSCOPED_INFO(p.transpose());
      FAIL("GEOS says " << (truth ? "valid" : "invalid") << ", FaultOf says "
                        << (FaultOf(ring) ? FaultOf(ring)->what : "none"));
    }
  }
  CHECK(valid > 5000);
  CHECK(invalid > 5000);
}

TEST_CASE("a fault names the place and what is wrong there") {
  const auto what = [](const Ring& ring) { return FaultOf(ring).value().what; };
  CHECK(what({{0, 0}, {1, 0}}) == "an outline needs at least three points");
  CHECK(what({{0, 0}, {1, 0}, {std::nan(""), 1}}) == "a coordinate is not a finite number");
  CHECK(what({{0, 0}, {4, 0}, {4, 0}, {0, 4}}) == "the point (4, 0) is given twice in a row");
  CHECK(what({{0, 0}, {4, 0}, {4, 4}, {0, 0}}) == "the point (0, 0) is given twice in a row");
  CHECK(what({{0, 0}, {4, 0}, {2, 0}, {2, 4}}) == "the outline doubles back on itself at (4, 0)");
  CHECK(what({{0, 0}, {4, 4}, {4, 0}, {0, 4}}) ==
        "the edge from (0, 0) crosses or touches the edge from (4, 0) at (2, 2)");
  // The second square touches the first with a vertex only.
  CHECK(what({{0, 0}, {4, 0}, {4, 4}, {2, 0}, {0, 4}}) ==
        "the edge from (0, 0) crosses or touches the edge from (4, 4) at (2, 0)");
  CHECK(FaultOf({{0, 0}, {4, 4}, {4, 0}, {0, 4}})->vertex == 0);
  CHECK_FALSE(FaultOf(kSquare));
  CHECK_FALSE(FaultOf(Ring(kSquare.rbegin(), kSquare.rend())));
}

TEST_CASE("overlapping edges are reported at a point that both share") {
  // The outline runs along its own bottom edge from (2, 0) to (6, 0).
  const auto fault = FaultOf({{0, 0}, {8, 0}, {8, 4}, {6, 0}, {2, 0}, {0, 4}});
  REQUIRE(fault);
  CHECK(fault->what == "the edge from (0, 0) crosses or touches the edge from (8, 4) at (6, 0)");
  const auto along = FaultOf({{0, 0}, {8, 0}, {8, 4}, {9, 0}, {2, 0}, {0, 4}});
  REQUIRE(along);
  CHECK(along->what.find("(0, 0) crosses or touches the edge from (9, 0) at (2, 0)") !=
        std::string::npos);
}

TEST_CASE("bounds and moved rings follow their points") {
  const Ring moved = Moved(kSquare, Pose::About({2, 2}, kPi / 4));
  const Rect2 box = Bounds(moved);
  CHECK_THAT(box.high.x(), WithinAbs(2 + std::sqrt(8.0), 1e-12));
  CHECK_THAT(box.low.y(), WithinAbs(2 - std::sqrt(8.0), 1e-12));
  CHECK_THAT(SignedArea(moved), WithinRel(16.0, 1e-14));
  CHECK(Bounds(Ring{}).Empty());
}

}  // namespace
}  // namespace lidwright
