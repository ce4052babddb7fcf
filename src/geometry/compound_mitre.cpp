// SPDX-License-Identifier: Apache-2.0
#include "lidwright/geometry/compound_mitre.h"

#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/units.h"

namespace lidwright {

LeaningCorner CornerOf(double first_lean_rad, double second_lean_rad) {
  const double a = first_lean_rad, b = second_lean_rad;
  LW_REQUIRE(std::abs(a) < kPi / 2.0 && std::abs(b) < kPi / 2.0, "first=" << a << " second=" << b);
  LeaningCorner corner;
  corner.between_faces_rad = std::acos(-std::sin(a) * std::sin(b));
  const double bevel = kPi / 2.0 - corner.between_faces_rad / 2.0;
  corner.first = {std::atan(std::cos(a) * std::tan(b)), bevel};
  corner.second = {std::atan(std::cos(b) * std::tan(a)), bevel};
  return corner;
}

}  // namespace lidwright
