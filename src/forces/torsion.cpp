// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/torsion.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

// Σ 1/n⁵ over odd n (31/32 of ζ(5)), and 1 − 1/9 + 1/25 − … (Catalan's constant): what the series
// would be for an infinitely wide bar, so that only terms that die out exponentially are left.
constexpr double kOddFifths = 31.0 / 32.0 * 1.03692775514336993;
constexpr double kCatalan = 0.915965594177219015;
constexpr int kTerms = 25;  // [1] the last is under e^(−24 π)

}  // namespace

BarTorsion TorsionOfBar(double side_mm, double other_side_mm) {
  LW_REQUIRE(side_mm > 0.0 && other_side_mm > 0.0, "sides " << side_mm << ", " << other_side_mm);
  const double a = std::max(side_mm, other_side_mm), b = std::min(side_mm, other_side_mm);
  // With x = n π a / (2b): J = a b³ (1/3 − 64 b / (π⁵ a) Σ tanh(x)/n⁵), shear per twist in units of
  // G b: wide 1 − 8/π² Σ 1/(n² cosh x), narrow 8/π² Σ sin(n π/2) tanh(x)/n², n odd.
  double stiff = kOddFifths, wide = 0.0, narrow = kCatalan;
  for (int n = 1; n <= kTerms; n += 2) {
    const double x = n * kPi * a / (2.0 * b), nn = static_cast<double>(n) * n;
    const double decay = std::exp(-2.0 * x);                  // 0 for wide bars
    const double short_of_one = 2.0 * decay / (1.0 + decay);  // 1 − tanh x
    stiff -= short_of_one / (nn * nn * n);
    wide += 2.0 * std::exp(-x) / (nn * (1.0 + decay));  // 1 / (n² cosh x)
    narrow -= (n % 4 == 1 ? 1.0 : -1.0) * short_of_one / nn;
  }
  BarTorsion torsion;
  torsion.j_mm4 = a * b * b * b * (1.0 / 3.0 - 64.0 * b / (std::pow(kPi, 5) * a) * stiff);
  const double wide_shear = 1.0 - 8.0 / (kPi * kPi) * wide;
  torsion.w_mm3 = torsion.j_mm4 / (b * wide_shear);
  torsion.narrow_over_wide = 8.0 / (kPi * kPi) * narrow / wide_shear;
  return torsion;
}

}  // namespace lidwright
