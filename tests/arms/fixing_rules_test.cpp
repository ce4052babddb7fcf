// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/fixing_rules.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/units.h"
#include "lidwright/geometry/pose.h"

using namespace lidwright;
using Catch::Matchers::WithinAbs;

TEST_CASE("a screw keeps five diameters to an edge and ten to an end, or bears half, or nothing") {
  // A board 200 long (grain along x) and 60 wide; 3 mm screws: 15 and 30, 9 and 15.
  const std::vector<Ring> board{{{0, 0}, {200, 0}, {200, 60}, {0, 60}}};
  const auto share = [&](double x, double y) { return FixingShare(board, {x, y}, 0.0, 3.0); };
  CHECK(share(100.0, 15.0) == 1.0);
  CHECK(share(100.0, 14.9) == 0.5);
  CHECK(share(100.0, 9.0) == 0.5);
  CHECK(share(100.0, 8.9) == 0.0);
  CHECK(share(30.0, 30.0) == 1.0);
  CHECK(share(29.9, 30.0) == 0.5);
  CHECK(share(15.0, 30.0) == 0.5);
  CHECK(share(14.9, 30.0) == 0.0);
  CHECK(share(-20.0, 30.0) == 0.0);
  // With the grain across the same place has edge and end changed over.
  CHECK(FixingShare(board, {100.0, 20.0}, kPi / 2.0, 3.0) == 0.5);
  CHECK(FixingShare(board, {16.0, 30.0}, kPi / 2.0, 3.0) == 1.0);
  CHECK_THROWS_AS(FixingShare(board, {100.0, 30.0}, 0.0, 0.0), ContractError);
}

TEST_CASE("the rule turns with the board") {
  const std::vector<Ring> board{{{0, 0}, {200, 0}, {200, 60}, {0, 60}}};
  int shares[3] = {};
  for (int i = 0; i < 40; ++i) {
    const Vec2 screw(5.0 + 4.7 * i, 4.0 + std::fmod(7.3 * i, 52.0));
    const double plain = FixingShare(board, screw, 0.0, 2.5);
    for (const double angle : {0.4, 1.9, -2.5}) {
      const Pose pose = Pose::Make(angle, {13.0, -4.0});
      std::vector<Ring> turned{{}};
      for (const Vec2& p : board[0]) turned[0].push_back(pose * p);
      CHECK(FixingShare(turned, pose * screw, angle, 2.5) == plain);
    }
    ++shares[static_cast<int>(2.0 * plain)];
  }
  for (const int count : shares) CHECK(count > 3);
}

TEST_CASE("no pilot goes deeper than the wall less a millimetre and a half") {
  CHECK(DeepestPilot_mm(12.0) == 10.5);
  CHECK(DeepestPilot_mm(1.0) == 0.0);
  const std::vector<double> lengths{8, 10, 12, 14, 16, 20};
  // 3 mm of plate and 3 of packing over a wall of 12: 16 would stand 10 in it, 20 would come out.
  const auto longest = LongestScrew(lengths, 6.0, 12.0);
  REQUIRE(longest);
  CHECK(longest->length_mm == 16.0);
  CHECK_THAT(longest->thread_mm, WithinAbs(10.0, 1e-12));
  CHECK_FALSE(LongestScrew(lengths, 2.0, 6.0));  // the shortest would stand 6 deep in 4.5
  CHECK_FALSE(LongestScrew(lengths, 25.0, 12.0));
}
