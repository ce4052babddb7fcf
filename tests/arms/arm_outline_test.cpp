// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/arm_outline.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "lidwright/base/units.h"
#include "lidwright/geometry/ring.h"

using namespace lidwright;

namespace {

class Draw {
 public:
  explicit Draw(unsigned seed) : random_(seed) {}
  double operator()(double low, double high) {
    return low + (high - low) * static_cast<double>(random_() >> 11) * 0x1.0p-53;
  }

 private:
  std::mt19937_64 random_;
};

// Way points that bend gently enough for an arm.
std::vector<Vec2> RandomWay(Draw& draw, int corners) {
  std::vector<Vec2> points{{draw(-50, 50), draw(-50, 50)}};
  double heading = draw(-kPi, kPi);
  for (int i = 0; i <= corners; ++i) {
    const double step = draw(35, 70);
    points.push_back(points.back() + step * Vec2(std::cos(heading), std::sin(heading)));
    heading += draw(-1.1, 1.1);
  }
  return points;
}

// Least distance of p from a line of points.
double FromLine(const Vec2& p, const std::vector<Vec2>& line) {
  double least = 1e300;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    least = std::min(least, (p - NearestOnSegment(p, line[i], line[i + 1])).norm());
  }
  return least;
}

}  // namespace

TEST_CASE("an arm's outline is a band of its width with round eyes, tangent all the way round") {
  Draw draw(17);
  int arms = 0;
  for (int i = 0; i < 400; ++i) {
    const double width = draw(5, 12), eye = i % 3 == 0 ? width : width + draw(0.5, 6.0);
    const ArmShape shape{width, eye, draw(2.0, width - 2.0), draw(0.5, 2.0)};
    const double neck = std::max(2.0, NeckLength_mm(shape, NeckFillet_mm(shape)));
    const auto line =
        RoundedCentreline(RandomWay(draw, i % 4), width / 2.0 + shape.inside_mm, 60.0, neck);
    if (!line) continue;
    const Outline outline = ArmOutline(*line, shape);
    const Ring ring = Flatten(outline, 0.002);
    if (FaultOf(ring)) continue;  // a way that winds back over itself
    ++arms;
    CAPTURE(i, width, eye);
    CHECK(SignedArea(outline) > 0.0);
    // No corner at all: each edge leaves in the direction in which the one before arrived.
    const std::size_t n = outline.vertices.size();
    for (std::size_t k = 0; k < n; ++k) {
      const auto& a = outline.vertices[k];
      const auto& b = outline.vertices[(k + 1) % n];
      const auto& c = outline.vertices[(k + 2) % n];
      const Vec2 in = b.point - a.point, out = c.point - b.point;
      const double arrives = std::atan2(in.y(), in.x()) + 2.0 * std::atan(a.bulge);
      const double leaves = std::atan2(out.y(), out.x()) - 2.0 * std::atan(b.bulge);
      CHECK(std::abs(std::remainder(leaves - arrives, 2.0 * kPi)) < 1e-7);
    }
    CHECK(SmallestInsideRadius(outline) >= shape.inside_mm - 1e-9);
    // Every point of the outline is half the width from the centre line, or on an eye, or in the
    // fillet between the two (farther from the line than the band, outside the eye).
    const std::vector<Vec2> way = PointsAlong(*line, 0.05);
    const Vec2 ground = line->front().point, lid = line->back().point;
    for (const Vec2& p : ring) {
      const double from_line = FromLine(p, way);
      const double from_eye = std::min((p - ground).norm(), (p - lid).norm());
      const bool on_band = std::abs(from_line - width / 2.0) < 0.01;
      const bool on_eye = std::abs(from_eye - eye / 2.0) < 0.01;
      const bool on_fillet = from_eye > eye / 2.0 - 0.01 && from_eye < neck + width &&
                             from_line > width / 2.0 - 0.01 && from_line < eye / 2.0 + 0.01;
      CHECK((on_band || on_eye || on_fillet));
    }
    // Its holes lie inside with the whole web around them.
    for (const Vec2& pivot : {ground, lid}) {
      CHECK(SignedDistance({ring}, pivot) == Approx(-eye / 2.0).margin(0.01));
    }
  }
  CHECK(arms > 200);
}

