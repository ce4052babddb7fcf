// SPDX-License-Identifier: Apache-2.0
#pragma once

/// Every threshold of the program in one place: name, size, unit, reason.
namespace lidwright {

/// [mm] How far a reported least gap may lie below the true minimum. A tenth of the finest thing a
/// shop drill does; costs about one halving of the swing more for each factor of four.
inline constexpr double kGapTolerance_mm = 0.01;

/// [mm] Near the closed pose a pair of parts may come this much closer than when closed and still
/// count as "not closer": rims that touch along a curved or twisted seam touch along chords here.
inline constexpr double kContactSlack_mm = 0.01;

/// [mm] Two features closer than this when closed are in contact.
inline constexpr double kContact_mm = 1e-6;

/// [rad] So long before the opening angle a stop must be free: half a degree.
inline constexpr double kStopFree_rad = 0.5 * 3.14159265358979323846 / 180.0;

/// [mm] The chord of a polyline stays this near the curve that it replaces.
inline constexpr double kChordError_mm = 0.02;

/// [mm] The ruled surface between two stations stays this near the measured form.
inline constexpr double kBlendError_mm = 0.05;

/// [mm] Points nearer than this are one point when outlines are checked and closed.
inline constexpr double kSamePoint_mm = 1e-7;

/// [rad] The finest piece of a swing: below this an undecided piece counts as not proven.
inline constexpr double kFinestSwing_rad = 2e-6;

/// [mm] The same where a part is brought in along a straight way.
inline constexpr double kFinestSlide_mm = 1e-4;

/// [mm] No point of a box or a part of it lies farther from the origin: the rounding of poses is
/// reckoned for this.
inline constexpr double kFarthestPoint_mm = 5000.0;

/// [mm] A distance of two features reckoned from coordinates within kFarthestPoint_mm is this good:
/// some ten roundings of 2⁻⁵³ · 5000 mm, ten times over.
inline constexpr double kDistanceRounding_mm = 1e-10;

/// [count] A walk over a motion begins with the motion halved this often: eight pieces, of which
/// each is looked at in its middle before any is halved further.
inline constexpr int kFirstHalvings = 3;

/// [count] A vertex and an edge are halved at most this often between two stations: enough to tell
/// 1e-4 mm where the edge's end sweeps a few hundred millimetres.
inline constexpr int kRuledSplits = 40;

/// [count] Where parts meet, their depth is looked for at so many places over the motion.
inline constexpr int kDepthLooks = 48;

/// [mm] Places as near as each other to this are told apart in the parts' order, so that it is the
/// same one everywhere: far over kDistanceRounding_mm.
inline constexpr double kSameGap_mm = 1e-6;

/// [mm] What is plenty or too little by this is so whatever the rounding: ten times
/// kDistanceRounding_mm.
inline constexpr double kSure_mm = 1e-9;

/// [mm] What touched when shut stays this far apart once it has parted: more than
/// kDistanceRounding_mm, less than any gap that is asked for.
inline constexpr double kParted_mm = 1e-7;

/// [1] A direction may lean this much over a neighbouring edge (its sine) and still count as the
/// one in which a corner parts: over a hand's breadth that is kContact_mm to a tenth.
inline constexpr double kLean = 1e-6;

/// [mm] What is shorter than this points nowhere.
inline constexpr double kNoDirection_mm = 1e-12;

/// [1] Pieces of a motion are taken wider by this share than they are, limits larger: thousands of
/// roundings of 2⁻⁵³, so that neighbours meet and nothing falls between.
inline constexpr double kHair = 1e-12;

/// [1] Neighbouring pieces of MotionBounds overlap by this share of their width: angles are rounded
/// by a share of the whole swing, of which the finest piece is a 2⁻¹⁶th.
inline constexpr double kPieceOverlap = 1e-9;

/// [1] Squares and products of lengths of a linkage are good to this share of the largest: some
/// hundred roundings of 2⁻⁵³, ten times over.
inline constexpr double kSquaresRounding = 1e-13;

/// [mm] A limit of 0 (wall behind, ceiling, contents) counts as kept when the error of the model
/// alone makes it doubtful by less than this: what a wall is flat to, and twice the blend error.
inline constexpr double kLimitSlack_mm = 0.1;

/// [1] Two circles that miss each other by this share of (radii + distance) count as touching: the
/// rounding of a distance and two radii, so that a linkage stretched exactly flat is not lost.
inline constexpr double kTouchingCircles = 4e-16;

/// [1] Sums of link lengths that differ by this share of all four count as equal (change point):
/// the rounding of lengths computed from pivots.
inline constexpr double kEqualSums = 1e-13;

/// [1] Arms and plates whose lengths balance to this share of their sum bring a lid to a change
/// point: there rounding, or in a shop the play of the pins, decides how it goes on. Where they
/// miss each other by more, a pose beside that point keeps seven digits (its direction is that of a
/// difference as small as this, of lengths good to 1e-16).
inline constexpr double kBalancedLengths = 1e-9;

/// [1] Arms whose lines meet at a smaller angle (its sine) are parallel when shut: of it rounding
/// leaves three digits.
inline constexpr double kParallelArms = 1e-12;

/// [1] At a dead point coupler and arm end this share of their lengths from where one line puts
/// them: thousands of roundings, and no other place comes so near.
inline constexpr double kInOneLine = 1e-9;

/// [1] A dead point belongs to the branch followed if pivot A is this share of the arm's length
/// (and a millimetre) from where it must be; the root that tells the branches loses half the
/// digits.
inline constexpr double kThisBranch = 1e-6;

/// [rad] Two dead points nearer than this are one.
inline constexpr double kSameAngle_rad = 1e-9;

/// [rad] The motion of a lid ends this far before its change point. What tells its branches apart
/// vanishes there with the square of the angle, in the rounding from about 1e-8 on.
inline constexpr double kBeforeChange_rad = 1e-5;

/// [mm] In a cut file an arc that rises less than this over its chord is written straight: no
/// cutter shows it, and readers stumble over radii of kilometres.
inline constexpr double kFlatArc_mm = 1e-6;

/// [bytes] A job or hinge file may be this large: a hundred stations of a thousand points take
/// half.
inline constexpr unsigned kLargestJob_bytes = 8u << 20;

/// [1] Values (numbers, texts, lists …) in a job or hinge file: bounds the memory it can take.
inline constexpr unsigned kMostJobValues = 1000000;

/// [1] Lists and objects within each other in a job or hinge file; a job needs six.
inline constexpr unsigned kDeepestJob = 64;

/// [bytes] Keys of a job file longer than this are cut in messages and get no "did you mean".
inline constexpr unsigned kLongestKey_bytes = 64;

/// [1] Points in the outlines of one part at one station; the crossing check is quadratic in it.
inline constexpr unsigned kMostOutlinePoints = 4000;

/// [1] Vertices in the outline of an arm read from a hinge file: lines and arcs, so few are many.
inline constexpr unsigned kMostArmVertices = 1000;

/// [1] Problems listed for one job; the rest is only counted.
inline constexpr unsigned kMostProblems = 100;

/// [mm] Two pivots of one arm or plate nearer than this are one: no two pins stand so near, and an
/// arm shorter than this is a slip of the pen.
inline constexpr double kSamePivot_mm = 0.1;

/// [1] Three points are in line if the area between them is this share of the products that it is
/// the difference of: some fifty roundings of 2⁻⁵³.
inline constexpr double kInLine = 1e-14;

/// [mm²] An outline round less than this encloses nothing.
inline constexpr double kNoArea_mm2 = 1e-9;

/// [rad] An outline that turns in by more than this has an inside corner there, which no cutter
/// enters; arcs that join smoothly turn by rounding.
inline constexpr double kInsideCorner_rad = 1e-6;

/// [mm] The outermost stations may stand this far from half the case's width.
inline constexpr double kStationEnd_mm = 0.01;

/// [1] A determinant, a leading coefficient or a singular value that is this share of its
/// neighbours counts as zero in the synthesis of dyads: thousands of roundings, far below any real
/// task.
inline constexpr double kVanishing = 1e-11;

/// [1] A root whose imaginary part is this share of its size counts as real: the root of a
/// rounding, which is what two real roots that nearly coincide may show.
inline constexpr double kRealDyad = 1e-7;

/// [1] Points of all stations' outlines in a report's page, about 14 bytes each and written up to
/// four times (slices, and solid between slices that differ): beyond that outlines are thinned, so
/// that the page stays under 1.5 MB.
inline constexpr unsigned kMostPagePoints = 20000;

/// [rad] Poses and curves in a report's page stand at most this far apart: half a degree, between
/// which straight interpolation moves a point 300 mm away by less than 0.01 mm off its path.
inline constexpr double kPageStep_rad = 0.5 * 3.14159265358979323846 / 180.0;

/// [mm] Ends of drawn lines nearer than this are one point: drawing programs write three decimals.
inline constexpr double kTouch_mm = 1e-3;

/// [mm] Depths of a box from … to …: outside, a drawing or a mesh is suspected of a wrong unit.
inline constexpr double kShallowestBox_mm = 30.0;
inline constexpr double kDeepestBox_mm = 2000.0;

/// [bytes] A drawing may be this large: a section takes kilobytes, a whole chest some megabytes.
inline constexpr unsigned kLargestDrawing_bytes = 64u << 20;

/// [1] Curves of one drawing with all its blocks and symbols carried out, lines and arcs alike: a
/// section has a hundred, a full sheet some thousands.
inline constexpr unsigned kMostCurves = 200000;

/// [1] Points of all a drawing's curves as polylines, to bound time and memory.
inline constexpr unsigned kMostDrawnPoints = 1000000;

/// [1] A drawing's coordinates may be this large in its own units: beyond, products of two overflow
/// what a double tells apart in a box.
inline constexpr double kFarthestCoordinate = 1e9;

/// [1] Facets of one mesh; ten times what a chest with carving takes. About 100 bytes each.
inline constexpr unsigned kMostFacets = 2000000;

/// [bytes] A mesh's file may be this large: kMostFacets as binary take 100 MB, as text five times
/// that, and nobody means so many.
inline constexpr unsigned kLargestMesh_bytes = 256u << 20;

/// [mm] Heights of a mesh's vertices nearer than this are one height when steps are looked for, and
/// slices beside a step are taken this far from it: float coordinates of a metre are good to 6e-5.
inline constexpr double kSliceNudge_mm = 1e-3;

/// [mm] Corners and edges nearer than this are one where drawn pieces are united: what is left of
/// rounding when they were turned and moved, and ten times what a job file's decimals tell apart.
inline constexpr double kUnited_mm = 1e-5;

/// [mm] A lid of a mesh may float this far above the case, or end this far before the case's ends,
/// and count as shut: seam gaps of drawings. More is an error of placing.
inline constexpr double kLargestSeam_mm = 3.0;

/// [1] A pin straight in wood has this many diameters of wood from its centre to the wood's surface
/// (common practice): less splits.
inline constexpr double kWoodRoundPin = 2.0;

}  // namespace lidwright
