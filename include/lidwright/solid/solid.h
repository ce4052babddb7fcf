// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "lidwright/base/problem.h"
#include "lidwright/geometry/ring.h"
#include "lidwright/job/job.h"

namespace lidwright {

/// A slice of case and lid, lid shut. Where the section jumps (the inner face of an end wall) two
/// stations share one z.
struct Station {
  double z_mm = 0.0;
  bool end_wall = false;  ///< the case's solid section of an end wall (R1)
  std::vector<Ring> case_rings;
  std::vector<Ring> lid_rings;
  /// With a lip along the ends: outside the bay, where the case is hollow still, or has ended.
  bool beyond_bay = false;
};

/// A lip along the ends, at the +z end.
struct EndLip {
  double z_min_mm = 0.0;  ///< its inner face …
  double z_max_mm = 0.0;  ///< … and its outer one
  double rail_mm = 0.0;  ///< z of the lid's inner face: over the seam its end is solid from here …
  double outside_mm = 0.0;  ///< … to here
};

/// The room for arms and plates at one end (the other is its mirror), z measured towards +z.
struct BayRoom {
  double z_min_mm = 0.0;  ///< inner limit
  double z_max_mm = 0.0;  ///< at the end wall
  Zone case_zone;         ///< where case pivots may lie
  Zone lid_zone;          ///< where lid pivots may lie (its top still has to clear the lid inside)
};

/// What plates stand on where an end leans or is cupped: a block between the end wall and the
/// upright plane z = BayRoom::z_max_mm, so that pins run square to the side view. All 0 for an
/// upright end.
struct MountingBlock {
  double at_rim_mm = 0.0;    ///< its thickness at the rim …
  double at_floor_mm = 0.0;  ///< … and on the floor
  double wedge_rad = 0.0;    ///< its back is bevelled by this: the end's flare
  double lid_mm = 0.0;       ///< thickness of the lid's block, not bevelled
};

/// Case and lid as stations across the width.
struct Solid {
  std::vector<Station>
      stations;  ///< by growing z, −width/2 … width/2; in mirror-image boxes only z ≥ 0; to the
                 ///< end of the lid, where that reaches over the case's
  bool mirrored = false;             ///< the part with z < 0 is the mirror image of the stations
  double blend_error_mm = 0.0;       ///< greatest distance of the true form from the ruled stations
  double chord_error_mm = 0.0;       ///< greatest distance of the lid's curves from their chords
  double case_chord_error_mm = 0.0;  ///< the same of the case's
  BayRoom bay;
  MountingBlock block;
  std::optional<EndLip> end_lip;
  std::vector<Vec2> end_face;  ///< the end wall's inner face from the rim down to the floor, (z, y)
  double mouth_back_mm = 0.0;  ///< the mouth runs from here …
  double mouth_front_mm = 0.0;   ///< … to here, at its narrowest
  Rect2 bounds;                  ///< of everything, lid shut
  double bench_mm = 0.0;         ///< y of the bench
  double stands_back_mm = 0.0;   ///< x of what stands on the bench at the ends: rearmost …
  double stands_front_mm = 0.0;  ///< … and foremost
  /// The same sections for weighing, where `stations` are filled to be on the safe side (a leaning
  /// end taken as solid from its innermost place on); empty where nothing is. See TrueStations.
  std::vector<Station> true_stations;
};

/// The stations to weigh: each wall as thick as it is, at its mean place. A body that has ended has
/// no rings.
inline const std::vector<Station>& TrueStations(const Solid& solid) {
  return solid.true_stations.empty() ? solid.stations : solid.true_stations;
}

/// Stations of the measured form, or of the job's own station outlines; the end walls' stations are
/// made here either way (R1).
///
/// The measured form. With half the width w, the section at z has its rim's corners at
///   back   x = −arc(w, back_bow, z),  front  x = depth + arc(w, front_bow, z),
///   level  y = arc(w, rim_arch, z),
/// arc(h, r, s) being the height at s of the circular arc that rises r over a chord of 2 h.
/// - Rim: level + A(x), A(0) = 0, the same A in every section: a circular arc with its crest,
///   rim_arch_side high, at depth / 2, and straight along its tangents over the walls of case and
///   lid, as far as those (and an inside lip) reach in any section, and 1 mm + |rim_arch_side| / 2.
/// - Walls: at `down` below their rim's corner they stand in by down · tan(flare) + arc(H/2, cup,
///   down − H/2), H the wall's height from that corner to the underside; as thick, level, as given.
/// - Bottom: the floor is flat; the underside, `feet` above the bench, rises by `bottom_hollow` as
///   an arc both ways. Feet run from end to end.
/// - Ends: they stand in likewise. From the innermost place of their inner face on (that is where
///   the bay ends) both bodies are taken as solid; the lower part of a leaning end's outside is cut
///   off where it has left the section.
/// - Lid: a band up to `rim` over the level plus the seam gap; over it the dome, whose section
///   rises by R(z) = crown_at_ends + (crown − crown_at_ends) · c(z/w) and has, t from its middle to
///   the edge, the height R · c(t): c an arc of the section's own rise (circular), √(1 − t²)
///   (elliptical), (1 − tⁿ)^(1/n) (superelliptic) or the given points, scaled.
/// - Inside the lid: walls, and `top` below the dome a ceiling: the concentric arc under a circular
///   dome, under given points the same line over the inside's width, else upright below it; thicker
///   towards the edges by (top_at_edges − top) (t² + ζ² − t²ζ²), ζ = z/w. Where it would come lower
///   than 0.1 mm over the rim at the walls, or under the rim between them, it ends there. Or one
///   piece of wood, its underside an arc both ways that rises by `hollow`, not under the rim.
/// - Lip: along back and front, inside parallel to the case's inner faces at `lip_play`, or outside
///   upright, the seam going on level over its play; it ends where the bay does, and there is none
///   along the ends.
/// - Lip at the ends, if asked for. Inside: an upright tongue whose outer face stands `lip_play`
///   off the innermost place of the end wall's inner face from the rim's corners down to its tip
///   (the rim's sag counted in), from the back lip's outer face to the front lip's, its underside
///   `lip` below the seam at every x; back and front lips run up to its outer face.
///   The lid's end is solid from the tongue's inner face on, or from `wall` in if that is farther,
///   and the bay ends there or at the end wall's innermost place. Past that place the case has the
///   end wall's inner face for a floor (a little filled where that is steep), and behind the
///   tongue's play it is solid.
///   Outside: the lid is `lip_play` + `lip_wall` longer at each end, its crown's curve ends there,
///   back, front and rim go on beyond the case as at its ends, and the last `lip_wall` of it hangs
///   `lip` below them.
///
/// Accuracy: stations are as many as bring the blend error under kBlendError_mm − kChordError_mm
/// (measured at quarter points between them, down to slices of a millionth of a millimetre); curves
/// are cut into chords within kChordError_mm. Corners of the lid's inside, where its ceiling meets
/// that floor, have vertices of their own in every section; where they change their number, two
/// stations share one z, as at a jump.
/// Where the seam gap is 0 lid and case share the seam's vertices.
/// Requires a job that passed validation.
Solid MakeSolid(const Job& job);

/// z of the lid's inner face at the +z end, and of its outer face.
double LidFace_mm(const Job& job, const Solid& solid);
double LidEnd_mm(const Job& job, const Solid& solid);

/// The station where the end wall at +z begins beside the bay.
const Station& EndWallBeside(const Solid& solid);

/// Whether contents stand beside the bay at either end.
bool InBay(const Contents& contents, const BayRoom& bay);

/// What of a solid makes a hinge impossible before any search, with its place in the job: no room
/// for the pivots between walls, floor and rim or under the lid; sections that cross themselves;
/// lid and case overlapping when shut by more than kBlendError_mm, or meeting nowhere. Empty if all
/// is well.
Problems FaultsOf(const Job& job, const Solid& solid);

/// The two rings with matching vertices: both cut at the union of their vertices' shares of the
/// perimeter, starting from the vertex nearest the lower back corner. Corners are kept.
std::pair<Ring, Ring> MatchRings(const Ring& a, const Ring& b);

/// Volume of the lid's wood over the whole width [mm³], sections blended.
double LidVolume_mm3(const Solid& solid);

}  // namespace lidwright
