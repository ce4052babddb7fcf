// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/design/make_design.h"

namespace lidwright {

/// Places for a pivot around `at` on a square grid, the nearest first: samples, kPlacesStep_mm
/// apart or the shop's grid if that is coarser, and all of them on it.
std::vector<Vec2> PlacesAround(const Job& job, const Vec2& at);

/// Does the lid keep all that is asked of it on these pivots? Arms and parts are not looked at.
bool LidClears(const BoxModel& box, const Pivots& pivots);

}  // namespace lidwright
