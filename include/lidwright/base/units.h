// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <limits>
#include <numbers>

namespace lidwright {

inline constexpr double kPi = std::numbers::pi;
inline constexpr double kRadPerDeg = kPi / 180.0;
inline constexpr double kDegPerRad = 180.0 / kPi;
inline constexpr double kMmPerInch = 25.4;
inline constexpr double kKgPerLb = 0.45359237;    ///< exact, by definition
inline constexpr double kGravity_m_s2 = 9.80665;  ///< standard gravity
/// A field nobody filled.
inline constexpr double kUnset = std::numeric_limits<double>::quiet_NaN();

}  // namespace lidwright