TEST_CASE("a centre line's corners are as round as the stretches beside them allow") {
  const std::vector<Vec2> way{{0, 0}, {50, 0}, {50, 40}};
  SECTION("the shorter stretch less the neck decides") {
    // A right angle uses up as much length as its radius: 40 − 10 of the shorter stretch.
    const auto line = RoundedCentreline(way, 3.0, 100.0, 10.0);
    REQUIRE(line);
    REQUIRE(line->size() == 4);
    CHECK(ArcOf((*line)[1].point, (*line)[2].point, (*line)[1].bulge).radius_mm == Approx(30.0));
    CHECK((*line)[1].point.x() == Approx(20.0));
    CHECK((*line)[2].point.y() == Approx(30.0));
  }
  SECTION("the largest radius is not passed") {
    const auto line = RoundedCentreline(way, 3.0, 12.0, 10.0);
    REQUIRE(line);
    CHECK(ArcOf((*line)[1].point, (*line)[2].point, (*line)[1].bulge).radius_mm == Approx(12.0));
  }
  SECTION("less than the least radius is refused") {
    CHECK_FALSE(RoundedCentreline(way, 31.0, 100.0, 10.0));
    CHECK_FALSE(RoundedCentreline({{0, 0}, {50, 0}, {0, 1e-3}}, 3.0, 100.0, 0.0));
  }
  SECTION("corners that use up the stretch between them meet without a gap") {
    const auto line = RoundedCentreline({{0, 0}, {40, 0}, {40, 20}, {80, 20}}, 3.0, 100.0, 2.0);
    REQUIRE(line);
    CHECK(line->size() == 5);  // start, arc, arc, end of it, end
    const Ring ring = Flatten(ArmOutline(*line, {8.0, 8.0, 4.0, 1.5}), 0.01);
    CHECK_FALSE(FaultOf(ring));
  }
}

TEST_CASE("the neck is where a fillet touches eye and band") {
  const ArmShape shape{8.0, 14.0, 5.0, 1.0};
  const double fillet = NeckFillet_mm(shape);
  CHECK(fillet == Approx(3.5));
  // Pythagoras in the triangle pivot – foot on the line of fillet centres – fillet centre.
  CHECK(NeckLength_mm(shape, fillet) == Approx(std::sqrt(10.5 * 10.5 - 7.5 * 7.5)));
  CHECK(NeckLength_mm({8.0, 8.0, 5.0, 1.0}, 2.0) == 0.0);
  CHECK(NeckFillet_mm({8.0, 10.0, 5.0, 6.0}) == 6.0);
}

TEST_CASE("an arm turned, moved, mirrored or walked the other way is the same arm") {
  Draw draw(29);
  int arms = 0;
  for (int i = 0; i < 200; ++i) {
    const ArmShape shape{draw(5, 12), 14.0, 4.0, draw(0.5, 2.0)};
    const double neck = std::max(2.0, NeckLength_mm(shape, NeckFillet_mm(shape)));
    const double least = shape.width_mm / 2.0 + shape.inside_mm;
    const std::vector<Vec2> way = RandomWay(draw, i % 4);
    const auto line = RoundedCentreline(way, least, 60.0, neck);
    const Pose turn = Pose::Make(draw(-kPi, kPi), {draw(-200, 200), draw(-200, 200)});
    std::vector<Vec2> turned, mirrored, back(way.rbegin(), way.rend());
    for (const Vec2& p : way) {
      turned.push_back(turn * p);
      mirrored.push_back({-p.x(), p.y()});
    }
    const auto line_turned = RoundedCentreline(turned, least, 60.0, neck);
    const auto line_mirrored = RoundedCentreline(mirrored, least, 60.0, neck);
    const auto line_back = RoundedCentreline(back, least, 60.0, neck);
    REQUIRE(line.has_value() == line_turned.has_value());
    REQUIRE(line.has_value() == line_mirrored.has_value());
    REQUIRE(line.has_value() == line_back.has_value());
    if (!line) continue;
    ++arms;
    const Outline outline = ArmOutline(*line, shape);
    const double area = SignedArea(outline), length = Length(outline);
    const double inside = SmallestInsideRadius(outline);
    for (const auto* other : {&line_turned, &line_mirrored, &line_back}) {
      const Outline same = ArmOutline(**other, shape);
      CHECK(same.vertices.size() == outline.vertices.size());
      CHECK(SignedArea(same) == Approx(area).epsilon(1e-9));
      CHECK(Length(same) == Approx(length).epsilon(1e-9));
      CHECK(SmallestInsideRadius(same) == Approx(inside).epsilon(1e-7));
    }
    // Moved outright, the outline's points are the moved ones.
    const Outline moved = ArmOutline(*line_turned, shape);
    for (std::size_t k = 0; k < outline.vertices.size(); ++k) {
      CHECK((moved.vertices[k].point - turn * outline.vertices[k].point).norm() < 1e-8);
    }
  }
  CHECK(arms > 100);
}
