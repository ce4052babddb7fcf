// SPDX-License-Identifier: Apache-2.0
#include "lidwright/geometry/outline.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "lidwright/base/check.h"
#include "lidwright/base/units.h"
#include "lidwright/geometry/ring.h"
#include "random_outline.h"

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace lidwright {
namespace {

using testing::Dice;
using testing::HalvedRing;
using testing::RandomOutline;

// A slot `length` between centres with ends of `radius`: area and length are closed forms.
Outline Slot(double length, double radius) {
  return {{{{0, -radius}, 0}, {{length, -radius}, 1}, {{length, radius}, 0}, {{0, radius}, 1}}};
}

// A quarter of an annulus, the inner arc clockwise.
Outline QuarterRing(double inner, double outer) {
  const double b = std::tan(kPi / 8);
  return {{{{inner, 0}, 0}, {{outer, 0}, b}, {{0, outer}, 0}, {{0, inner}, -b}}};
}

std::vector<Outline> Corpus() {
  Dice dice(20240611);
  std::vector<Outline> corpus = {Slot(40, 5),
                                 QuarterRing(10, 25),
                                 AsOutline({{3, -2}, 7}),
                                 // three quarters of a disc, and the same arc from inside
                                 {{{{10, 0}, std::tan(3 * kPi / 8)}, {{0, -10}, 0}, {{0, 0}, 0}}},
                                 {{{{-30, -30}, 0},
                                   {{30, -30}, 0},
                                   {{30, 30}, 0},
                                   {{5, 30}, -1.8},
                                   {{-5, 30}, 0},
                                   {{-30, 30}, 0}}}};
  for (int i = 0; i < 60; ++i) {
    corpus.push_back(RandomOutline(dice, {dice.Uniform(-200, 200), dice.Uniform(-200, 200)}));
  }
  return corpus;
}

double DistanceToRing(const Ring& ring, const Vec2& p) {
  double best = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < ring.size(); ++i) {
    best = std::min(best, (p - NearestOnSegment(p, ring[i], ring[(i + 1) % ring.size()])).norm());
  }
  return best;
}

TEST_CASE("bulges are those of the DXF reference") {
  // 90° → 0.414214 and 180° → 1 stand in the DXF reference, "bulge"; the others are derived.
  const double table[][2] = {{5, 0.0218200776},   {15, 0.0655434628},  {30, 0.1316524976},
                             {45, 0.1989123674},  {60, 0.2679491924},  {90, 0.4142135624},
                             {120, 0.5773502692}, {135, 0.6681786379}, {180, 1},
                             {270, 2.4142135624}};
  for (const auto& [degrees, bulge] : table) {
    CHECK_THAT(BulgeOf(degrees * kRadPerDeg), WithinAbs(bulge, 5e-11));
    CHECK_THAT(BulgeOf(-degrees * kRadPerDeg), WithinAbs(-bulge, 5e-11));
    CHECK_THAT(ArcOf({1, 2}, {4, 6}, bulge).sweep_rad, WithinAbs(degrees * kRadPerDeg, 1e-9));
  }
}

TEST_CASE("an arc on a chord of 10 has the radius and rise of the worked example") {
  // Derived from the DXF reference's bulge = tan(angle / 4): chord 10, b = 0.4142135624 → r
  // = 7.0710678119, rise 2.0710678119.
  const Arc arc = ArcOf({0, 0}, {10, 0}, std::tan(kPi / 8));
  CHECK_THAT(arc.radius_mm, WithinAbs(7.0710678119, 5e-11));
  CHECK_THAT(arc.centre.x(), WithinAbs(5, 1e-12));
  CHECK_THAT(arc.centre.y(), WithinAbs(5, 1e-12));  // left of a→b for a counter-clockwise arc
  CHECK_THAT(arc.radius_mm - arc.centre.y(), WithinAbs(2.0710678119, 5e-11));
  CHECK_THAT(ArcOf({0, 0}, {10, 0}, -std::tan(kPi / 8)).centre.y(), WithinAbs(-5, 1e-12));
}

TEST_CASE("an arc starts at a, ends at b and passes the sagitta's point") {
  Dice dice(7);
  for (int i = 0; i < 2000; ++i) {
    const Vec2 a(dice.Uniform(-99, 99), dice.Uniform(-99, 99));
    const Vec2 b = a + Vec2(dice.Uniform(1, 50), dice.Uniform(-50, 50));
    const double bulge = dice.Uniform(0.01, 5.0) * (i % 2 ? 1 : -1);
    const Arc arc = ArcOf(a, b, bulge);
    const auto at = [&](double t) -> Vec2 {
      const double angle = arc.start_rad + t * arc.sweep_rad;
      return arc.centre + arc.radius_mm * Vec2(std::cos(angle), std::sin(angle));
    };
    Ring halves;
    testing::HalveArc(a, b, bulge, 1, halves);
    REQUIRE((at(0) - a).norm() < 1e-9);
    REQUIRE((at(1) - b).norm() < 1e-9);
    REQUIRE((at(0.5) - halves[1]).norm() < 1e-9);
  }
}

TEST_CASE("an arc without bulge or without chord breaks the contract") {
  CHECK_THROWS_AS(ArcOf({0, 0}, {1, 0}, 0.0), ContractError);
  CHECK_THROWS_AS(ArcOf({1, 1}, {1, 1}, 0.5), ContractError);
  CHECK_THROWS_AS(Flatten(Slot(1, 1), 0.0), ContractError);
}

TEST_CASE("areas and lengths are the closed forms") {
  CHECK_THAT(SignedArea(Slot(40, 5)), WithinRel(40 * 10 + kPi * 25, 1e-14));
  CHECK_THAT(Length(Slot(40, 5)), WithinRel(80 + 10 * kPi, 1e-14));
  CHECK_THAT(SignedArea(QuarterRing(10, 25)), WithinRel(kPi / 4 * (625 - 100), 1e-14));
  CHECK_THAT(Length(QuarterRing(10, 25)), WithinRel(30 + kPi / 2 * 35, 1e-14));
  CHECK_THAT(SignedArea(AsOutline({{3, -2}, 7})), WithinRel(49 * kPi, 1e-14));
  CHECK_THAT(Length(AsOutline({{3, -2}, 7})), WithinRel(14 * kPi, 1e-14));
  // Three quarters of a disc of radius 10.
  const Outline most = {{{{10, 0}, std::tan(3 * kPi / 8)}, {{0, -10}, 0}, {{0, 0}, 0}}};
  CHECK_THAT(SignedArea(most), WithinRel(75 * kPi, 1e-13));
  CHECK_THAT(Length(most), WithinRel(20 + 15 * kPi, 1e-13));
}

TEST_CASE("areas and lengths are those of a polygon of very many chords") {
  std::size_t read = 0;
  for (const Outline& outline : Corpus()) {
    const Ring chords = HalvedRing(outline, 12);
    double length = 0.0;
    for (std::size_t i = 0; i < chords.size(); ++i) {
      length += (chords[(i + 1) % chords.size()] - chords[i]).norm();
    }
    // With 4096 chords an arc of any sweep here lacks (sweep / 4096)² / 24 < 1e-6 of its length.
    CHECK_THAT(SignedArea(outline), WithinRel(SignedArea(chords), 1e-6));
    CHECK_THAT(Length(outline), WithinRel(length, 1e-7));
    CHECK(SignedArea(outline) > 0.0);
    ++read;
  }
  REQUIRE(read == 65);
}

TEST_CASE("an almost straight arc has the area and the chords of an almost straight arc") {
  // Areas to first order: c² b / 3 for one arc; ever flatter arcs must not lose it to rounding.
  for (double bulge = 1e-2; bulge > 1e-17; bulge /= 10) {
    CAPTURE(bulge);
    const double rise_mm = bulge * 100 / 2;
    for (const double sign : {1.0, -1.0}) {
      const Outline outline = {
          {{{0, 0}, sign * bulge}, {{100, 0}, 0}, {{100, 50}, 0}, {{0, 50}, 0}}};
      const double segment = 1e4 * (bulge / 3 + std::pow(bulge, 3) / 15 - std::pow(bulge, 5) / 105);
      CHECK_THAT(SignedArea(outline), WithinAbs(5000 + sign * segment, 1e-10));
      CHECK_THAT(Length(outline), WithinRel(300 + 8.0 / 3.0 * rise_mm * rise_mm / 100, 1e-6));
      for (const Chords chords : {Chords::kInside, Chords::kOutside}) {
        const Ring ring = Flatten(outline, 1e-3, chords);
        REQUIRE(ring.size() < 60);
        for (const Vec2& p : ring) {
          REQUIRE(p.allFinite());
          REQUIRE(p.y() > -rise_mm * (sign > 0 ? 1.0 : 0.0) - 1e-3 - 1e-12);
        }
        CHECK(std::abs(SignedArea(ring) - SignedArea(outline)) < 0.11);  // 1e-3 mm along 100 mm
      }
    }
  }
}

TEST_CASE("chords keep within the stated error and on the stated side") {
  std::size_t read = 0;
  for (const Outline& outline : Corpus()) {
    const Ring truth = HalvedRing(outline, 12);
    for (const double error_mm : {0.5, 0.02, 0.001}) {
      const Ring inside = Flatten(outline, error_mm);
      const Ring outside = Flatten(outline, error_mm, Chords::kOutside);
      double worst_in = 0.0, worst_out = 0.0;
      for (std::size_t i = 0; i < truth.size(); i += 3) {
        worst_in = std::max(worst_in, DistanceToRing(inside, truth[i]));
        worst_out = std::max(worst_out, DistanceToRing(outside, truth[i]));
        // The outside polygon contains every point of the outline.
        REQUIRE(SignedDistance({outside}, truth[i]) < 1e-9);
      }
      CHECK(worst_in <= error_mm + 1e-9);
      CHECK(worst_out <= error_mm + 1e-9);
      for (const Vec2& p : outside) REQUIRE(DistanceToRing(truth, p) <= error_mm + 1e-5);
      for (const Vec2& p : inside) REQUIRE(DistanceToRing(truth, p) <= 1e-5);
      CHECK(SignedArea(outside) >= SignedArea(outline) - 1e-9);
      ++read;
    }
  }
  REQUIRE(read == 195);
}

TEST_CASE("no more chords are spent than the error asks for") {
  // Each chord of a circle of radius r may turn by 2 acos(1 - e/r): the fewest that do.
  const double r = 30, e = 0.02;
  const double fewest = std::ceil(kPi / std::acos(1 - e / r));
  CHECK(static_cast<double>(Flatten(Circle{{0, 0}, r}, e).size()) <= fewest + 2);
}

TEST_CASE("moving keeps area, length and inside radius, mirroring too, and twice is nothing") {
  std::size_t read = 0;
  for (const Outline& outline : Corpus()) {
    const Outline moved = Moved(outline, Pose::Make(1.234 + static_cast<double>(read), {17, -400}));
    const Outline mirrored = Mirrored(outline);
    for (const Outline& other : {moved, mirrored}) {
      CHECK_THAT(SignedArea(other), WithinRel(SignedArea(outline), 1e-11));
      CHECK_THAT(Length(other), WithinRel(Length(outline), 1e-12));
      const double radius = SmallestInsideRadius(outline);
      if (std::isinf(radius)) {
        CHECK(std::isinf(SmallestInsideRadius(other)));
      } else {
        CHECK_THAT(SmallestInsideRadius(other), WithinAbs(radius, 1e-9));
      }
    }
    // The mirror image is the same curve with x turned over, arcs included.
    const Ring truth = HalvedRing(outline, 6), image = HalvedRing(mirrored, 6);
    REQUIRE(truth.size() == image.size());
    for (const Vec2& p : truth) REQUIRE(DistanceToRing(image, {-p.x(), p.y()}) < 1e-9);
    const Outline twice = Mirrored(mirrored);
    REQUIRE(twice.vertices.size() == outline.vertices.size());
    for (std::size_t i = 0; i < outline.vertices.size(); ++i) {
      CHECK(twice.vertices[i].point == outline.vertices[i].point);
      CHECK(twice.vertices[i].bulge == outline.vertices[i].bulge);
    }
    ++read;
  }
  REQUIRE(read == 65);
}

TEST_CASE("the smallest inside radius is that of the tightest clockwise arc") {
  CHECK(std::isinf(SmallestInsideRadius(Slot(40, 5))));
  CHECK(std::isinf(SmallestInsideRadius(AsOutline({{0, 0}, 3}))));
  CHECK_THAT(SmallestInsideRadius(QuarterRing(10, 25)), WithinRel(10, 1e-12));
  // An L with a sharp inside corner, then with that corner rounded by 4.
  const Outline sharp = {
      {{{0, 0}, 0}, {{40, 0}, 0}, {{40, 10}, 0}, {{10, 10}, 0}, {{10, 40}, 0}, {{0, 40}, 0}}};
  CHECK(SmallestInsideRadius(sharp) == 0.0);
  const double b = -std::tan(kPi / 8);
  const Outline round = {{{{0, 0}, 0},
                          {{40, 0}, 0},
                          {{40, 10}, 0},
                          {{14, 10}, b},
                          {{10, 14}, 0},
                          {{10, 40}, 0},
                          {{0, 40}, 0}}};
  CHECK_THAT(SmallestInsideRadius(round), WithinRel(4, 1e-12));
  // A vertex in the middle of a straight edge is not a corner, nor is a turn of half a millionth.
  const Outline split = {
      {{{0, 0}, 0}, {{10, 0}, 0}, {{20, 5e-6}, 0}, {{30, 5e-6}, 0}, {{15, 20}, 0}}};
  CHECK(std::isinf(SmallestInsideRadius(split)));
  // Two outward arcs that meet in a notch: arcs alone would say "no inside curve".
  const Outline heart = {{{{-10, 0}, 0}, {{0, -20}, 0}, {{10, 0}, 1}, {{0, 0}, 1}}};
  CHECK(SmallestInsideRadius(heart) == 0.0);
}

}  // namespace
}  // namespace lidwright
