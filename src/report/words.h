// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/design/design.h"

namespace lidwright {

// Numbers as words for the maker, in the job's unit. Bounds are rounded away from what would claim
// more than was proven.

enum class Rounding { kDown, kUp };

std::string Rounded(double value, int decimals, Rounding rounding);

/// A length that was found: "2.67 mm", "0.1051 in"; "-" if unknown.
std::string LengthIn(double mm, bool inches, Rounding rounding = Rounding::kDown);

/// A force: "12 N"; an inch job gets "12 N (2.7 lbf)"; "-" if unknown or without limit.
std::string ForceIn(double n, bool inches);
inline constexpr double kKgPerLb = 0.45359237;          // exact, by definition
inline constexpr double kNPerLbf = kKgPerLb * 9.80665;  // with standard gravity

/// A length as the maker gave it: "2 mm", "0.0625 in".
std::string Asked(double mm, bool inches);

/// A value of a verdict or of what is missing, by its unit: "mm", "share", "of it", "deg", …
std::string Quantity(double value, const std::string& unit, bool inches,
                     Rounding rounding = Rounding::kDown);

/// "needs 2 mm" or "at most 25 mm", and "has 2.67 mm"; empty where there is no number.
std::string Required(const Verdict& verdict, bool inches);
std::string Found(const Verdict& verdict, bool inches);

/// What the nearest linkage found misses, as a sentence without capital and full stop.
std::string NearestText(const NoHinge& none, bool inches);

/// The gap with the least beyond what is asked for, or null.
const Verdict* LeastToSpare(const Verdicts& verdicts);

bool IsStraight(const Arm& arm);

}  // namespace lidwright
