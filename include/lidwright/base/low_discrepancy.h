// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cmath>
#include <cstdint>

namespace lidwright {

/// The additive recurrence x_n = frac(start + n α) in N dimensions with α_k = φ^−(k+1), φ the root
/// of φ^(N+1) = φ + 1 (Roberts 2018, a generalised golden ratio; from memory): evenly spread
/// points without a table. The start comes from the seed by splitmix64.
template <int N>
class LowDiscrepancy {
 public:
  explicit LowDiscrepancy(std::uint64_t seed) {
    double phi = 2.0;
    for (int i = 0; i < 60; ++i) phi = std::pow(1.0 + phi, 1.0 / (N + 1));
    for (int k = 0; k < N; ++k) {
      step_[static_cast<std::size_t>(k)] = std::pow(1.0 / phi, k + 1);
      seed += 0x9e3779b97f4a7c15ULL;
      std::uint64_t x = seed;
      x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9ULL;
      x = (x ^ (x >> 27)) * 0x94d049bb133111ebULL;
      x ^= x >> 31;
      start_[static_cast<std::size_t>(k)] = static_cast<double>(x >> 11) * 0x1.0p-53;
    }
  }
  std::array<double, N> At(std::uint64_t n) const {
    std::array<double, N> point;
    for (std::size_t k = 0; k < N; ++k) {
      const double x = start_[k] + static_cast<double>(n) * step_[k];
      point[k] = x - std::floor(x);
    }
    return point;
  }

 private:
  std::array<double, N> step_{}, start_{};
};

}  // namespace lidwright
