// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/geometry/outline.h"

namespace lidwright {

/// A radius of an outline, to be named where it is [mm, the outline's frame].
struct Radius {
  double radius_mm = 0.0;
  Vec2 on_arc = Vec2::Zero();   ///< a point of the arc, out of the way of what stands in its middle
  Vec2 outward = Vec2::Zero();  ///< away from its centre
  bool inside = false;          ///< an inside corner's
};

/// Each different radius once, at its longest arc; first those that a cutter must get into; six at
/// most.
std::vector<Radius> RadiiOf(const Outline& outline);

}  // namespace lidwright
