// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/arms/hardware.h"
#include "lidwright/geometry/vec.h"

namespace lidwright {

// Where a screw may stand in wood: 5 diameters from an edge (across the grain), 10 from an end
// (along it); down to 3 and 5 with half the load, its pilot of the full root; nearer it splits.
// Common practice, no source.
inline constexpr double kEdgeFull = 5.0, kEndFull = 10.0;
inline constexpr double kEdgeHalf = 3.0, kEndHalf = 5.0;

/// What a screw bears of its full load where it stands: 1, 0.5 or 0. The wood's outline must stay
/// out of the ellipse about the screw whose half axes are the two distances, along the grain and
/// across it: on a straight edge or end that is the rule, and a corner counts by both.
/// `wood` is the board's face (holes such as other screws' do not belong in it), `grain_rad` its
/// grain from x. A screw outside the wood bears nothing.
double FixingShare(const std::vector<Ring>& wood, const Vec2& screw, double grain_rad,
                   double diameter_mm);

/// [mm] A pilot leaves this much of the wall, so that its tip does not show outside.
inline constexpr double kWallLeft_mm = 1.5;

/// Deepest pilot in a wall: the wall less kWallLeft_mm, at least 0.
double DeepestPilot_mm(double wall_mm);

/// The longest screw of those sold whose tip stays in that pilot, through `over_mm` of plate and
/// packing under its head's top: plate and packing count in full for a countersunk head. Nothing
/// if even the shortest goes too deep.
struct ScrewLength {
  double length_mm = 0.0;
  double thread_mm = 0.0;  ///< in the wood
};
std::optional<ScrewLength> LongestScrew(const std::vector<double>& lengths_mm, double over_mm,
                                        double wall_mm);

}  // namespace lidwright
