// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "job/station_measures.h"

namespace lidwright {

/// What the sections of a job show of the case's walls: case.back_wall, case.front_wall, case.floor
/// and case.end_wall, those that they show at all. Not of the lid's: lid.wall beside stations is
/// what its ends are made with where these do not show, whatever its band is.
///
/// Walls are looked at on level lines between floor and rim of every section that is open at its
/// top, from their own face and from the section's, and square to a wall that leans. The end wall
/// begins between the outermost open section and the closed one beyond it; where all sections are
/// open the ends' walls are the program's to make and nothing is shown.
/// Requires: the case's width set, stations of both sides or of z ≥ 0 alone, in any order.
std::vector<ShownMeasure> WallsShown(const Job& job);

}  // namespace lidwright
