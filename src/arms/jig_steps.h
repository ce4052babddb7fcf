// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "lidwright/arms/jig.h"
#include "lidwright/arms/plates.h"

namespace lidwright {

/// [mm] A hole for a pin in wood is deeper than the pin by this: room for glue and chips.
inline constexpr double kUnderPin_mm = 0.5;

/// How the jig is used, by what holds the pins, in the maker's words.
std::vector<JigStep> JigSteps(const Job& job, const Solid& solid, const StackPlan& plan,
                              const Hardware& hardware, const std::optional<Plate>& lid_plate,
                              const std::optional<Stop>& stop, const Jig& jig);

}  // namespace lidwright
