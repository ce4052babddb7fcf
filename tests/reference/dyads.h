// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <complex>
#include <optional>
#include <vector>

#include "lidwright/base/units.h"
#include "lidwright/geometry/pose.h"
#include "lidwright/geometry/vec.h"

/// Arms that carry a body exactly through given poses (rigid-body guidance, Burmester theory).
///
/// An arm is a dyad: a fixed pivot, and a moving pivot that is fixed to the body and stays at one
/// distance from it. Poses X_WM place the moving body's frame M in the drawing W; only
/// displacements between poses count. In the vector form of the books W is the arm (fixed to moving
/// pivot) and Z runs from the moving pivot to M's origin, both at the first pose, and
///     W (e^{iβj} − 1) + Z (e^{iαj} − 1) = Pj − P1
/// with βj the arm's turn and αj the body's since the first pose.
namespace lidwright {

struct Dyad {
  Vec2 fixed = Vec2::Constant(kUnset);   ///< in W [mm]
  Vec2 moving = Vec2::Constant(kUnset);  ///< in W, where it stands at the first pose [mm]
  double Length_mm() const { return (moving - fixed).norm(); }
};

/// Where the dyad's moving pivot stands at another pose of the body.
Vec2 MovingPivotAt(const Dyad& dyad, const Pose& first, const Pose& pose);

/// The point of the body that two poses share: the centre of the one turn from one to the other,
/// P + p / (1 − e^{iα}) = P + p / 2 + (i p / 2) cot(α / 2), p the way of M's origin P. Nothing if
/// the body does not turn.
std::optional<Vec2> PoleOf(const Pose& from, const Pose& to);

/// The arm for two poses, given Z and the arm's turn β2. Nothing if β2 is a whole number of turns.
std::optional<Dyad> TwoPoseDyad(const Pose& first, const Pose& second, const Vec2& z_mm,
                                double arm_turn_rad);

/// The arm for three poses, given its turns β2, β3: two linear equations for W and Z (Sandor &
/// Erdman's standard form). Nothing if they are dependent.
std::optional<Dyad> ThreePoseDyad(const std::array<Pose, 3>& poses, double second_turn_rad,
                                  double third_turn_rad);

/// Centre of the circle through three points; nothing if they are in line.
std::optional<Vec2> CircleCentre(const Vec2& a, const Vec2& b, const Vec2& c);

/// The arm for three poses with a chosen moving pivot (given at the first pose): its fixed pivot is
/// the centre of the circle through the pivot's three positions. Nothing if they are in line.
std::optional<Dyad> ThreePoseDyadAt(const std::array<Pose, 3>& poses, const Vec2& moving_mm);

/// The arms for four poses whose moving pivot, at the first pose, lies on the line through `point`
/// along `direction`: the line meets the circle-point curve, a cubic, in at most three points.
/// Requires a direction of non-zero length. Accuracy as for FivePoseDyads.
std::vector<Dyad> FourPoseDyads(const std::array<Pose, 4>& poses, const Vec2& point_mm,
                                const Vec2& direction);

/// A solution of the five-pose problem in complex numbers.
struct ComplexDyad {
  std::array<std::complex<double>, 2> fixed, moving;
};

struct FivePoseDyads {
  std::vector<Dyad> real;        ///< 0, 2 or 4, sorted by the fixed pivot's x, then y
  std::vector<ComplexDyad> all;  ///< the real ones first, then conjugate pairs
  int at_infinity = 0;           ///< solutions that are sliders: a pivot infinitely far away
  bool finitely_many = true;     ///< false: the poses are special (nothing is listed then)
};

/// All arms for five poses. A circle is one of the constraints
///     p0 |d|² + (p1, p2) · Rᵀd + (p3, p4) · d + p5 cos θ + p6 sin θ + p7 = 0,
/// linear in p, with p1 p3 + p2 p4 = 2 p0 p5 and p1 p4 − p2 p3 = 2 p0 p6. Five poses leave a plane
/// of p, in which these two conics meet in four points; p0 = 0 are the sliders. Each point is then
/// sharpened by Newton's method on |moving pivot − fixed pivot| alone.
/// Accuracy: the five distances agree to 1e-10 of the size of the task, unless two solutions nearly
/// coincide. A pair is called real if its imaginary parts vanish to kRealDyad of that size.
FivePoseDyads SolveFivePoses(const std::array<Pose, 5>& poses);

}  // namespace lidwright
