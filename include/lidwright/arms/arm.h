// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "lidwright/geometry/outline.h"
#include "lidwright/swing/clearance.h"

namespace lidwright {

/// The centre line of an arm from its case pivot to its lid pivot: points joined by straight
/// lines and arcs (bulge as in OutlineVertex; the last vertex has none).
using Centreline = std::vector<OutlineVertex>;

/// An arm as it is cut, in the case's frame with the lid shut.
struct Arm {
  Centreline centreline;
  Outline outline;   ///< as cut, counter-clockwise
  Circle case_hole;  ///< for the bushings
  Circle lid_hole;
  int layer = 0;          ///< 0 next to the plates, 1 on spacers beyond it
  double z_min_mm = 0.0;  ///< at the +z end of the box; the other end is the mirror image
  double z_max_mm = 0.0;
  double inside_radius_mm = 0.0;  ///< smallest inside radius of the outline
  double length_mm = 0.0;         ///< pivot to pivot
};

}  // namespace lidwright
