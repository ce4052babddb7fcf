// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <functional>
#include <vector>

#include "lidwright/geometry/ring.h"

namespace lidwright {

/// The inside of a hollow lid in one section: between the walls' inner faces it ends below a
/// ceiling, and where the ceiling would come down to the rim, below the rim's height. Places s [mm]
/// are measured from the dome's middle, heights y [mm] in the case's frame.
struct HollowSection {
  /// A place where ceiling or floor bends; the same bend has the same number in every section.
  struct Bend {
    int number;
    double s_mm;
  };
  double middle_mm = 0.0, half_mm = 0.0;     ///< of the room between the walls
  double from_mm = 0.0, to_mm = 0.0;         ///< the walls' inner faces
  std::function<double(double)> ceiling_mm;  ///< over the floor or not
  std::function<double(double)> floor_mm;
  std::vector<Bend> ceiling_bends, floor_bends;  ///< between the faces, by growing place

  double InsideAt(double s_mm) const { return std::max(floor_mm(s_mm), ceiling_mm(s_mm)); }
};

/// From one corner (or wall) to the next the inside is either all ceiling or all floor.
struct HollowRun {
  bool ceiling = false;
  double from_mm = 0.0, to_mm = 0.0;
  std::vector<HollowSection::Bend> bends;  ///< of what it is, inside it
};

/// Where the inside of a lid gets its vertices: at the corners in which ceiling and floor meet, at
/// the bends, and between those at shares of the way that suit every section of a stretch. So
/// sections match vertex by vertex though their corners move.
struct HollowPlan {
  std::vector<HollowRun> runs;  ///< their places are those of one section
  /// For each run, between its ends and bends, growing, 0 < share < 1.
  std::vector<std::vector<std::vector<double>>> shares;
};

/// A ceiling that rises over the floor by less than this [mm] between two corners is left to the
/// wood: far less than a chord's error, far more than rounding.
inline constexpr double kLeastRun_mm = 0.005;

/// From the back wall to the front's, end to end.
std::vector<HollowRun> RunsOf(const HollowSection& section);

/// Are they in turn of ceiling and floor alike, with the same bends?
bool Alike(const std::vector<HollowRun>& a, const std::vector<HollowRun>& b);

/// A plan for sections with runs alike, whose chords stay within `error_mm` of every one of these.
HollowPlan PlanFor(const std::vector<HollowSection>& sections, double error_mm);

/// The inside from the back wall's face to the front's, (s, y). The vertices number the same for
/// every section of a plan; runs of ceiling that a section lacks have no height there.
std::vector<Vec2> InsideOf(const HollowSection& section, const HollowPlan& plan);

/// How far the inside is from the polyline through these points, at most, looked at from four
/// places on each piece [mm].
double ChordErrorOf(const HollowSection& section, const std::vector<Vec2>& points);

}  // namespace lidwright
