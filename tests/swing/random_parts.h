// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>

#include "lidwright/swing/clearance.h"
#include "random_pivots.h"

namespace lidwright::testing {

inline std::vector<const PartTree*> PointersTo(const std::vector<PartTree>& parts) {
  std::vector<const PartTree*> pointers;
  for (const PartTree& part : parts) pointers.push_back(&part);
  return pointers;
}

enum class Shape { kConvex, kStar, kShell, kThinWall, kHoled, kIslands, kFine };
inline constexpr int kShapes = 7;

/// An affine map p → M p + t.
struct Affine {
  double a = 1, b = 0, c = 0, d = 1;
  Vec2 t = Vec2::Zero();
  Vec2 operator()(const Vec2& p) const {
    return {a * p.x() + b * p.y() + t.x(), c * p.x() + d * p.y() + t.y()};
  }
  static Affine Similar(double angle, double scale, const Vec2& t) {
    const double c = scale * std::cos(angle), s = scale * std::sin(angle);
    return {c, -s, s, c, t};
  }
};

inline Ring Mapped(const Ring& ring, const Affine& map) {
  Ring mapped;
  for (const Vec2& p : ring) mapped.push_back(map(p));
  return mapped;
}

inline std::vector<Ring> Mapped(const std::vector<Ring>& rings, const Affine& map) {
  std::vector<Ring> mapped;
  for (const Ring& ring : rings) mapped.push_back(Mapped(ring, map));
  return mapped;
}

inline Part Mapped(Part part, const Affine& map) {
  part.at_z_min = Mapped(part.at_z_min, map);
  part.at_z_max = Mapped(part.at_z_max, map);
  return part;
}

/// Vertices at growing angles round the origin, on spokes of `near` to `far` times `size`.
inline Ring StarRing(Dice& dice, int n, double size, double near, double far) {
  Ring ring;
  for (int i = 0; i < n; ++i) {
    const double angle = 2.0 * kPi * (i + dice.Uniform(-0.3, 0.3)) / n;
    ring.push_back(size * dice.Uniform(near, far) * Vec2(std::cos(angle), std::sin(angle)));
  }
  return ring;
}

inline Ring Rectangle(double x0, double y0, double x1, double y1) {
  return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
}

/// A random shape of about `size` mm round the origin.
inline std::vector<Ring> RandomShape(Dice& dice, Shape shape, double size) {
  switch (shape) {
    case Shape::kConvex: {
      Ring ring;
      const int n = dice.Whole(3, 14);
      const double flat = dice.Uniform(0.3, 1.0), start = dice.Uniform(0.0, 6.0);
      for (int i = 0; i < n; ++i) {
        const double angle = start + 2.0 * kPi * (i + dice.Uniform(-0.3, 0.3)) / n;
        ring.push_back(size * Vec2(std::cos(angle), flat * std::sin(angle)));
      }
      return {ring};
    }
    case Shape::kStar:
      return {StarRing(dice, dice.Whole(5, 24), size, 0.3, 1.2)};
    case Shape::kShell: {  // a U or a dome of some wall thickness, opening any way
      const double wall = size * dice.Uniform(0.02, 0.2), deep = size * dice.Uniform(0.4, 1.5);
      const Ring ring = {{-size, -deep / 2},
                         {size, -deep / 2},
                         {size, deep / 2},
                         {size - wall, deep / 2},
                         {size - wall, -deep / 2 + wall},
                         {-size + wall, -deep / 2 + wall},
                         {-size + wall, deep / 2},
                         {-size, deep / 2}};
      return {Mapped(ring, Affine::Similar(dice.Uniform(0.0, 6.3), 1.0, Vec2::Zero()))};
    }
    case Shape::kThinWall: {
      const double half = dice.Uniform(0.05, 1.0);
      const Ring ring = Rectangle(-1.2 * size, -half, 1.2 * size, half);
      return {Mapped(ring, Affine::Similar(dice.Uniform(0.0, 6.3), 1.0, Vec2::Zero()))};
    }
    case Shape::kHoled: {
      Ring outer = StarRing(dice, dice.Whole(6, 16), size, 0.8, 1.2);
      Ring hole = StarRing(dice, dice.Whole(5, 12), size, 0.3, 0.55);
      std::reverse(hole.begin(), hole.end());
      return {outer, hole};
    }
    case Shape::kIslands:
      return {Mapped(StarRing(dice, dice.Whole(4, 9), size / 2, 0.5, 1.0),
                     Affine::Similar(0.0, 1.0, Vec2(-0.6 * size, 0.1 * size))),
              Mapped(StarRing(dice, dice.Whole(4, 9), size / 2, 0.5, 1.0),
                     Affine::Similar(0.0, 1.0, Vec2(0.6 * size, 0.0)))};
    default: {  // a smooth curve of many short edges
      Ring ring;
      const int n = dice.Whole(60, 120);
      const double wave = dice.Uniform(0.0, 0.3), lobes = dice.Whole(2, 5);
      for (int i = 0; i < n; ++i) {
        const double angle = 2.0 * kPi * i / n;
        const double r = size * (1.0 + wave * std::sin(lobes * angle));
        ring.push_back(r * Vec2(std::cos(angle), std::sin(angle)));
      }
      return {ring};
    }
  }
}

/// The shape at another station: sheared, turned by up to `turn` and moved. An affine map of a
/// simple polygon blends through simple polygons as long as it turns by less than half a circle.
inline std::vector<Ring> OtherStation(Dice& dice, const std::vector<Ring>& rings, double turn,
                                      double move) {
  Affine map = Affine::Similar(dice.Uniform(-turn, turn), dice.Uniform(0.8, 1.2), Vec2::Zero());
  const double flat = dice.Uniform(0.7, 1.2);
  map.c *= flat;
  map.d *= flat;
  map.t = RandomPoint(dice, -move, move, -move, move);
  return Mapped(rings, map);
}

}  // namespace lidwright::testing
