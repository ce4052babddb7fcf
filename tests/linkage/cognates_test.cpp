// SPDX-License-Identifier: Apache-2.0
// Roberts–Chebyshev cognates and the classic straight-line linkages: properties of whole curves,
// which code that is right in one pose only cannot pass.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>
#include <vector>

#include "reference/four_bar.h"

namespace lidwright {
namespace {

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

constexpr Branch kBranches[] = {Branch::kOpen, Branch::kCrossed};

double Uniform(std::mt19937_64& bits, double low, double high) {
  return low + (high - low) * static_cast<double>(bits() >> 11) * 0x1p-53;
}

void CheckLengths(const LinkLengths& found, const LinkLengths& wanted) {
  CHECK_THAT(found.ground_mm, WithinRel(wanted.ground_mm, 1e-10));
  CHECK_THAT(found.crank_mm, WithinRel(wanted.crank_mm, 1e-10));
  CHECK_THAT(found.coupler_mm, WithinRel(wanted.coupler_mm, 1e-10));
  CHECK_THAT(found.rocker_mm, WithinRel(wanted.rocker_mm, 1e-10));
}

// The joints of a placed four-bar, in the drawing.
struct Joints {
  Vec2 first, second, a, b, p;
};
Joints JointsOf(const TracingFourBar& linkage, const FourBarPosition& position) {
  const Pose& x = linkage.X_WG;
  return {x.origin, x * Vec2(linkage.lengths.ground_mm, 0.0), x * position.a, x * position.b,
          x * CouplerPoint(position, linkage.point_mm)};
}

// The angle of a cognate's crank, from its ground line, when its pin stands at `pin`.
double CrankAngle_rad(const TracingFourBar& cognate, const Vec2& pin) {
  const Vec2 crank = cognate.X_WG.TurnBack(pin - cognate.X_WG.origin);
  return std::atan2(crank.y(), crank.x());
}

// A cognate with its crank pin at `pin`, on the branch that brings its point nearer to `p`. The
// pins come from the parallelograms O_A A P A2 and O_B B P B3.
std::optional<Joints> Standing(const TracingFourBar& cognate, const Vec2& pin, const Vec2& p) {
  std::optional<Joints> nearest;
  for (Branch branch : kBranches) {
    const auto position = SolvePosition(cognate.lengths, CrankAngle_rad(cognate, pin), branch);
    if (!position) continue;
    const Joints joints = JointsOf(cognate, *position);
    if (!nearest || (joints.p - p).norm() < (nearest->p - p).norm()) nearest = joints;
  }
  return nearest;
}

const TracingFourBar kExample{
    {7, 2.4, 6, 5}, 3.6 * Vec2(std::cos(40 * kRadPerDeg), std::sin(40 * kRadPerDeg)), Pose{}};

// A traced curve as samples.
std::vector<Vec2> Curve(const TracingFourBar& linkage, double from_deg, double to_deg,
                        Branch branch, int steps) {
  std::vector<Vec2> curve;
  for (int i = 0; i <= steps; ++i) {
    const double crank_deg = from_deg + (to_deg - from_deg) * i / steps;
    const auto point = TracedPoint(linkage, crank_deg * kRadPerDeg, branch);
    REQUIRE(point);
    curve.push_back(*point);
  }
  return curve;
}

struct Extent {
  Vec2 low, high;
};
Extent ExtentOf(const std::vector<Vec2>& curve) {
  Extent extent{curve.front(), curve.front()};
  for (const Vec2& p : curve) {
    extent.low = extent.low.cwiseMin(p);
    extent.high = extent.high.cwiseMax(p);
  }
  return extent;
}

}  // namespace

TEST_CASE("The three cognates of an example have the re-derived proportions") {
  // Numbers from an independent script that moves the parallelograms, not this formula.
  const auto cognates = Cognates(kExample);
  CheckLengths(cognates[0].lengths, {7, 2.4, 6, 5});
  CheckLengths(cognates[1].lengths, {4.2, 3.6, 1.44, 3.0});
  CheckLengths(cognates[2].lengths, {4.6472127931, 3.9833252513, 3.3194377094, 1.5933301005});
  const Vec2 third(3.2173866611, 2.6997079607);
  CHECK((cognates[1].X_WG.origin - Vec2(0, 0)).norm() < 1e-12);
  CHECK((cognates[1].X_WG * Vec2(cognates[1].lengths.ground_mm, 0) - third).norm() < 1e-9);
  CHECK((cognates[2].X_WG.origin - Vec2(7, 0)).norm() < 1e-12);
  CHECK((cognates[2].X_WG * Vec2(cognates[2].lengths.ground_mm, 0) - third).norm() < 1e-9);
  CHECK_THAT(cognates[1].point_mm.norm(), WithinAbs(2.4, 1e-9));
  CHECK_THAT((cognates[1].point_mm - Vec2(1.44, 0)).norm(), WithinAbs(1.5933301005, 1e-9));
  CHECK_THAT(cognates[2].point_mm.norm(), WithinAbs(5.0, 1e-9));
  CHECK_THAT((cognates[2].point_mm - Vec2(cognates[2].lengths.coupler_mm, 0)).norm(),
             WithinAbs(3.0, 1e-9));
  // Crank-rocker: one cognate is a crank-rocker (driven from its other end), one a double-rocker.
  CHECK(Classify(cognates[0].lengths) == GrashofClass::kCrankRocker);
  CHECK(Classify(cognates[1].lengths) == GrashofClass::kDoubleRocker);
  CHECK(Classify(cognates[2].lengths) == GrashofClass::kRockerCrank);
}

TEST_CASE("The example's joints stand where re-derived at 60°, and its point at three angles") {
  const auto position = SolvePosition(kExample.lengths, 60 * kRadPerDeg, Branch::kOpen);
  REQUIRE(position);
  CHECK((position->a - Vec2(1.2, 2.0784609691)).norm() < 1e-9);
  CHECK((position->b - Vec2(6.4570430410, 4.9704323495)).norm() < 1e-9);
  const Vec2 p = CouplerPoint(*position, kExample.point_mm);
  CHECK((p - Vec2(2.5009231428, 5.4351854107)).norm() < 1e-9);
  const auto cognates = Cognates(kExample);
  const auto left = Standing(cognates[1], p - position->a, p);
  const auto right = Standing(cognates[2], Vec2(7, 0) + p - position->b, p);
  REQUIRE(left);
  REQUIRE(right);
  CHECK((left->a - Vec2(1.3009231428, 3.3567244416)).norm() < 1e-9);
  CHECK((left->b - Vec2(1.0508697669, 4.7748476059)).norm() < 1e-9);
  CHECK((right->a - Vec2(3.0438801017, 0.4647530612)).norm() < 1e-9);
  CHECK((right->b - Vec2(4.6674400369, 3.3600457654)).norm() < 1e-9);

  const double angles_deg[] = {0, 120, 240};
  const Vec2 points[] = {
      {2.1259562160, 3.5895542905}, {0.5256806789, 5.2378954429}, {-1.1876335382, 1.5215177907}};
  for (int i = 0; i < 3; ++i) {
    const auto traced = TracedPoint(kExample, angles_deg[i] * kRadPerDeg, Branch::kOpen);
    REQUIRE(traced);
    CHECK((*traced - points[i]).norm() < 1e-9);
  }
}

TEST_CASE("Three cognates of any four-bar trace the same point, all the way round") {
  std::mt19937_64 bits(21);
  int poses = 0;
  double worst = 0.0;
  for (int i = 0; i < 300; ++i) {
    TracingFourBar linkage{{Uniform(bits, 20, 90), Uniform(bits, 20, 90), Uniform(bits, 20, 90),
                            Uniform(bits, 20, 90)},
                           {Uniform(bits, -90, 90), Uniform(bits, -90, 90)},
                           Pose::Make(Uniform(bits, -kPi, kPi), {Uniform(bits, -50, 50), 7.0})};
    if (i == 0) linkage = kExample;
    const auto cognates = Cognates(linkage);
    const Vec2 second = linkage.X_WG * Vec2(linkage.lengths.ground_mm, 0.0);
    for (int k = 0; k < 24; ++k) {
      for (Branch branch : kBranches) {
        const auto position = SolvePosition(linkage.lengths, kPi * k / 12, branch);
        if (!position) continue;
        const Joints own = JointsOf(linkage, *position);
        const Vec2 pins[2] = {own.first + own.p - own.a, second + own.p - own.b};
        for (int c = 0; c < 2; ++c) {
          const TracingFourBar& cognate = cognates[c + 1];
          // Near a dead point of the cognate's crank its position has half the digits, or none.
          const auto transmission =
              TransmissionAngle_rad(cognate.lengths, CrankAngle_rad(cognate, pins[c]));
          if (std::sin(transmission.value_or(0.0)) < 0.05) continue;
          const auto other = Standing(cognate, pins[c], own.p);
          REQUIRE(other);
          worst = std::max(worst, (other->p - own.p).norm());
          ++poses;
        }
      }
    }
  }
  CHECK(poses > 5000);
  CHECK(worst < 1e-10);
}

TEST_CASE("Grashof sums of the three cognates stand in one ratio") {
  const auto ratio = [](const LinkLengths& l) {
    std::vector<double> s{l.ground_mm, l.crank_mm, l.coupler_mm, l.rocker_mm};
    std::sort(s.begin(), s.end());
    return (s[0] + s[3]) / (s[1] + s[2]);
  };
  for (const auto& cognate : Cognates(kExample)) {
    CHECK_THAT(ratio(cognate.lengths), WithinAbs(9.4 / 11.0, 1e-12));
  }
}

TEST_CASE("Chebyshev's linkage draws its line, through three exact points") {
  // Proportions 4 : 5 : 2 and crank limits 36.8699° and 101.537° READ (an encyclopedia); deviation
  // re-derived.
  const TracingFourBar chebyshev{{4, 5, 2, 5}, {1, 0}, Pose{}};
  const auto limits = CrankLimits(chebyshev.lengths);
  REQUIRE(limits);
  CHECK_THAT(limits->low_rad * kDegPerRad, WithinAbs(36.8699, 5e-5));
  CHECK_THAT(limits->high_rad * kDegPerRad, WithinAbs(101.537, 5e-4));
  const double low_deg = limits->low_rad * kDegPerRad;
  const auto curve = Curve(chebyshev, low_deg + 1e-9, 90.0, Branch::kCrossed, 20000);
  const Extent extent = ExtentOf(curve);
  CHECK_THAT(extent.low.y(), WithinAbs(4.0, 1e-8));
  CHECK_THAT(extent.high.y(), WithinAbs(4.009753733086, 1e-9));
  CHECK_THAT(extent.low.x(), WithinAbs(0.0, 1e-4));
  CHECK_THAT(extent.high.x(), WithinAbs(4.0, 1e-4));
  const auto top = std::max_element(curve.begin(), curve.end(),
                                    [](const Vec2& l, const Vec2& r) { return l.y() < r.y(); });
  const double to_nearer = std::min(std::abs(top->x() - 0.80757), std::abs(top->x() - 3.19243));
  CHECK(to_nearer < 1e-3);
  CHECK_THAT((extent.high.y() - 4.0) / 4.0 * 100.0, WithinAbs(0.24384, 1e-5));
  // y = 4 at x = 4 (crank upright), x = 2 (symmetric) and x = 0 (the mirror image).
  const auto upright = TracedPoint(chebyshev, kPi / 2, Branch::kCrossed);
  REQUIRE(upright);
  CHECK_THAT(std::abs(upright->x() - 2.0), WithinAbs(2.0, 1e-12));
  CHECK_THAT(upright->y(), WithinAbs(4.0, 1e-12));
  const auto middle = TracedPoint(chebyshev, std::acos(0.6), Branch::kCrossed);
  REQUIRE(middle);
  CHECK((*middle - Vec2(2, 4)).norm() < 1e-12);
}

TEST_CASE("Hoecken's linkage is a cognate of Chebyshev's") {
  // Proportions 1 : 2 : 2.5 : 2.5 with the point at 5 READ (two pages).
  const auto left = Cognates({{4, 5, 2, 5}, {1, 0}, Pose{}})[1];
  CheckLengths(left.lengths, {2, 1, 2.5, 2.5});
  CHECK((left.point_mm - Vec2(5, 0)).norm() < 1e-14);
}

TEST_CASE("Hoecken's linkage runs straight over half a turn of its crank") {
  const TracingFourBar hoecken{{2, 1, 2.5, 2.5}, {5, 0}, Pose{}};
  const Extent extent = ExtentOf(Curve(hoecken, 90, 270, Branch::kOpen, 20000));
  CHECK_THAT(extent.high.x() - extent.low.x(), WithinAbs(4.0, 1e-12));
  CHECK_THAT(extent.high.y() - extent.low.y(), WithinAbs(0.009753733086, 1e-9));
}

TEST_CASE("Nine optimum straight-line linkages have the printed stroke and error") {
  // As recalled from Norton, Design of Machinery, Table 3-1 (MEM); re-derived in all nine rows.
  // Link 3 and 4 follow unrounded from L3 = (3 L1 − 1) / 2. Tolerance: one unit of the last digit.
  struct Row {
    double range_deg, ground, rocker, error_percent, unit_percent, stroke, derived_percent;
  };
  const Row rows[] = {{20, 2.975, 3.963, 0.00001, 0.00001, 0.601, 0.0000106},
                      {40, 2.950, 3.925, 0.00004, 0.00001, 1.193, 0.0000435},
                      {60, 2.900, 3.850, 0.00027, 0.00001, 1.763, 0.000265},
                      {80, 2.825, 3.738, 0.001, 0.001, 2.299, 0.001169},
                      {100, 2.725, 3.588, 0.004, 0.001, 2.790, 0.003671},
                      {120, 2.625, 3.438, 0.010, 0.001, 3.238, 0.010310},
                      {140, 2.500, 3.250, 0.023, 0.001, 3.623, 0.023091},
                      {160, 2.350, 3.025, 0.047, 0.001, 3.933, 0.047440},
                      {180, 2.200, 2.800, 0.096, 0.001, 4.181, 0.096308}};
  int checked = 0;
  for (const Row& row : rows) {
    INFO("range " << row.range_deg);
    const double coupler = (3.0 * row.ground - 1.0) / 2.0;
    CHECK_THAT(coupler, WithinAbs(row.rocker, 5.1e-4));
    const TracingFourBar linkage{{row.ground, 1.0, coupler, coupler}, {2.0 * coupler, 0}, Pose{}};
    const Extent extent = ExtentOf(
        Curve(linkage, 180 - row.range_deg / 2, 180 + row.range_deg / 2, Branch::kOpen, 20000));
    const double stroke = extent.high.x() - extent.low.x();
    const double percent = (extent.high.y() - extent.low.y()) / stroke * 100.0;
    CHECK_THAT(stroke, WithinAbs(row.stroke, 0.001));
    CHECK_THAT(percent, WithinAbs(row.error_percent, row.unit_percent));
    CHECK_THAT(percent, WithinRel(row.derived_percent, 5e-3));
    ++checked;
  }
  CHECK(checked == 9);
}

TEST_CASE("Watt's linkage has the re-derived stroke and side error") {
  // Arms 2, coupler 1, pivots (0, 0) and (4, 1), midpoint; no published straightness was found.
  const double tilt = std::atan2(1.0, 4.0);
  const TracingFourBar watt{{std::sqrt(17.0), 2, 1, 2}, {0.5, 0}, Pose::Make(tilt, Vec2::Zero())};
  const double rows[][3] = {
      {10, 0.694613, 1.6517e-4}, {15, 1.035621, 1.31215e-3}, {20, 1.370815, 6.1030e-3}};
  for (const auto& row : rows) {
    INFO("swing " << row[0]);
    const double tilt_deg = tilt * kDegPerRad;
    const auto curve = Curve(watt, -row[0] - tilt_deg, row[0] - tilt_deg, Branch::kOpen, 20000);
    const Extent extent = ExtentOf(curve);
    CHECK_THAT(extent.high.y() - extent.low.y(), WithinAbs(row[1], 1e-6));
    const double side = std::max(extent.high.x() - 2.0, 2.0 - extent.low.x());
    CHECK_THAT(side, WithinRel(row[2], 1e-3));
  }
}

TEST_CASE("An antiparallelogram draws the lemniscate and the parallelogram a circle") {
  // Pivots (±1, 0), arms √2, coupler 2, midpoint: (x² + y²)² = 2 (x² − y²) READ. The assemblies
  // change places at the change points, where B crosses the line A–O4.
  const double arm = std::sqrt(2.0);
  const TracingFourBar linkage{{2, arm, 2, arm}, {1, 0}, Pose::Make(0.0, {-1.0, 0.0})};
  CHECK(Classify(linkage.lengths) == GrashofClass::kChangePoint);
  int checked = 0;
  for (int k = 1; k < 720; ++k) {
    const double crank_rad = k * kPi / 360;
    if (k % 360 == 0) continue;
    const bool above = crank_rad < kPi;
    const auto crossed = TracedPoint(linkage, crank_rad, above ? Branch::kCrossed : Branch::kOpen);
    const auto parallel = TracedPoint(linkage, crank_rad, above ? Branch::kOpen : Branch::kCrossed);
    REQUIRE(crossed);
    REQUIRE(parallel);
    const double x2 = crossed->x() * crossed->x(), y2 = crossed->y() * crossed->y();
    CHECK(std::abs((x2 + y2) * (x2 + y2) - 2.0 * (x2 - y2)) < 1e-12);
    CHECK_THAT(parallel->norm(), WithinAbs(arm, 1e-12));
    ++checked;
  }
  CHECK(checked == 718);
}

}  // namespace lidwright
