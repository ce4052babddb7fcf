// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/base/problem.h"
#include "lidwright/geometry/vec.h"

namespace lidwright {

/// Where the case's rear outer face ends at the rim, in a section with x from the back to the front
/// and y up: the face is followed upwards from 0.7 of the case's height as long as it rises. y is
/// where it stops, x where it last rises by 45 degrees or more (a rounded or chamfered edge does
/// not move it). Requires counter-clockwise outer rings with area.
Vec2 RearRim(const std::vector<Ring>& case_rings);

/// x of the rearmost point of the case at height y; nothing if the case does not reach there.
std::optional<double> RearFaceAt(const std::vector<Ring>& case_rings, double y);

/// A depth outside kShallowestBox_mm … kDeepestBox_mm as a problem that asks whether another unit
/// was meant; nothing if the depth is plausible. `how` names the option that would help.
std::optional<Problem> DepthSuspicion(double depth_mm, const std::string& file_name,
                                      const std::string& how);

/// What forbids each of these rings by itself as a part's outline: a ring that crosses itself; or
/// too many points in all. Rule and hint are filled in, file and place are the caller's.
std::optional<Problem> FaultOfEach(const std::vector<Ring>& rings);

/// What forbids them together: also two that cross or touch.
std::optional<Problem> FaultOfRings(const std::vector<Ring>& rings);

/// Depth of overlap of lid and case and a place in it (0 if none), and the least distance between
/// the two if they do not overlap. Edges are asked in the middle of each piece between their
/// crossings with the other outline, so no overlap is missed; its depth is that at these places.
struct Seam {
  double overlap_mm = 0.0;
  Vec2 overlap_at = Vec2::Zero();
  double gap_mm = 0.0;
  Vec2 gap_at = Vec2::Zero();
};
Seam SeamOf(const std::vector<Ring>& case_rings, const std::vector<Ring>& lid_rings);

}  // namespace lidwright
