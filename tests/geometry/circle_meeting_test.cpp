// SPDX-License-Identifier: Apache-2.0
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "lidwright/base/units.h"
#include "lidwright/geometry/circle_meeting.h"

namespace lidwright {
namespace {

double Uniform(std::mt19937_64& bits, double low, double high) {
  return low + (high - low) * static_cast<double>(bits() >> 11) * 0x1p-53;
}

}  // namespace

TEST_CASE("Circles meet at the corners of right triangles with whole sides") {
  const auto up = CircleMeeting({0, 0}, 3, {5, 0}, 4, 1);
  const auto down = CircleMeeting({0, 0}, 3, {5, 0}, 4, -1);
  REQUIRE(up);
  REQUIRE(down);
  CHECK((*up - Vec2(1.8, 2.4)).norm() < 1e-15);
  CHECK((*down - Vec2(1.8, -2.4)).norm() < 1e-15);
  const auto turned = CircleMeeting({10, 20}, 3, {10, 25}, 4, 1);
  REQUIRE(turned);
  CHECK((*turned - Vec2(7.6, 21.8)).norm() < 1e-14);
}

TEST_CASE("Circles that touch meet in one point, inside or outside, and those that miss do not") {
  for (int side : {1, -1}) {
    const auto outside = CircleMeeting({0, 0}, 3, {7, 0}, 4, side);
    const auto inside = CircleMeeting({0, 0}, 7, {3, 0}, 4, side);
    const auto around = CircleMeeting({3, 0}, 4, {0, 0}, 7, side);
    REQUIRE(outside);
    REQUIRE(inside);
    REQUIRE(around);
    CHECK((*outside - Vec2(3, 0)).norm() < 1e-15);
    CHECK((*inside - Vec2(7, 0)).norm() < 1e-15);
    CHECK((*around - Vec2(7, 0)).norm() < 1e-15);
    CHECK_FALSE(CircleMeeting({0, 0}, 3, {7.0000001, 0}, 4, side));
    CHECK_FALSE(CircleMeeting({0, 0}, 7, {2.9999999, 0}, 4, side));
    CHECK_FALSE(CircleMeeting({0, 0}, 7, {0, 0}, 7, side));
    CHECK_FALSE(CircleMeeting({0, 0}, 7, {0, 0}, 4, side));
    CHECK_FALSE(CircleMeeting({0, 0}, 1, {std::nan(""), 0}, 1, side));
    const auto point = CircleMeeting({0, 0}, 0, {3, 4}, 5, side);
    REQUIRE(point);
    CHECK(point->norm() < 1e-15);
  }
}

TEST_CASE("A meeting keeps its written accuracy from wide open to a hair's width from touching") {
  std::mt19937_64 bits(3);
  int met = 0, hairs = 0;
  double worst = 0.0;
  for (int i = 0; i < 20000; ++i) {
    const Vec2 c0(Uniform(bits, -500, 500), Uniform(bits, -500, 500));
    const double turn = Uniform(bits, -kPi, kPi);
    const double distance = std::exp(Uniform(bits, -3, 6));
    const Vec2 c1 = c0 + distance * Vec2(std::cos(turn), std::sin(turn));
    const double r0 = std::exp(Uniform(bits, -3, 6));
    // One case in two nearly touches, from outside or from inside.
    double r1 = std::exp(Uniform(bits, -3, 6));
    const double hair = distance * std::exp(Uniform(bits, -34, -3));
    if (i % 4 == 1) r1 = std::abs(distance - r0) + hair;
    if (i % 4 == 3) r1 = distance + r0 - hair;
    for (int side : {1, -1}) {
      const auto p = CircleMeeting(c0, r0, c1, r1, side);
      if (!p) continue;
      ++met;
      if (i % 2) ++hairs;
      const double allowed = r0 + r1 + c0.norm() + c1.norm();
      worst = std::max(worst, std::abs((*p - c0).norm() - r0) / allowed);
      worst = std::max(worst, std::abs((*p - c1).norm() - r1) / allowed);
      CHECK(Cross(Vec2(c1 - c0), Vec2(*p - c0)) * side >= -1e-13 * allowed * allowed);
    }
  }
  CHECK(met > 10000);
  CHECK(hairs > 10000);
  CHECK(worst < 1e-15);
}

TEST_CASE("Near touching, the height above the base keeps its digits") {
  // Isosceles needles: base 2, legs 1 + e. The height is √(2e + e²), here in extended precision.
  for (double e = 1e-3; e > 1e-14; e /= 7.0) {
    const double leg = 1.0 + e;
    const auto p = CircleMeeting({-1, 0}, leg, {1, 0}, leg, 1);
    REQUIRE(p);
    const long double exact_e = static_cast<long double>(leg) - 1.0L;
    const double height = static_cast<double>(std::sqrt(2.0L * exact_e + exact_e * exact_e));
    CHECK(std::abs(p->y() / height - 1.0) < 1e-15 * 4);
    CHECK(std::abs(p->x()) < 1e-15);
  }
}

TEST_CASE("Exchanging the circles and the side gives the same point") {
  std::mt19937_64 bits(4);
  int met = 0;
  for (int i = 0; i < 2000; ++i) {
    const Vec2 c0(Uniform(bits, -9, 9), Uniform(bits, -9, 9));
    const Vec2 c1(Uniform(bits, -9, 9), Uniform(bits, -9, 9));
    const double r0 = Uniform(bits, 0, 12), r1 = Uniform(bits, 0, 12);
    const auto p = CircleMeeting(c0, r0, c1, r1, 1), q = CircleMeeting(c1, r1, c0, r0, -1);
    REQUIRE(p.has_value() == q.has_value());
    if (!p) continue;
    ++met;
    CHECK((*p - *q).norm() < 1e-6);  // a root's worth near touching
    const double base = (c1 - c0).norm();
    if (r0 + r1 - base > 0.1 && base - std::abs(r0 - r1) > 0.1) CHECK((*p - *q).norm() < 1e-12);
  }
  CHECK(met > 500);
}

}  // namespace lidwright
