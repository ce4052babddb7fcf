// SPDX-License-Identifier: Apache-2.0
#include "lidwright/geometry/rings_tree.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "lidwright/base/units.h"
#include "random_outline.h"

namespace lidwright {
namespace {

using testing::Dice;

// A rough round with so many points.
Ring Round(Dice& dice, const Vec2& centre, double radius, int n) {
  Ring ring;
  for (int i = 0; i < n; ++i) {
    const double turn = 2 * kPi * i / n;
    ring.push_back(centre + radius * dice.Uniform(0.8, 1.0) * Vec2(std::cos(turn), std::sin(turn)));
  }
  return ring;
}

}  // namespace

TEST_CASE("a tree of rings answers what the plain walk does, to the last bit") {
  Dice dice(17);
  for (const int n : {3, 8, 9, 17, 64, 1000}) {
    const std::vector<Ring> rings{Round(dice, {0, 0}, 100, n), Round(dice, {10, 5}, 40, n + 1),
                                  Round(dice, {300, 0}, 30, 5)};
    const RingsTree tree(rings);
    CHECK_FALSE(tree.empty());
    std::vector<Vec2> points;
    for (int i = 0; i < 2000; ++i)
      points.push_back({dice.Uniform(-150, 350), dice.Uniform(-120, 120)});
    for (const Ring& ring : rings) {  // corners, middles of edges, on a level with them
      for (std::size_t i = 0; i < ring.size(); ++i) {
        points.push_back(ring[i]);
        points.push_back((ring[i] + ring[(i + 1) % ring.size()]) / 2.0);
        points.push_back({dice.Uniform(-150, 350), ring[i].y()});
        points.push_back({ring[i].x(), dice.Uniform(-120, 120)});
      }
    }
    int inside = 0, wrong = 0;
    for (const Vec2& p : points) {
      inside += Contains(rings, p);
      wrong += tree.Contains(p) != Contains(rings, p);
      Vec2 one, other;
      wrong += tree.SignedDistance(p, &one) != SignedDistance(rings, p, &other);
      wrong += one != other;
    }
    CHECK(wrong == 0);
    CHECK(inside > 100);
  }
}

TEST_CASE("of edges that are as near the first in order is told, as by the plain walk") {
  Ring square;
  for (const auto& [x, y] : {std::pair(0, 0), {1, 0}, {1, 1}, {0, 1}}) {
    for (int i = 0; i < 16; ++i) {  // each side in 16 pieces
      const Vec2 along = x == y ? Vec2(1 - 2 * x, 0) : Vec2(0, x - y);
      square.push_back(64.0 * Vec2(x, y) + 4.0 * i * along);
    }
  }
  REQUIRE(SignedArea(square) == 64.0 * 64.0);
  const RingsTree tree({square, square});
  int wrong = 0;
  for (double x = -70; x <= 70; x += 2) {
    for (double y = -70; y <= 70; y += 2) {
      Vec2 one, other;
      wrong +=
          tree.SignedDistance({x, y}, &one) != SignedDistance({square, square}, {x, y}, &other);
      wrong += one != other;
    }
  }
  CHECK(wrong == 0);
}

TEST_CASE("a tree of no rings holds nothing and is infinitely far") {
  CHECK(RingsTree({}).empty());
  CHECK_FALSE(RingsTree({}).Contains({0, 0}));
  CHECK(std::isinf(RingsTree({}).SignedDistance({0, 0})));
}

}  // namespace lidwright
