// SPDX-License-Identifier: Apache-2.0
#include "reference/mobility.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "lidwright/base/check.h"
#include "lidwright/base/units.h"
#include "lidwright/geometry/pose.h"

namespace lidwright {
namespace {

using Catch::Matchers::WithinAbs;
using Contacts = std::vector<PlanarContact>;

constexpr Turning kCcw = Turning::kCounterClockwise;
constexpr Turning kCw = Turning::kClockwise;

// The rule (bounded by the contact normals, the sign gives the sense) READ: He, Aslam, Tong & Seo,
// IEEE Robotics & Automation Letters 2021; both cases re-derived by hand.
const Contacts kCorner{{{0, 0}, {0, 1}}, {{4, 0}, {0, 1}}, {{0, 3}, {1, 0}}};
const Contacts kTriangle{
    {{0, 0}, {0, 1}}, {{6, 0}, {-0.6, 0.8}}, {{1, 5}, Vec2(1, -2) / std::sqrt(5.0)}};

Rect2 BoxOf(double half) {
  return {{-half, -half}, {half, half}};
}

// Same corners in the same cyclic order.
void CheckRing(const Ring& found, Ring wanted) {
  REQUIRE(found.size() == wanted.size());
  bool any = false;
  for (std::size_t shift = 0; shift < wanted.size(); ++shift) {
    double worst = 0.0;
    for (std::size_t i = 0; i < found.size(); ++i) {
      worst = std::max(worst, (found[i] - wanted[i]).norm());
    }
    any = any || worst < 1e-9;
    std::rotate(wanted.begin(), wanted.begin() + 1, wanted.end());
  }
  CHECK(any);
}

double Uniform(std::mt19937_64& bits, double low, double high) {
  return low + (high - low) * static_cast<double>(bits() >> 11) * 0x1p-53;
}

Contacts RandomContacts(std::mt19937_64& bits) {
  Contacts contacts;
  for (int i = 0; i < 3; ++i) {
    const double turn = Uniform(bits, -kPi, kPi);
    contacts.push_back(
        {{Uniform(bits, -5, 5), Uniform(bits, -5, 5)}, Vec2(std::cos(turn), std::sin(turn))});
  }
  return contacts;
}

}  // namespace

TEST_CASE("A body on two feet against a wall turns about one quarter of the plane each way") {
  CheckRing(AllowedCentres(kCorner, kCcw, BoxOf(10)), {{-10, 3}, {0, 3}, {0, 10}, {-10, 10}});
  CheckRing(AllowedCentres(kCorner, kCw, BoxOf(10)), {{4, -10}, {10, -10}, {10, 3}, {4, 3}});
  CHECK(CentreAllows(kCorner, {-1, 4}, kCcw, Opening::kStrict));
  CHECK(CentreAllows(kCorner, {0, 3}, kCcw, Opening::kNotClosing));
  CHECK_FALSE(CentreAllows(kCorner, {0, 3}, kCcw, Opening::kStrict));
  CHECK_FALSE(CentreAllows(kCorner, {1, 4}, kCcw, Opening::kNotClosing));
  CHECK_FALSE(CentreAllows(kCorner, {-1, 2}, kCcw, Opening::kNotClosing));
  CHECK(CentreAllows(kCorner, {5, 2}, kCw, Opening::kStrict));
  CHECK_FALSE(CentreAllows(kCorner, {5, 2}, kCcw, Opening::kNotClosing));
}

TEST_CASE("Three crossing normals leave one triangle of centres, one way only") {
  const Ring region = AllowedCentres(kTriangle, kCcw, BoxOf(100));
  CheckRing(region, {{0, 7}, {0, 8}, {-1.5, 10}});
  CHECK_THAT(SignedArea(region), WithinAbs(0.75, 1e-9));
  CHECK(CentreAllows(kTriangle, {-0.5, 25.0 / 3.0}, kCcw, Opening::kStrict));
  CHECK(AllowedCentres(kTriangle, kCw, BoxOf(100)).empty());
}

TEST_CASE("A lid on a flat rim opens only about centres behind its rearmost contact") {
  // Opening is counter-clockwise: x runs to the front, the front edge rises.
  const Contacts rim{{{-2, 0}, {0, 1}}, {{100, 0}, {0, 1}}, {{220, 0}, {0, 1}}};
  CheckRing(AllowedCentres(rim, kCcw, BoxOf(50)), {{-50, -50}, {-2, -50}, {-2, 50}, {-50, 50}});
  CHECK_THAT(LeastSeparationRate(rim, {-12, 30}, kCcw), WithinAbs(10.0, 1e-12));
  CHECK_THAT(LeastSeparationRate(rim, {8, -30}, kCcw), WithinAbs(-10.0, 1e-12));
  // Lifted straight up, every contact opens alike; slid forward, none does.
  CHECK_THAT(LeastSeparationRate(rim, {0.0, 1.0}), WithinAbs(1.0, 1e-15));
  CHECK_THAT(LeastSeparationRate(rim, {1.0, 0.0}), WithinAbs(0.0, 1e-15));
}

TEST_CASE("The separation rate is what a small turn does to every contact") {
  std::mt19937_64 bits(31);
  for (int i = 0; i < 500; ++i) {
    const Contacts contacts = RandomContacts(bits);
    const Vec2 centre(Uniform(bits, -9, 9), Uniform(bits, -9, 9));
    for (Turning sense : {kCcw, kCw}) {
      const double h = 1e-6 * static_cast<int>(sense);
      double least = 1e300;
      for (const PlanarContact& c : contacts) {
        const Vec2 ahead = Pose::About(centre, h) * c.point,
                   back = Pose::About(centre, -h) * c.point;
        least = std::min(least, c.normal.dot(ahead - back) / (2e-6));
      }
      CHECK_THAT(LeastSeparationRate(contacts, centre, sense), WithinAbs(least, 1e-7));
    }
  }
}

TEST_CASE("The region and the single-centre test agree, also turned, shifted and mirrored") {
  std::mt19937_64 bits(32);
  int inside = 0, outside = 0, empty = 0;
  for (int i = 0; i < 400; ++i) {
    const Contacts contacts = RandomContacts(bits);
    const Ring region = AllowedCentres(contacts, kCcw, BoxOf(12));
    if (region.empty()) ++empty;
    const Pose moved = Pose::Make(Uniform(bits, -kPi, kPi), {Uniform(bits, -9, 9), 4.0});
    Contacts turned = contacts, mirrored = contacts;
    for (PlanarContact& c : turned) c = {moved * c.point, moved.Turn(c.normal)};
    for (PlanarContact& c : mirrored) {
      c = {{-c.point.x(), c.point.y()}, {-c.normal.x(), c.normal.y()}};
    }
    for (int k = 0; k < 50; ++k) {
      const Vec2 centre(Uniform(bits, -12, 12), Uniform(bits, -12, 12));
      const double rate = LeastSeparationRate(contacts, centre, kCcw);
      if (std::abs(rate) < 1e-6) continue;  // on the border either answer is right
      const bool allowed = CentreAllows(contacts, centre, kCcw, Opening::kStrict);
      CHECK(allowed == (rate > 0.0));
      CHECK(allowed == (!region.empty() && Contains({region}, centre)));
      CHECK(allowed == CentreAllows(turned, moved * centre, kCcw, Opening::kStrict));
      CHECK(allowed == CentreAllows(mirrored, {-centre.x(), centre.y()}, kCw, Opening::kStrict));
      ++(allowed ? inside : outside);
    }
  }
  CHECK(inside > 1000);
  CHECK(outside > 1000);
  CHECK(empty > 10);
}

TEST_CASE("A border through corners of the box keeps them, and a region without area is empty") {
  CheckRing(AllowedCentres({{{0, 0}, {1, 1}}}, kCcw, BoxOf(10)), {{-10, -10}, {10, 10}, {-10, 10}});
  CheckRing(AllowedCentres({{{0, 0}, {1, 1}}}, kCw, BoxOf(10)), {{-10, -10}, {10, -10}, {10, 10}});
  // Held between two opposite contacts: centres on their common line only.
  const Contacts pinched{{{0, 0}, {0, 1}}, {{0, 5}, {0, -1}}};
  CHECK(AllowedCentres(pinched, kCcw, BoxOf(10)).empty());
  CHECK(CentreAllows(pinched, {0, 2}, kCcw, Opening::kNotClosing));
  CHECK(CentreAllows(pinched, {0, 2}, kCw, Opening::kNotClosing));
}

TEST_CASE("Without contacts everything is allowed, and a broken contact is refused") {
  CHECK(CentreAllows({}, {1, 2}, kCcw, Opening::kStrict));
  CheckRing(AllowedCentres({}, kCw, BoxOf(1)), {{-1, -1}, {1, -1}, {1, 1}, {-1, 1}});
  CHECK_THROWS_AS(AllowedCentres({{{0, 0}, {0, 0}}}, kCw, BoxOf(1)), ContractError);
  CHECK_THROWS_AS(AllowedCentres({{{0, std::nan("")}, {0, 1}}}, kCw, BoxOf(1)), ContractError);
  CHECK_THROWS_AS(AllowedCentres({}, kCw, Rect2{}), ContractError);
}

}  // namespace lidwright
