// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/columns.h"

#include <cmath>
#include <limits>

#include "lidwright/base/check.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

void Require(const Strut& c) {
  LW_REQUIRE(c.length_mm > 0.0 && c.area_mm2 > 0.0 && c.second_mm4 > 0.0 && c.modulus_mpa > 0.0 &&
                 c.yield_mpa > 0.0 && c.ends > 0.0,
             "length=" << c.length_mm << " area=" << c.area_mm2 << " second=" << c.second_mm4);
}

}  // namespace

Strut RectangularStrut(double length_mm, double width_mm, double thickness_mm, double modulus_mpa,
                       double yield_mpa) {
  return {length_mm, width_mm * thickness_mm, width_mm * std::pow(thickness_mm, 3) / 12.0,
          modulus_mpa, yield_mpa};
}

double EulerLoad_n(const Strut& column) {
  Require(column);
  return kPi * kPi * column.modulus_mpa * column.second_mm4 * column.ends /
         (column.length_mm * column.length_mm);
}

double JohnsonLoad_n(const Strut& column) {
  Require(column);
  // (L/k)² = L² A / I.
  const double slenderness2 =
      column.length_mm * column.length_mm * column.area_mm2 / column.second_mm4;
  return column.area_mm2 * column.yield_mpa *
         (1.0 -
          column.yield_mpa * slenderness2 / (4.0 * kPi * kPi * column.modulus_mpa * column.ends));
}

double StrutLoad_n(const Strut& column) {
  const double euler = EulerLoad_n(column);
  return euler <= column.area_mm2 * column.yield_mpa / 2.0 ? euler : JohnsonLoad_n(column);
}

double MomentMagnifier(double push_n, double critical_n) {
  LW_REQUIRE(critical_n > 0.0, "critical=" << critical_n);
  if (push_n <= 0.0) return 1.0;
  if (push_n >= critical_n) return std::numeric_limits<double>::infinity();
  return 1.0 / (1.0 - push_n / critical_n);
}

}  // namespace lidwright
