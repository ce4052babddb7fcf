// SPDX-License-Identifier: Apache-2.0
#include "lidwright/cutting/svg.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <sstream>

#include "samples.h"

namespace lidwright {
namespace {

using Catch::Matchers::WithinAbs;
using testing::Samples;

// The text of the only path in a group.
std::string PathOf(const std::string& svg, const std::string& group) {
  const std::size_t from = svg.find(" d=\"", svg.find("id=\"" + group + "\"")) + 4;
  REQUIRE(from > 4);
  return svg.substr(from, svg.find('"', from) - from);
}

TEST_CASE("a slot's page, groups and path are these and nothing else") {
  const CutPart slot = {"slot",
                        {{{{0, -5}, 0}, {{40, -5}, 1}, {{40, 5}, 0}, {{0, 5}, 1}}},
                        {{{0, 1}, 2.5}},
                        {{{40, -1}, 2}}};
  CHECK(
      WriteCutSvg({slot}) ==
      "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"54mm\" height=\"14mm\" "
      "viewBox=\"0 0 54 14\">\n"
      "<g id=\"drill\" fill=\"none\" stroke=\"#0000ff\" stroke-width=\"0.025\">\n"
      "<path d=\"M 46 8 L 48 8 M 47 9 L 47 7\"/>\n"
      "</g>\n"
      "<g id=\"holes\" fill=\"none\" stroke=\"#ff0000\" stroke-width=\"0.025\">\n"
      "<circle cx=\"7\" cy=\"6\" r=\"2.5\"/>\n"
      "</g>\n"
      "<g id=\"outline\" fill=\"none\" stroke=\"#000000\" stroke-width=\"0.025\">\n"
      "<path d=\"M 7 12 L 47 12 A 5 5 0 0 0 52 7 A 5 5 0 0 0 47 2 L 7 2 A 5 5 0 0 0 2 7 A 5 5 0 0 "
      "0 7 12 Z\"/>\n"
      "</g>\n"
      "</svg>\n");
}

TEST_CASE("turning y over turns the sweep flag: out of the solid 0, into it 1") {
  // SVG 1.1, 8.3.8, the elliptical arc: sweep 1 is clockwise on the screen; the model's
  // counter-clockwise arcs must stay counter-clockwise to the eye.
  const double b = std::tan(kPi / 8);
  const Outline out = {{{{0, 0}, 0}, {{20, 0}, b}, {{20, 20}, 0}, {{0, 20}, 0}}};
  Outline in = out;
  in.vertices[1].bulge = -b;
  // Bulging out it reaches x = 20 + 10 (√2 - 1), so the page is wider; the corners are the same.
  CHECK(PathOf(WriteCutSvg({{"out", out, {}, {}}}), "outline") ==
        "M 2 22 L 22 22 A 14.142135624 14.142135624 0 0 0 22 2 L 2 2 Z");
  CHECK(PathOf(WriteCutSvg({{"in", in, {}, {}}}), "outline") ==
        "M 2 22 L 22 22 A 14.142135624 14.142135624 0 0 1 22 2 L 2 2 Z");
}

TEST_CASE("an arc is written in pieces of a third of a turn at most, all on its circle") {
  // A disc of radius 10 with a piece of 60° sliced off: 300° in three pieces of 100°.
  const double b = std::tan(300 * kRadPerDeg / 4);
  const Vec2 a(10 * std::cos(30 * kRadPerDeg), 5.0);
  const Outline disc = {{{a, b}, {{a.x(), -5.0}, 0}}};
  std::istringstream path(PathOf(WriteCutSvg({{"disc", disc, {}, {}}}), "outline"));
  std::string letter;
  Vec2 from, to;
  path >> letter >> from.x() >> from.y();
  REQUIRE(letter == "M");
  const Vec2 centre = from + Vec2(-a.x(), 5.0);  // of the disc, on the page
  int arcs = 0;
  while (path >> letter && letter == "A") {
    double rx, ry, turned;
    int large, sweep;
    path >> rx >> ry >> turned >> large >> sweep >> to.x() >> to.y();
    CHECK(large == 0);
    CHECK(sweep == 0);
    CHECK_THAT(rx, WithinAbs(10, 1e-9));
    CHECK(ry == rx);
    CHECK_THAT((to - centre).norm(), WithinAbs(10, 2e-9));
    CHECK_THAT((to - from).norm(), WithinAbs(20 * std::sin(50 * kRadPerDeg), 3e-9));  // 100° each
    // Counter-clockwise to the eye is a negative turn where y runs down.
    CHECK(Cross(Vec2(from - centre), Vec2(to - centre)) < 0.0);
    from = to;
    ++arcs;
  }
  CHECK(arcs == 3);
  CHECK(letter == "Z");
}

TEST_CASE("a drawing does not depend on where the parts lie") {
  std::size_t read = 0;
  for (const auto& sample : Samples()) {
    std::vector<CutPart> shifted = sample.parts;
    for (CutPart& part : shifted) {
      const Vec2 shift(512, -256);
      part.outline = Moved(part.outline, Pose::Make(0.0, shift));
      for (Circle& hole : part.holes) hole.centre += shift;
      for (Circle& mark : part.drill_marks) mark.centre += shift;
    }
    CHECK(WriteCutSvg(shifted) == WriteCutSvg(sample.parts));
    ++read;
  }
  REQUIRE(read >= 25);
}

TEST_CASE("holes come before outlines and a group without elements is left out") {
  for (const auto& sample : Samples()) {
    const std::string text = WriteCutSvg(sample.parts);
    std::size_t holes = 0, marks = 0;
    for (const CutPart& part : sample.parts) {
      holes += part.holes.size();
      marks += part.drill_marks.size();
    }
    CHECK((text.find("<g id=\"holes\"") != std::string::npos) == (holes > 0));
    CHECK((text.find("<g id=\"drill\"") != std::string::npos) == (marks > 0));
    const std::size_t outline = text.find("<g id=\"outline\"");
    REQUIRE(outline != std::string::npos);
    if (holes > 0) CHECK(text.find("<g id=\"holes\"") < outline);
    if (marks > 0) CHECK(text.find("<g id=\"drill\"") < text.find("<g id=\"holes\""));
  }
}

}  // namespace
}  // namespace lidwright
