// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/base/problem.h"
#include "lidwright/base/units.h"
#include "lidwright/geometry/outline.h"
#include "lidwright/geometry/vec.h"
#include "lidwright/job/job.h"

namespace lidwright {

/// An arm's shape in the closed pose, in the case's frame, counter-clockwise.
struct GivenArm {
  Outline outline;
  int layer = 0;            ///< 0 or 1
  double hole_mm = kUnset;  ///< diameter of its holes, if the file says
  /// Its middle line from case to lid pivot, as outlines are but open; of a file that lidwright
  /// wrote, else empty.
  std::vector<OutlineVertex> centreline{};
};

/// A hinge that the maker has: measured from a box, drawn, or written by lidwright. All in mm in
/// the frame of job.h, closed pose.
struct GivenHinge {
  Vec2 case_a = Vec2::Zero(), case_b = Vec2::Zero();
  Vec2 lid_a = Vec2::Zero(), lid_b = Vec2::Zero();
  std::optional<GivenArm> arm_a, arm_b;
};

/// The sizes that a hinge was made with.
struct MadeSizes {
  ArmWish arms;
  PlateWish plates;
};

struct PivotReading {
  std::optional<GivenHinge> hinge;  ///< only when there are no problems
  Problems problems{};
  std::optional<MadeSizes> sizes{};  ///< of a file that lidwright wrote
};

/// Reads the text of a hinge file (JSON): "units", "pivots" with case_a, case_b, lid_a, lid_b
/// as [x, y], and, if wanted, "arms" with a and b: {"layer": 0 or 1, "outline": [[x, y, bulge], …],
/// "hole_mm"}. Bulges are those of OutlineVertex; a point [x, y] begins a straight edge. Outlines
/// that run clockwise are turned round.
///
/// Keys that begin with # are remarks. Others that it does not know are errors in a maker's own
/// file. In a file whose "format" is a version of kHingeFormat they are passed over, so that a
/// hinge.json can be fed back.
///
/// Fails as ReadJob does; also when two pivots of one arm or of one plate coincide.
PivotReading ReadPivots(const std::string& text, const std::string& file_name);

}  // namespace lidwright
