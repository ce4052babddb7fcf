// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>

#include "lidwright/geometry/vec.h"

namespace lidwright {

/// The point at distance r0 from c0 and r1 from c1 that lies to the left (side = +1) or to the
/// right (side = −1) of the directed line c0→c1; nothing if the circles do not meet or are
/// concentric. The half chord comes from the product of the four sums of Heron's formula, which
/// loses nothing when the circles nearly touch; circles that miss each other by less than
/// kTouchingCircles of their sizes count as touching.
/// Accuracy: |p − c0| and |p − c1| are right to 1e-15 (r0 + r1 + |c0| + |c1|).
/// Requires r0, r1 >= 0, side = ±1.
std::optional<Vec2> CircleMeeting(const Vec2& c0, double r0_mm, const Vec2& c1, double r1_mm,
                                  int side);

}  // namespace lidwright
