// SPDX-License-Identifier: Apache-2.0
#include "lidwright/cutting/cut_part.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "samples.h"

namespace lidwright {
namespace {

using testing::SampleArm;
using testing::SamplePlate;
using testing::Samples;

const Outline kSquare = {{{{0, 0}, 0}, {{40, 0}, 0}, {{40, 40}, 0}, {{0, 40}, 0}}};

std::string Fault(const CutPart& part) {
  return FaultOf(part).value_or("");
}

TEST_CASE("every sample part can be cut, moved and mirrored as well") {
  std::size_t read = 0;
  for (const auto& sample : Samples()) {
    for (const CutPart& part : sample.parts) {
      CAPTURE(part.name);
      CHECK(Fault(part) == "");
      CutPart mirrored = part;
      mirrored.outline = Mirrored(part.outline);
      for (Circle& hole : mirrored.holes) hole.centre.x() *= -1;
      for (Circle& mark : mirrored.drill_marks) mark.centre.x() *= -1;
      CHECK(Fault(mirrored) == "");
      ++read;
    }
  }
  REQUIRE(read >= 30);
}

TEST_CASE("a part that cannot be cut says why and where") {
  CHECK(Fault({"p", {}, {}, {}}) == "the outline needs at least two points");
  CHECK(Fault({"p", {{{{0, 0}, 0}, {{9, 0}, 0}}}, {}, {}}) ==
        "an outline needs at least three points");
  CHECK(Fault({"p", {{{{0, 0}, 0}, {{9, 0}, NAN}, {{0, 9}, 0}}}, {}, {}}) ==
        "the outline has a number that is not finite");
  CHECK(Fault({"p", {{{{0, 0}, 0}, {{9, 0}, 0}, {{9, 1e-8}, 0.5}, {{0, 9}, 0}}}, {}, {}}) ==
        "the outline gives the point (9, 0) twice in a row");
  CHECK(Fault({"p", {{{{0, 0}, 0}, {{0, 9}, 0}, {{9, 0}, 0}}}, {}, {}}) ==
        "the outline runs clockwise");
  CHECK(Fault({"p", {{{{0, 0}, 0}, {{9, 9}, 0}, {{9, 0}, 0}, {{0, 9}, 0}}}, {}, {}}) ==
        "the edge from (0, 0) crosses or touches the edge from (9, 0) at (4.5, 4.5)");
  CHECK(Fault({"p", kSquare, {{{20, 20}, 0}}, {}}) ==
        "hole 1 at (20, 20) has a radius that is not positive");
  CHECK(Fault({"p", kSquare, {{{20, NAN}, 1}}, {}}) ==
        "hole 1 at (20, -) has a number that is not finite");
  CHECK(Fault({"p", kSquare, {{{20, 20}, 1}, {{38, 20}, 2.5}}, {}}) ==
        "hole 2 at (38, 20) is not within the outline");
  CHECK(Fault({"p", kSquare, {{{60, 20}, 1}}, {}}) ==
        "hole 1 at (60, 20) is not within the outline");
  CHECK(Fault({"p", kSquare, {{{20, 20}, 5}}, {{{24, 20}, 1}}}) ==
        "drill mark 1 at (24, 20) overlaps hole 1 at (20, 20)");
  CHECK(Fault({"p", kSquare, {{{20, 20}, 3}}, {{{24, 20}, 1}}}) == "");
}

TEST_CASE("an arc that bulges across another edge is a fault though its chords' ends are not") {
  // The top edge sags by 45 mm on a chord of 40 mm: through the bottom edge.
  Outline sagging = kSquare;
  sagging.vertices[2].bulge = -2.25;
  CHECK(Fault({"p", sagging, {}, {}}).find("crosses or touches") != std::string::npos);
}

TEST_CASE("bounds hold every point of the arcs and are touched on all four sides") {
  std::size_t read = 0;
  for (const auto& sample : Samples()) {
    Rect2 truth;
    for (const CutPart& part : sample.parts) {
      for (const Vec2& p : testing::HalvedRing(part.outline, 14)) truth.Add(p);
    }
    const Rect2 box = Bounds(sample.parts);
    CHECK((box.low.array() <= truth.low.array() + 1e-9).all());
    CHECK((box.high.array() >= truth.high.array() - 1e-9).all());
    CHECK((box.low - truth.low).norm() < 1e-6);
    CHECK((box.high - truth.high).norm() < 1e-6);
    ++read;
  }
  REQUIRE(read >= 25);
  CHECK(Bounds(std::vector<CutPart>{}).Empty());
}

TEST_CASE("the bounds of a turned washer stay those of its circle") {
  for (int i = 0; i < 100; ++i) {
    const Pose pose = Pose::About({3, 4}, 0.0628 * i);
    const Rect2 box = Bounds({{"washer", Moved(AsOutline({{3, 4}, 10}), pose), {}, {}}});
    CHECK((box.low - Vec2(-7, -6)).norm() < 1e-12);
    CHECK((box.high - Vec2(13, 14)).norm() < 1e-12);
  }
}

}  // namespace
}  // namespace lidwright
