// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "gap_case.h"
#include "geos_distance.h"
#include "lidwright/base/check.h"

// LeastGap over a corpus of random parts and swings against plain search (brute_gap.h), which GEOS
// keeps honest. A bound above the search's minimum is wrong whatever the reason; one more than the
// tolerance below it is loose.

namespace lidwright {
namespace {

using namespace testing;

struct Tally {
  long cases = 0, clear = 0, overlapping = 0, near = 0, pieces = 0, most_pieces = 0, poses = 0;
  double highest = -1e9;  // bound − true
  double lowest = 1e9;    // bound − true
  std::string Text() const {
    std::ostringstream out;
    out << cases << " cases (" << clear << " clear, " << near << " within 0.6 mm, " << overlapping
        << " overlapping), bound − true from " << lowest << " to " << highest << " mm, pieces "
        << pieces << ", at most " << most_pieces << ", GEOS poses " << poses;
    return out.str();
  }
};

GapReport Bound(const GapCase& c, const GapOptions& options = {}) {
  const LidMotion motion = c.Motion();
  const Swing bounds(motion, c.from, c.to);
  REQUIRE(bounds.Bounded());
  const PartTree first(c.first), second(c.second);
  return LeastGap(bounds, {{&first, &second}}, options);
}

double BoundaryDistance(const Section& section, const Vec2& p) {
  double best2 = 1e300;
  for (const Segment& e : section.edges) best2 = std::min(best2, PointSegment2(p.x(), p.y(), e));
  return std::sqrt(best2);
}

/// The points, the angle and the distance that a report names belong together.
void CheckNearest(const GapCase& c, const LoopOracle& oracle, const GapReport& report) {
  const Nearness& near = *report.nearest;
  CAPTURE(near.at, near.z_mm, near.gap_mm);
  CHECK(near.pair == 0);
  CHECK(near.at >= c.from);
  CHECK(near.at <= c.to);
  const auto [z_low, z_high] = SharedZ(c.first, c.second);
  CHECK(near.z_mm >= z_low);
  CHECK(near.z_mm <= z_high);
  if (near.z_mm < z_low || near.z_mm > z_high) return;
  CHECK(near.gap_mm >= report.bound_mm.value_or(-1e9));
  const Section first = Placed(SectionAt(c.first, near.z_mm), oracle.Place(c.first.body, near.at));
  const Section second =
      Placed(SectionAt(c.second, near.z_mm), oracle.Place(c.second.body, near.at));
  const double here = RegionDistance(first, second);
  // Another pair of features may be nearer there, but by no more than the tolerance.
  CHECK(here <= near.gap_mm + 1e-8);
  CHECK(near.gap_mm <= here + kGapTolerance_mm);
  if (near.gap_mm > 0.0) {
    CHECK(std::abs((near.on_first - near.on_second).norm() - near.gap_mm) < 1e-8);
    CHECK(BoundaryDistance(first, near.on_first) < 1e-8);
    CHECK(BoundaryDistance(second, near.on_second) < 1e-8);
  }
}

void CheckAgainstGeos(const GapCase& c, const LoopOracle& oracle, Dice& dice, Tally& tally) {
  const Geos geos;
  const auto [z_low, z_high] = SharedZ(c.first, c.second);
  for (int i = 0; i < 6; ++i) {
    const double theta = dice.Uniform(c.from, c.to);
    const double z = dice.Uniform(z_low, z_high);
    const auto rings = [&](const Part& part) {
      const double share = (z - part.z_min_mm) / (part.z_max_mm - part.z_min_mm);
      std::vector<Ring> placed = part.at_z_min;
      for (std::size_t r = 0; r < placed.size(); ++r) {
        for (std::size_t v = 0; v < placed[r].size(); ++v) {
          const Vec2 p = (1 - share) * part.at_z_min[r][v] + share * part.at_z_max[r][v];
          placed[r][v] = oracle.Place(part.body, theta)(p);
        }
      }
      return placed;
    };
    const double brute = DistanceAt(oracle, c.first, c.second, theta, z);
    CHECK(std::abs(geos.Distance(rings(c.first), rings(c.second)) - brute) < 1e-9);
    ++tally.poses;
  }
}

void CheckCase(const GapCase& c, Tally& tally, Dice& dice, const GapOptions& options = {}) {
  const LoopOracle oracle = c.Oracle();
  const BruteGap truth = c.Brute(oracle);
  const GapReport report = Bound(c, options);
  CAPTURE(truth.gap, truth.theta, truth.z, report.bound_mm.value_or(0.0), report.pieces,
          report.proven());
  CheckAgainstGeos(c, oracle, dice, tally);
  ++tally.cases;
  tally.pieces += report.pieces;
  tally.most_pieces = std::max(tally.most_pieces, report.pieces);
  if (truth.gap == 0.0) {
    CHECK_FALSE(report.bound_mm.has_value());
    CHECK_FALSE(report.proven());
    ++tally.overlapping;
  } else {
    CHECK(report.bound_mm.value_or(0.0) <= truth.gap + 1e-9);
    CHECK(report.bound_mm.value_or(0.0) >= truth.gap - options.tolerance_mm - 1e-5);
    CHECK(report.nearest->gap_mm >= truth.gap - 1e-5);
    if (truth.gap > 0.015) CHECK(report.proven());
    tally.highest = std::max(tally.highest, report.bound_mm.value_or(0.0) - truth.gap);
    tally.lowest = std::min(tally.lowest, report.bound_mm.value_or(0.0) - truth.gap);
    tally.near += truth.gap < 0.6;
    ++tally.clear;
  }
  CheckNearest(c, oracle, report);
}

TEST_CASE("the bound on prisms stands within the tolerance under the true least gap") {
  Dice dice(301);
  Tally tally;
  for (int k = 0; k < 280; ++k) {
    CAPTURE(k);
    CheckCase(RandomCase(dice, k, false, k % 5 == 4 ? 5.0 : RandomTarget(dice)), tally, dice);
  }
  INFO(tally.Text());
  CHECK(tally.cases == 280);
  CHECK(tally.clear > 200);
  CHECK(tally.near > 150);
}

TEST_CASE("the bound on ruled parts stands within the tolerance under the true least gap",
          "[slow]") {
  Dice dice(302);
  Tally tally;
  for (int k = 0; k < 120; ++k) {
    CAPTURE(k);
    CheckCase(RandomCase(dice, k, true, RandomTarget(dice)), tally, dice);
  }
  INFO(tally.Text());
  CHECK(tally.cases == 120);
  CHECK(tally.clear > 80);
  CHECK(tally.near > 60);
}

TEST_CASE("parts that come to overlap are not proven and have no gap") {
  Dice dice(303);
  Tally tally;
  for (int k = 0; k < 80; ++k) {
    CAPTURE(k);
    GapCase c = RandomCase(dice, k, k % 4 == 3, 0.02);
    if (k % 2 == 0) {  // push in by a little where they are nearest
      const LoopOracle oracle = c.Oracle();
      const GapReport report = Bound(c);
      const Placing to_second = oracle.Place(c.second.body, report.nearest->at).Inverse();
      const Vec2 u = to_second(report.nearest->on_first) - to_second(report.nearest->on_second);
      const double push = dice.Uniform(0.01, 0.5);
      c.second = Mapped(c.second, Affine::Similar(0, 1, u + push * u.normalized()));
    } else {  // anywhere over each other
      const LoopOracle oracle = c.Oracle();
      PutRandomParts(c, dice, oracle, k, k % 4 == 3);
    }
    CheckCase(c, tally, dice);
  }
  INFO(tally.Text());
  CHECK(tally.overlapping > 50);
}

TEST_CASE("shifting, turning and scaling a case does to its bound what it does to lengths") {
  Dice dice(304);
  int cases = 0;
  for (int k = 0; k < 60; ++k) {
    CAPTURE(k);
    const GapCase c = RandomCase(dice, k, k % 3 == 2, RandomTarget(dice));
    const double bound = Bound(c).bound_mm.value_or(0.0);
    for (const double scale : {1.0, 0.3, 4.0}) {
      const GapCase moved =
          Mapped(c, dice.Uniform(-3, 3), scale, RandomPoint(dice, -500, 500, -500, 500));
      GapOptions options;  // the same tolerance in the part's own size: the truth scales
      options.tolerance_mm *= scale;
      const double scaled = Bound(moved, options).bound_mm.value_or(0.0);
      CHECK(std::abs(scaled - scale * bound) < kGapTolerance_mm * scale + 1e-7);
      ++cases;
    }
    GapCase swapped = c;
    std::swap(swapped.first, swapped.second);
    CHECK(std::abs(Bound(swapped).bound_mm.value_or(0.0) - bound) < kGapTolerance_mm + 1e-7);
    GapCase flipped = c;  // mirrored in z: stations change ends
    for (Part* part : {&flipped.first, &flipped.second}) {
      std::swap(part->at_z_min, part->at_z_max);
      part->z_min_mm = -part->z_min_mm;
      part->z_max_mm = -part->z_max_mm;
      std::swap(part->z_min_mm, part->z_max_mm);
    }
    CHECK(std::abs(Bound(flipped).bound_mm.value_or(0.0) - bound) < kGapTolerance_mm + 1e-7);
  }
  CHECK(cases == 180);
}

Part Ruled(Body body, double z_min, double z_max, const Ring& low, const Ring& high) {
  Part part;
  part.name = "ruled";
  part.body = body;
  part.z_min_mm = z_min;
  part.z_max_mm = z_max;
  part.at_z_min = {low};
  part.at_z_max = {high};
  return part;
}

// The cases below are the smallest found of the corpus's failures.

TEST_CASE("parts are compared where their z intervals overlap, and nowhere else") {
  GapCase c;
  c.hinge = Vec2(-5, 0);
  c.to = 1.0;
  const auto block = [](double y) { return Rectangle(100, y, 120, y + 10); };
  // At z = 20 the lid's bottom is at 2 and the case's top at −4; ends alone would say 10.
  c.first = Ruled(Body::kLid, 0, 20, block(10), block(2));
  c.second = Ruled(Body::kCase, 0, 40, block(-10), block(-18));
  GapReport report = Bound(c);
  CHECK(report.bound_mm.value_or(0.0) <= 6.0);
  CHECK(report.bound_mm.value_or(0.0) > 5.99);
  CHECK(report.nearest->z_mm == Approx(20.0));
  // The case's block reaches the lid's height only beyond the lid's end.
  c.first = MakePrism("lid", Body::kLid, 0, 20, {block(10)});
  c.second = Ruled(Body::kCase, 0, 40, block(-20), block(5));
  report = Bound(c);
  CHECK(report.bound_mm.value_or(0.0) <= 7.5);
  CHECK(report.bound_mm.value_or(0.0) > 7.49);
  CHECK(report.proven());
}

TEST_CASE("a part twisted between its stations keeps its gap") {
  GapCase c;
  c.pivots = {Vec2(29.1640995, -85.8615321), Vec2(12.4475271, -79.3256999),
              Vec2(128.033977, 11.7481851), Vec2(17.910569, 3.02634224)};
  c.to = 95 * kRadPerDeg;
  c.first = Ruled(Body::kArmA, 0, 20, {{88, -17}, {104, -79}, {143, -72}},
                  {{86, -17}, {107, -77}, {152, -69}});
  c.second = MakePrism("case", Body::kCase, 0, 20, {{{27, -27}, {34, -27}, {36, -23}}});
  const GapReport report = Bound(c);
  CHECK(c.Brute(c.Oracle()).gap == Approx(10.94433).margin(1e-5));
  CHECK(report.bound_mm.value_or(0.0) > 10.934);
  CHECK(report.bound_mm.value_or(0.0) <= 10.944331);
  CHECK(report.proven());
}

// How far a bar's ends sweep between its stations must not decide whether a gap is proven.
TEST_CASE("a bar that twists between its stations keeps a wide gap however far its ends sweep") {
  const Ring above = {{100, 31}, {102, 34}, {98, 34}};
  for (const double half : {20.0, 40.0, 80.0}) {
    for (const double twist : {0.02, 0.1, 0.3, 0.8}) {
      const auto bar = [&](double angle) {
        return Mapped(Rectangle(-half, -2, half, 2), Affine::Similar(angle, 1.0, Vec2(100, 0)));
      };
      GapCase c;
      c.hinge = Vec2(-5, 0);
      c.to = 0.01;
      c.first = Ruled(Body::kCase, 0, 20, bar(-twist / 2), bar(twist / 2));
      c.second = MakePrism("lid", Body::kLid, 0, 20, {above});
      const double truth = c.Brute(c.Oracle()).gap;
      const GapReport report = Bound(c);
      CAPTURE(half, twist, truth, report.bound_mm.value_or(0.0));
      if (truth == 0.0) continue;
      CHECK(report.proven());
      CHECK(report.bound_mm.value_or(0.0) >= truth - kGapTolerance_mm - 1e-5);
      CHECK(report.bound_mm.value_or(0.0) <= truth + 1e-9);
    }
  }
}

TEST_CASE("a block in the way is an overlap wherever it stands") {
  int blocks = 0;
  for (double x = 20; x < 130; x += 10) {
    for (double y = 20; y < 130; y += 10) {
      GapCase c;
      c.hinge = Vec2(0, 0);
      c.to = 1.5;
      c.first = MakePrism("lid", Body::kLid, 0, 20, {Rectangle(100, 0, 120, 10)});
      c.second = MakePrism("case", Body::kCase, 0, 20, {Rectangle(x, y, x + 11, y + 11)});
      if (c.Brute(c.Oracle()).gap > 0.0) continue;
      CAPTURE(x, y);
      const GapReport report = Bound(c);
      CHECK_FALSE(report.bound_mm.has_value());
      CHECK_FALSE(report.proven());
      ++blocks;
    }
  }
  CHECK(blocks > 15);
}

}  // namespace
}  // namespace lidwright
