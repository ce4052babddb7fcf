// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/base/problem.h"
#include "lidwright/geometry/ring.h"
#include "lidwright/job/job.h"

namespace lidwright {

/// A slice of case and lid, lid shut. Where the section jumps (the inner face of an end wall) two
/// stations share one z.
struct Station {
  double z_mm = 0.0;
  bool end_wall = false;  ///< the solid section of an end wall (R1)
  std::vector<Ring> case_rings;
  std::vector<Ring> lid_rings;
};

/// The room for arms and plates at one end (the other is its mirror), z measured towards +z.
struct BayRoom {
  double z_min_mm = 0.0;  ///< inner limit
  double z_max_mm = 0.0;  ///< at the end wall
  Zone ground;            ///< where ground pivots may lie
  Zone lid;               ///< where lid pivots may lie (its top still has to clear the lid inside)
};

/// Case and lid as stations across the width.
struct Solid {
  std::vector<Station>
      stations;  ///< by growing z, −width/2 … width/2; in mirror-image boxes only z ≥ 0
  bool mirrored = false;        ///< the part with z < 0 is the mirror image of the stations
  double blend_error_mm = 0.0;  ///< greatest distance of the true form from the ruled stations
  double chord_error_mm = 0.0;  ///< greatest distance of curves from their chords
  BayRoom bay;
  double mouth_back_mm = 0.0;   ///< the mouth runs from here …
  double mouth_front_mm = 0.0;  ///< … to here, at its narrowest
  Box2 bounds;                  ///< of everything, lid shut
  double bench_mm = 0.0;        ///< y of the bench
};

/// Stations of the measured form, or of the job's own station outlines; the end walls' stations are
/// made here either way (R1).
///
/// The measured form (all edges circular arcs by their rise): with ζ = 2 z / width, the back stands
/// at x = −bow(ζ), the front at depth + bow(ζ), the rim at y = arch(ζ). The lid's band of height
/// `rim` stands on the rim plus the seam gap; on it a dome whose section at z is a circular arc
/// over the full depth with a rise that goes from `crown_at_ends` at the ends to `crown` in the
/// middle. The lid is hollow to an arc `top` below the dome between walls of thickness `wall`.
///
/// Accuracy: stations are as many as bring the blend error under kBlendError_mm − kChordError_mm
/// (measured at quarter points between them); arcs are cut into chords within kChordError_mm.
/// Requires a job that passed validation.
Solid MakeSolid(const Job& job);

/// What of a solid makes a hinge impossible before any search, with its place in the job: no room
/// for the pivots between walls, floor and rim or under the lid; lid and case overlapping when shut
/// by more than kBlendError_mm. Empty if all is well.
Problems FaultsOf(const Job& job, const Solid& solid);

/// The two rings with matching vertices: both cut at the union of their vertices' shares of the
/// perimeter, starting from the vertex nearest the lower back corner. Corners are kept.
std::pair<Ring, Ring> MatchRings(const Ring& a, const Ring& b);

/// Volume of the lid's ruled solid over the whole width [mm³].
double LidVolume_mm3(const Solid& solid);

}  // namespace lidwright
