// SPDX-License-Identifier: Apache-2.0
#include <catch2/catch.hpp>
#include <cmath>

#include "../geometry/random_outline.h"
#include "cutting/edges.h"
#include "geos_shape.h"
#include "lidwright/cutting/cut_piece.h"
#include "lidwright/cutting/cutter_check.h"
#include "lidwright/cutting/cutter_path.h"
#include "made_up_pieces.h"
#include "samples.h"

namespace lidwright {
namespace {

using testing::GeosShape;

// A comb: two slots of 4 and 2.5 mm with round ends, all inside curves of the slots' half width.
Outline Comb(double a, double b) {
  const auto slot = [](std::vector<OutlineVertex>& v, double x, double width) {
    v.push_back({{x + width, 30}, 0});
    v.push_back({{x + width, 10}, -1.0});  // half a turn clockwise, going down and to the left
    v.push_back({{x, 10}, 0});
    v.push_back({{x, 30}, 0});
  };
  Outline comb;
  comb.vertices = {{{0, 0}, 0}, {{60, 0}, 0}, {{60, 30}, 0}};
  slot(comb.vertices, 36, a);
  slot(comb.vertices, 15, b);
  comb.vertices.push_back({{0, 30}, 0});
  return comb;
}

std::string Whats(const std::vector<CutFault>& faults) {
  std::string text;
  for (const CutFault& fault : faults) text += (text.empty() ? "" : "\n") + fault.what;
  return text;
}

TEST_CASE("what a cutter cannot cut is named with its place, its size and what would fit") {
  const CutPart comb{"comb", Comb(4.0, 2.5), {}, {}};
  CHECK(Whats(FaultsFor(comb, {2.5, 1.0, false})) == "");
  CHECK(
      Whats(FaultsFor(comb, {3.0, 1.0, false})) ==
      "comb: inside curve of radius 1.25 mm at (16.2, 8.8), a cutter of 3 mm leaves 1.5 mm; a "
      "cutter of 2.5 mm or less fits\n"
      "comb: slot of 2.5 mm at (16.2, 30) is narrower than the cutter of 3 mm; a cutter of 2.5 mm "
      "or less fits");
  const CutPart angle{
      "angle",
      {{{{0, 0}, 0}, {{30, 0}, 0}, {{30, 10}, 0}, {{10, 10}, 0}, {{10, 30}, 0}, {{0, 30}, 0}}},
      {{{5, 5}, 4.4}, {{20, 5}, 2}},
      {{{25, 5}, 2.5}}};
  CHECK(Whats(FaultsFor(angle, {0.0, 0.5, false})) ==
        "");  // a laser; the web of 0.5 mm is just enough
  CHECK(Whats(FaultsFor(angle, {3.0, 1.0, false})) ==
        "angle: sharp inside corner at (10, 10), a cutter of 3 mm leaves 1.5 mm; a saw or laser "
        "fits\n"
        "angle: web of 0.6 mm between the hole at (5, 5) and the edge, at least 1 mm should stay; "
        "holes smaller by 0.8 mm on the diameter or as much more room around would fit\n"
        "angle: web of 0.5 mm between the holes at (20, 5) and (25, 5), at least 1 mm should stay; "
        "holes smaller by 1 mm on the diameter or as much more room around would fit");
  // Two lobes joined by a neck of 0.8 mm between concave arcs.
  const Outline waist{{{{-20, -9.6}, 0},
                       {{-9.2, -9.6}, -1.0},
                       {{9.2, -9.6}, 0},
                       {{20, -9.6}, 0},
                       {{20, 9.6}, 0},
                       {{9.2, 9.6}, -1.0},
                       {{-9.2, 9.6}, 0},
                       {{-20, 9.6}, 0}}};
  const std::vector<CutFault> neck = FaultsFor({"waist", waist, {}, {}}, {3.0, 1.0, false});
  REQUIRE(neck.size() == 1);
  CHECK(neck[0].kind == CutFaultKind::kNeck);
  CHECK(std::abs(neck[0].found_mm - 0.8) < 0.011);
  CHECK(neck[0].at.norm() < 0.5);
}

// Closing by a disc (GEOS: grow, then shrink) fills what a cutter of that radius cannot reach.
bool GeosReaches(const Outline& outline, double radius) {
  const GeosShape shape(Flatten(outline, 2e-4));
  return shape.ClosedArea(radius) - shape.Area() < 2e-3 * radius;
}

TEST_CASE("a part has no fault for the cutter just when GEOS' closing fills nothing of it") {
  testing::Dice dice(11);
  int good = 0, bad = 0;
  const auto judge = [&](const Outline& outline, double radius) {
    const bool ours = FaultsFor({"part", outline, {}, {}}, {2.0 * radius, 0.0, false}).empty();
    CAPTURE(radius, SmallestInsideRadius(outline));
    CHECK(ours == GeosReaches(outline, radius));
    ++(ours ? good : bad);
  };
  for (int i = 0; i < 40; ++i) {
    const double a = dice.Uniform(1.0, 9.0), b = dice.Uniform(1.0, 9.0);
    const double radius = dice.Uniform(0.4, 4.0);
    // Not within the chords' error of the decision.
    if (std::abs(std::min(a, b) / 2.0 - radius) > 0.05) judge(Comb(a, b), radius);
  }
  for (int i = 0; i < 60; ++i) {  // stars with rounded corners, deep enough to tell
    Ring star;
    const int n = 2 * dice.Whole(3, 4);
    for (int k = 0; k < n; ++k) {
      const double angle = 2.0 * kPi * (k + dice.Uniform(-0.1, 0.1)) / n;
      const double reach = k % 2 == 0 ? dice.Uniform(28.0, 34.0) : dice.Uniform(6.0, 8.0);
      star.push_back(reach * Vec2(std::cos(angle), std::sin(angle)));
    }
    const double rounding = dice.Uniform(1.0, 3.0), radius = dice.Uniform(0.3, 5.0);
    if (std::abs(rounding - radius) > 0.6) judge(testing::RoundedOutline(star, rounding), radius);
  }
  CHECK(good >= 10);
  CHECK(bad >= 10);
}

TEST_CASE("an offset outline has the area and the length of Steiner's formula, and GEOS' area") {
  std::size_t offset = 0;
  const auto check = [&](const Outline& outline, double r) {
    const std::optional<Outline> out = OffsetOutward(outline, r);
    if (!out) return;
    CHECK(SignedArea(*out) ==
          Approx(SignedArea(outline) + Length(outline) * r + kPi * r * r).epsilon(1e-9));
    CHECK(Length(*out) == Approx(Length(outline) + 2.0 * kPi * r).epsilon(1e-9));
    // GEOS sees chords within 1e-4 mm.
    CHECK(std::abs(SignedArea(*out) - GeosShape(Flatten(outline, 1e-4)).BufferArea(r)) <
          1.1e-4 * Length(*out));
    CHECK(FaultOf(CutPart{"path", *out, {}, {}}).value_or("") == "");
    ++offset;
  };
  for (const auto& sample : testing::Samples()) {
    for (const CutPart& part : sample.parts) {
      for (const double r : {0.05, 1.5, 3.0}) check(part.outline, r);
    }
  }
  for (const double r : {0.5, 1.0, 1.249}) check(Comb(4.0, 2.5), r);  // the slot all but closes
  CHECK(offset >= 40);
}

TEST_CASE("no path where the cutter does not fit") {
  CHECK(OffsetOutward(Comb(4.0, 2.5), 1.2));
  CHECK(!OffsetOutward(Comb(4.0, 2.5), 1.3));
  std::vector<CutFault> faults;
  CHECK(!CutterPath({"comb", Comb(4.0, 2.5), {}, {}}, {3.0, 0, 4.0, 0.5}, false, &faults));
  CHECK(faults.size() == 2);
  // A slot just as wide as the cutter can be cut, but its path would not be one outline.
  faults.clear();
  CHECK(FaultsFor({"comb", Comb(4.0, 2.5), {}, {}}, {2.5, 1.0, false}).empty());
  CHECK(!CutterPath({"comb", Comb(4.0, 2.5), {}, {}}, {2.5, 0, 4.0, 0.5}, false, &faults));
  CHECK(Whats(faults) ==
        "comb: a slot is just as wide as the cutter of 2.5 mm, its two sides would be one path; a "
        "thinner cutter fits");
}

TEST_CASE("holes shrink by half the cutter, too small ones go to the drill") {
  const Outline square{{{{0, 0}, 0}, {{40, 0}, 0}, {{40, 40}, 0}, {{0, 40}, 0}}};
  const CutPart part{"plate", square, {{{10, 10}, 5}, {{30, 30}, 1.6}}, {{{30, 10}, 1}}};
  std::vector<CutFault> faults;
  const std::optional<CutPart> path = CutterPath(part, {3.0, 0, 4.0, 0.5}, false, &faults);
  REQUIRE(path);
  REQUIRE(path->holes.size() == 1);
  CHECK(path->holes[0].radius_mm == 3.5);
  REQUIRE(path->drill_marks.size() == 2);
  CHECK(path->drill_marks[0].centre == Vec2(30, 30));
  const CutPart drilled = SmallHolesDrilled(part, 3.2);
  CHECK(drilled.holes.size() == 1);
  CHECK(drilled.drill_marks.size() == 2);
  CHECK(SmallHolesDrilled(part, 3.1).holes.size() == 2);
  CHECK(SmallHolesDrilled(part, 0.0).holes.size() == 2);
}

TEST_CASE("tabs leave what they should, where the outline is, and no run is empty") {
  std::size_t cut = 0;
  for (const auto& sample : testing::Samples()) {
    for (const CutPart& part : sample.parts) {
      for (const int tabs : {1, 2, 4}) {
        std::vector<CutFault> faults;
        const auto path = CutterPath(part, {0.4, tabs, 2.0, 0.5}, false, &faults);
        if (!path) continue;
        INFO(part.name << " " << tabs);
        REQUIRE(path->tabs.size() == static_cast<std::size_t>(tabs));
        CHECK(!FaultOf(*path));
        const std::vector<OpenRun> runs = RunsBetweenTabs(*path);
        REQUIRE(runs.size() == static_cast<std::size_t>(tabs));
        double length = 0.0;
        const std::vector<Ring> ring{Flatten(path->outline, 1e-4)};
        for (const OpenRun& run : runs) {
          REQUIRE(run.size() >= 2);
          for (std::size_t i = 0; i + 1 < run.size(); ++i) {
            length += Length(Edge{run[i].point, run[i + 1].point, run[i].bulge});
            CHECK(std::abs(SignedDistance(ring, run[i].point)) < 2e-4);
          }
        }
        CHECK(length == Approx(Length(path->outline) - tabs * 2.4).epsilon(1e-9));
        ++cut;
      }
    }
  }
  CHECK(cut >= 30);
}

}  // namespace
}  // namespace lidwright
