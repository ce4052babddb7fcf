// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/geometry/pose.h"
#include "lidwright/geometry/vec.h"

namespace lidwright {

/// The four pivots where they sit when the lid is shut, in the case's frame [mm]. Arm A joins
/// case_a to lid_a, arm B case_b to lid_b.
struct Pivots {
  Vec2 case_a = Vec2::Zero();
  Vec2 case_b = Vec2::Zero();
  Vec2 lid_a = Vec2::Zero();
  Vec2 lid_b = Vec2::Zero();
};

/// A connected range of lid angles around 0 [rad].
struct AngleRange {
  double low_rad = 0.0;
  double high_rad = 0.0;
  bool high_is_change_point = false;  ///< it does not turn back at high_rad: see LidMotion
};

/// The bodies that move. All their frames coincide with the case's when the lid is shut.
enum class Body {
  kCase,
  kLid,
  kArmA,
  kArmB,
  kBrought,  ///< a part or a tool on its way in; no body of the linkage
};
inline constexpr int kBodies = 5;

/// The linkage at one lid angle. Rates are per radian of lid angle.
struct LidState {
  double theta_rad = 0.0;
  Vec2 lid_a = Vec2::Zero();  ///< the lid's pivots in the case's frame now [mm]
  Vec2 lid_b = Vec2::Zero();
  double rate_a = 0.0;  ///< d(arm A's angle)/dθ
  double rate_b = 0.0;
  Pose X_CL;  ///< the lid in the case
};

/// The motion of a lid on four pivots, followed by the lid's own angle θ.
///
/// With d(θ) = (case_b − case_a) − R(θ)(lid_b − lid_a), pivot A lies where the circle of radius
/// a about case_a meets the circle of radius b about case_a + d (the coupler loop closed by
/// inversion). |d|² is a constant plus a multiple of cos(θ − θ₀), so the range of θ on the closed
/// pose's branch has a closed form; at its ends the arms are parallel and θ turns back. Inside the
/// range θ is strictly monotone along the motion, so following θ loses nothing (R7).
///
/// The range ends as well at a change point, where arms and plates come to lie on one line, as
/// equal arms on equal plates do: two motions meet there and nothing says which of them goes on.
/// Lengths that balance to kBalancedLengths of their sum count as balanced, and the range ends
/// kBeforeChange_rad before the point itself.
///
/// A plain hinge is the same thing with one body fewer: MakePlain.
class LidMotion {
 public:
  /// Requires finite pivots. Fails (nothing) if an arm or the coupler has no length or the arms
  /// are parallel when shut: there θ cannot start.
  static std::optional<LidMotion> Make(const Pivots& pivots);

  /// The lid on one fixed pivot.
  static LidMotion MakePlain(const Vec2& pivot);

  const Pivots& pivots() const { return pivots_; }
  bool plain() const { return plain_; }
  double arm_a_mm() const { return a_; }
  double arm_b_mm() const { return b_; }

  /// The largest connected range of θ around 0 in which this branch is determined, |θ| ≤ π.
  AngleRange Range() const { return range_; }

  /// Requires θ strictly inside Range(). Accuracy: rounding, growing as the arms near parallel.
  LidState At(double theta_rad) const;

  /// Pose of a body in the case at a state.
  Pose BodyPose(Body body, const LidState& state) const;

  /// Angle an arm has turned since closed, in (−π, π].
  double ArmTurn_rad(Body arm, const LidState& state) const;

  /// The lid's instant centre: where the lines of the two arms meet.
  Vec2 InstantCentre(const LidState& state) const;

  /// Angle between the lines of the two arms, 0…π/2: small means that the lid is badly held.
  double ArmsAngle_rad(const LidState& state) const;

  /// Transmission angle at pivot B (driven through arm A): between coupler and arm B, 0…π/2.
  double TransmissionAngle_rad(const LidState& state) const;

  /// Lid angles in [0, to] where an arm lines up with the coupler (the other arm turns back there:
  /// a dead point when that other arm drives), growing.
  std::vector<double> DeadPoints(double to_rad) const;

 private:
  LidMotion() = default;

  Pivots pivots_;
  bool plain_ = false;
  double a_ = 0.0, b_ = 0.0;  // arm lengths
  double side_ = 1.0;         // sign of cross(d, A − A0) on this branch
  Vec2 ground_ = Vec2::Zero(), coupler_ = Vec2::Zero();
  AngleRange range_;

  friend class MotionBounds;
};

}  // namespace lidwright
