// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>

#include "lidwright/arms/arm_outline.h"
#include "lidwright/arms/arm_room.h"

namespace lidwright {

/// A centre line for an arm of this shape that keeps `need_mm` between its sides and everything in
/// its room, at the room's sampled accuracy: the straight line if it fits, else the shortest way on
/// the grid with as few corners as see each other, its corners moved and rounded as widely as fits.
/// Nothing if there is no way or none that can be rounded for the cutter.
std::optional<Centreline> RouteArm(const ArmRoom& room, const ArmShape& shape, double need_mm);

}  // namespace lidwright
