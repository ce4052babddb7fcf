// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/base/bench.h"
#include "lidwright/certify/verdict.h"

namespace lidwright {

/// A length as it stands on a drawing in the maker's unit, by the rule of its kind (base/bench.h):
/// "219.5", or in inches 8-21/32" where it is a 64th and 8.659" where it is not. Not-a-number reads
/// "-". Minus is U+2212 here and below.
std::string LengthText(double mm, bool inches, Bench kind = Bench::kHole);

/// A hole's place for a column of a table, without the unit: "40.00", "1-9/16", "1.575".
std::string PlaceText(double mm, bool inches);

/// A gap as it was judged: "2.1 mm" or without its unit "2.1", 5/64".
std::string GapText(const Verdict& verdict, bool with_unit, bool inches);

/// Room that is needed, beside the room there is: "93.7", 3-11/16".
std::string RoomText(double needed_mm, double there_is_mm, bool inches);

}  // namespace lidwright
