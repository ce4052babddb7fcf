// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>

namespace lidwright {

/// A length as a maker writes it, in millimetres: "12", "5.25", "3/8", "5-3/16", "5 3/16", with or
/// without a sign, followed or not by a unit: mm, cm, in, inch or ". Blanks around the parts do not
/// matter, upper and lower case neither.
///
/// A text without a unit counts in `mm_per_unit` millimetres; where that is not a number (kUnset)
/// a text without a unit is refused.
///
/// Fails (nothing returned): anything else, such as an empty text, "5-3", "3/0", "5-16/3" (a mixed
/// number's fraction must be below one), "1e3", "nan", or more than twelve digits in a row.
std::optional<double> ReadLength_mm(const std::string& text, double mm_per_unit);

}  // namespace lidwright
