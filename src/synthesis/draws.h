// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <random>
#include <vector>

#include "lidwright/geometry/vec.h"

namespace lidwright {

/// The random numbers of one start: they depend on the seed and the start's number alone, and are
/// the same on every machine (the standard library's distributions are not).
class Draws {
 public:
  Draws(std::uint64_t seed, std::size_t number) {
    std::seed_seq mix{static_cast<std::uint32_t>(seed), static_cast<std::uint32_t>(seed >> 32),
                      static_cast<std::uint32_t>(number)};
    bits_.seed(mix);
  }
  double Uniform(double low, double high) {
    return low + (high - low) * static_cast<double>(bits_() >> 11) * 0x1p-53;
  }

 private:
  std::mt19937_64 bits_;
};

/// The largest distance between two of the points.
inline double Spread(const std::vector<Vec2>& points) {
  double spread = 0.0;
  for (const Vec2& p : points) {
    for (const Vec2& q : points) spread = std::max(spread, (p - q).norm());
  }
  return spread;
}

}  // namespace lidwright
