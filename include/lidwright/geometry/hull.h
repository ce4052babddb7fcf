// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/geometry/vec.h"

namespace lidwright {

/// The convex hull, counter-clockwise, without points on its edges (Andrew's monotone chain).
Ring ConvexHull(std::vector<Vec2> points);

}  // namespace lidwright
