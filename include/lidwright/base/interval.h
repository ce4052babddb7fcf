// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <cmath>

namespace lidwright {

/// A closed interval of real numbers. Each operation returns an interval that holds every result,
/// widened by a few units in the last place instead of switching the processor's rounding.
struct Interval {
  double low = 0.0;
  double high = 0.0;

  Interval() = default;
  Interval(double value) : low(value), high(value) {}  // NOLINT: numbers are intervals
  Interval(double l, double h) : low(l), high(h) {}

  double Magnitude() const { return std::max(std::abs(low), std::abs(high)); }
  bool HoldsZero() const { return low <= 0.0 && high >= 0.0; }

  /// Wider by a relative 4e-16 on each side: covers the rounding of one operation.
  static Interval Rounded(double l, double h) {
    constexpr double kUlps = 4e-16;
    return {l - kUlps * std::abs(l), h + kUlps * std::abs(h)};
  }
};

inline Interval operator-(const Interval& a) {
  return {-a.high, -a.low};
}
inline Interval operator+(const Interval& a, const Interval& b) {
  return Interval::Rounded(a.low + b.low, a.high + b.high);
}
inline Interval operator-(const Interval& a, const Interval& b) {
  return a + (-b);
}
inline Interval operator*(const Interval& a, const Interval& b) {
  const double p = a.low * b.low, q = a.low * b.high, r = a.high * b.low, s = a.high * b.high;
  return Interval::Rounded(std::min(std::min(p, q), std::min(r, s)),
                           std::max(std::max(p, q), std::max(r, s)));
}
/// Requires that b does not hold zero.
inline Interval operator/(const Interval& a, const Interval& b) {
  return a * Interval::Rounded(1.0 / b.high, 1.0 / b.low);
}
/// Requires low ≥ 0.
inline Interval Sqrt(const Interval& a) {
  return Interval::Rounded(std::sqrt(a.low), std::sqrt(a.high));
}
/// Cosine over [low, high]; its extremes are the ends and the multiples of π inside. Widened by
/// 1e-15 for the library's own error.
inline Interval Cos(const Interval& a) {
  constexpr double kPi_ = 3.14159265358979323846;
  const double x = std::cos(a.low), y = std::cos(a.high);
  Interval result(std::min(x, y) - 1e-15, std::max(x, y) + 1e-15);
  // Slightly wide on purpose: including an extreme that is just outside does no harm.
  const double first = std::ceil((a.low - 1e-12) / kPi_);
  for (double k = first; k * kPi_ <= a.high + 1e-12; k += 1.0) {
    if (std::fmod(std::abs(k), 2.0) == 0.0) {
      result.high = 1.0;
    } else {
      result.low = -1.0;
    }
  }
  return result;
}
inline Interval Sin(const Interval& a) {
  constexpr double kHalfPi = 1.57079632679489661923;
  return Cos(a - Interval(kHalfPi));
}

}  // namespace lidwright
