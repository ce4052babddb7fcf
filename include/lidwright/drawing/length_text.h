// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

namespace lidwright {

/// A length as it stands on a drawing in the maker's unit: "219.5" (two decimals at most), or in
/// inches as the nearest fraction, 1/64 at the finest: 8-21/32". Not-a-number reads "-". Minus is
/// U+2212 here and below, so that it cannot be taken for the dash of a mixed number.
std::string LengthText(double mm, bool inches);

/// The nearest fraction of an inch, 1/64 at the finest and reduced, without the unit: "5-3/16",
/// "3/8", "−1/2", "0".
std::string FractionText(double mm);

/// With a fixed number of decimals and without the unit: "40.00", or in inches "1.575".
std::string DecimalText(double mm, bool inches);

/// A gap or another small length that a fraction would blur: "2.13 mm", 0.084".
std::string GapText(double mm, bool inches);

}  // namespace lidwright
