// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>

namespace lidwright {

/// Locale-free text of a number with at most `decimals` places and no trailing zeros: 2.50 ->
/// "2.5". Never "-0". Not-a-number reads "-".
std::string Text(double value, int decimals = 3);

/// The same with exactly `decimals` places.
std::string Fixed(double value, int decimals);

/// How many times a load is borne, the same wherever it is told: rounded down to a tenth, below a
/// tenth to a hundredth.
std::string TimesBorne(double times);

/// A length for people: "12.5 mm", or "0.492 in" for those who measure in inches.
std::string LengthText_mm(double value_mm, bool inches);

/// A length as rules and drills are marked in inches, to the nearest 64th: 9.525 mm -> "3/8",
/// 131.76 mm -> "5-3/16", 0 -> "0"; negative ones with "-" before. Not-a-number as Text() has it.
std::string InchFraction(double mm);

/// How far a length is from the nearest 64th of an inch, in 64ths: 0 … 0.5.
double OffSixtyfourth(double mm);

/// What stands between the given blanks at both ends.
std::string Trimmed(const std::string& text, const char* blanks = " \t\r");

/// A number of digits, sign and point, the whole text over; nothing for anything else.
std::optional<double> PlainNumber(const std::string& text);

/// Shortest text that reads back to the same double.
std::string Exact(double value);

}  // namespace lidwright
