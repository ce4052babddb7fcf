// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <optional>

#include "lidwright/base/units.h"
#include "lidwright/geometry/pose.h"
#include "lidwright/geometry/vec.h"

/// The textbook four-bar, driven by its crank.
///
/// Frame: ground pivot O2 at (0, 0), ground pivot O4 at (ground, 0). The crank joins O2 to A, the
/// coupler A to B, the rocker O4 to B. Angles are radians, counter-clockwise from the direction
/// O2→O4: the crank's of O2→A, the coupler's of A→B, the rocker's of O4→B. Angles come back in
/// (−π, π]; compare them modulo a full turn.
namespace lidwright {

struct LinkLengths {
  double ground_mm = kUnset;
  double crank_mm = kUnset;
  double coupler_mm = kUnset;
  double rocker_mm = kUnset;
};

/// Which of the two ways to close the loop. Open: B lies left of the directed line A→O4.
enum class Branch { kOpen = +1, kCrossed = -1 };

struct FourBarPosition {
  double coupler_rad = kUnset;
  double rocker_rad = kUnset;
  Vec2 a = Vec2::Constant(kUnset);  ///< crank pin [mm]
  Vec2 b = Vec2::Constant(kUnset);  ///< rocker pin [mm]
};

/// Where the linkage stands at a crank angle; nothing if it cannot be closed there.
/// Requires positive, finite lengths.
std::optional<FourBarPosition> SolvePosition(const LinkLengths& lengths, double crank_rad,
                                             Branch branch);

/// First or second derivatives of the coupler's and the rocker's angle, in the time unit in which
/// the crank's rates are given.
struct FourBarRates {
  double coupler = kUnset;
  double rocker = kUnset;
};

/// ω3 and ω4 for the crank turning at `crank_rate`, from the velocity of B along both of its arms:
/// ω3 = (a ω2 / b) sin(θ4 − θ2) / sin(θ3 − θ4) and ω4 = (a ω2 / c) sin(θ2 − θ3) / sin(θ4 − θ3).
/// Nothing at a dead point of the crank (coupler and rocker in line).
std::optional<FourBarRates> AngularVelocities(const LinkLengths& lengths,
                                              const FourBarPosition& position, double crank_rate);

/// α3 and α4, likewise; `rates` are the velocities that belong to `crank_rate`.
std::optional<FourBarRates> AngularAccelerations(const LinkLengths& lengths,
                                                 const FourBarPosition& position,
                                                 const FourBarRates& rates, double crank_rate,
                                                 double crank_acceleration);

/// Point of the coupler that does not move at this moment (I13): where the lines of the crank and
/// of the rocker meet. Nothing if they are parallel: then the coupler translates, or, at a dead
/// point with all links in line, the centre is not determined.
std::optional<Vec2> InstantCentre(const LinkLengths& lengths, const FourBarPosition& position);

/// The angle at B between coupler and rocker, 0…π (both branches have the same):
/// cos μ = (b² + c² − a² − d² + 2ad cos θ2) / (2bc), evaluated without cancellation. Nothing if the
/// linkage cannot be closed.
std::optional<double> TransmissionAngle_rad(const LinkLengths& lengths, double crank_rad);

struct AngleSpan {
  double low_rad = kUnset;
  double high_rad = kUnset;
};

/// Least and largest transmission angle over all crank angles the linkage can reach; 0 and π are
/// its dead points. Nothing if no crank angle closes it.
std::optional<AngleSpan> TransmissionExtremes(const LinkLengths& lengths);

/// Crank angles that close the linkage: low <= |θ2| <= high with θ2 in (−π, π]. An end other than 0
/// and π is a dead point of the crank: coupler and rocker lie in line, folded at `low`, stretched
/// at `high`. [0, π] is the full turn. Nothing if no crank angle closes it.
std::optional<AngleSpan> CrankLimits(const LinkLengths& lengths);

/// Crank and coupler in line: here the rocker stands at an end of its swing and could not drive the
/// crank. Given with B on or above the ground line; its mirror image is the other one.
struct TogglePosition {
  double crank_rad = kUnset;
  double rocker_rad = kUnset;
};
struct TogglePositions {
  std::optional<TogglePosition> stretched;  ///< |O2 B| = crank + coupler
  std::optional<TogglePosition> folded;     ///< |O2 B| = |crank − coupler| > 0
};
TogglePositions Toggles(const LinkLengths& lengths);

/// What turns fully, by Grashof's rule: with shortest s, longest l and p, q between, a link makes
/// full turns against another only if s + l <= p + q.
enum class GrashofClass {
  kDoubleCrank,   ///< s + l < p + q, the ground is the shortest
  kCrankRocker,   ///< s + l < p + q, the crank is the shortest
  kRockerCrank,   ///< s + l < p + q, the rocker is the shortest
  kDoubleRocker,  ///< s + l < p + q, the coupler is the shortest
  kChangePoint,   ///< s + l = p + q to kEqualSums: all links can lie in one line
  kTripleRocker,  ///< s + l > p + q
  kCannotClose,   ///< the longest is longer than the other three together
};
GrashofClass Classify(const LinkLengths& lengths);

/// A point fixed to the coupler; `point_mm` is in the coupler's frame (origin A, x towards B).
Vec2 CouplerPoint(const FourBarPosition& position, const Vec2& point_mm);

/// A four-bar somewhere in the drawing that traces a curve with one point of its coupler.
struct TracingFourBar {
  LinkLengths lengths;
  Vec2 point_mm = Vec2::Constant(kUnset);  ///< in the coupler's frame
  Pose X_WG;                               ///< the linkage's own frame G in the drawing W
};

/// The traced point in W; the crank angle is measured from the linkage's own ground line.
std::optional<Vec2> TracedPoint(const TracingFourBar& linkage, double crank_rad, Branch branch);

/// The three four-bars that trace the same coupler curve (Roberts 1875, Chebyshev 1878): the given
/// one (O_A, O_B), the left one (O_A, O_C) and the right one (O_B, O_C), each with its first named
/// pivot as the crank's. O_C completes a triangle similar to the coupler's. With s = AP / AB as a
/// complex number the left one is (d, b, a, c) · |s| and turned by arg s, and the right one is
/// (d, b, c, a) · |1 − s|.
/// Requires a tracing point that is neither A nor B (else there are no others).
std::array<TracingFourBar, 3> Cognates(const TracingFourBar& linkage);

}  // namespace lidwright
