// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>
#include <cstdint>
#include <random>
#include <vector>

#include "lidwright/base/units.h"
#include "lidwright/geometry/outline.h"

namespace lidwright::testing {

/// The same numbers on every machine: std's distributions are not specified bit for bit.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : engine_(seed) {}
  double Uniform(double low, double high) {
    return low + (high - low) * (static_cast<double>(engine_() >> 11) * 0x1p-53);
  }
  int Whole(int low, int high) {  // both ends included
    return low + static_cast<int>(engine_() % static_cast<std::uint64_t>(high - low + 1));
  }

 private:
  std::mt19937_64 engine_;
};

/// A counter-clockwise outline round `centre` that does not cross itself: vertices on spokes from
/// 20 to 30 mm long, edges straight or bulging in or out by less than the corners leave room for.
inline Outline RandomOutline(Dice& dice, const Vec2& centre) {
  const int n = dice.Whole(5, 12);
  Outline outline;
  for (int i = 0; i < n; ++i) {
    const double angle = 2.0 * kPi * (i + dice.Uniform(-0.2, 0.2)) / n;
    const double reach = dice.Uniform(20.0, 30.0);
    const int kind = dice.Whole(0, 2);
    const double bulge = kind == 0 ? 0.0 : dice.Uniform(-0.2, 0.25);
    outline.vertices.push_back({centre + reach * Vec2(std::cos(angle), std::sin(angle)), bulge});
  }
  return outline;
}

/// Points along an arc by halving it: the middle of an arc stands off its chord by the sagitta
/// |b| c / 2 to the right of a→b for b > 0, and half of an arc has the bulge b / (1 + √(1 + b²)).
/// Uses no centre, no radius and no trigonometry: an oracle for everything that does.
inline void HalveArc(const Vec2& a, const Vec2& b, double bulge, int depth, Ring& ring) {
  if (depth == 0) {
    ring.push_back(a);
    return;
  }
  const Vec2 chord = b - a;
  const Vec2 middle = (a + b) / 2.0 + Vec2(chord.y(), -chord.x()) * (bulge / 2.0);
  const double half = bulge / (1.0 + std::sqrt(1.0 + bulge * bulge));
  HalveArc(a, middle, half, depth - 1, ring);
  HalveArc(middle, b, half, depth - 1, ring);
}

inline Ring HalvedRing(const Outline& outline, int depth) {
  Ring ring;
  for (std::size_t i = 0; i < outline.vertices.size(); ++i) {
    const OutlineVertex& from = outline.vertices[i];
    const OutlineVertex& to = outline.vertices[(i + 1) % outline.vertices.size()];
    HalveArc(from.point, to.point, from.bulge, from.bulge == 0.0 ? 0 : depth, ring);
  }
  return ring;
}

}  // namespace lidwright::testing
