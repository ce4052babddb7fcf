// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/geometry/vec.h"

namespace lidwright {

/// Rings with as few of their vertices as stay within `error_mm` of them; those that collapse are
/// left out.
std::vector<Ring> Thinned(const std::vector<Ring>& rings, double error_mm);

/// The vertices, and points along the edges at most `step_mm` apart.
std::vector<Vec2> PointsAlong(const std::vector<Ring>& rings, double step_mm);

}  // namespace lidwright
