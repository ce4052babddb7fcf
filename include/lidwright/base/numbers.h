// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

namespace lidwright {

/// Locale-free text of a number with at most `decimals` places and no trailing zeros: 2.50 ->
/// "2.5". Never "-0". Not-a-number reads "-".
std::string Text(double value, int decimals = 3);

/// The same with exactly `decimals` places.
std::string Fixed(double value, int decimals);

/// A length for people: "12.5 mm", or "0.492 in" for those who measure in inches.
std::string LengthText_mm(double value_mm, bool inches);

/// Shortest text that reads back to the same double.
std::string Exact(double value);

}  // namespace lidwright
