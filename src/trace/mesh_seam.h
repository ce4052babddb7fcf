// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>

#include "lidwright/job/job.h"

namespace lidwright {

/// How lid and case lie to each other over all stations.
struct MeshSeam {
  double overlap_mm =
      0.0;  ///< how deep a corner of one, or the middle of an edge, lies in the other
  Vec2 overlap_at = Vec2::Zero();
  double overlap_z_mm = 0.0;
  double gap_mm = 0.0;  ///< least distance, 0 where they touch or overlap
  double gap_z_mm = 0.0;
};
MeshSeam SeamOfStations(const std::vector<StationOutline>& stations);

/// How near the lid comes to the case's back part and to its front part, at the nearest place over
/// the stations less than `face_mm` from the middle; 1e300 if no station lies there. Those at the
/// end walls' faces do not count: a face's solid side is one of them.
struct LidReach {
  double back_mm = 1e300, front_mm = 1e300;
};
LidReach ReachOfLid(const std::vector<StationOutline>& stations, double face_mm);

/// Gives heights of one station that differ by rounding (chains within kRounding_mm) the same
/// value and rounds all coordinates to 1e-4 mm, in small outlines to 1e-6: a rim and the lid on it
/// touch along their whole length or not at all.
void RoundStation(StationOutline* station);

/// [mm] RoundStation moves no point farther than this.
inline constexpr double kRounding_mm = 5e-4;

/// Why these outlines cannot bound a part: one crosses itself, or two meet. Nothing if they can.
std::optional<std::string> FaultOfOutlines(const std::vector<Ring>& rings);

}  // namespace lidwright
