// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/geometry/ring.h"

namespace lidwright {

/// Where a level line at height `at` (or an upright one at that x) crosses the outlines, sorted: x
/// (or y) [mm]; solid from 0 to 1, from 2 to 3 …
std::vector<double> Crossings(const std::vector<Ring>& rings, bool level, double at);

}  // namespace lidwright
