// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "lidwright/base/units.h"
#include "lidwright/forces/load_case.h"
#include "lidwright/linkage/lid_motion.h"

namespace lidwright {

/// A force on a point of the lid.
struct LidLoad {
  Vec2 force_n = Vec2::Zero();
  Vec2 at = Vec2::Zero();  ///< now, in the case's frame
};

/// What keeps the linkage at rest: one force of known line and unknown size, or a moment.
struct Holder {
  bool moment = false;  ///< a pure moment on the lid, counter-clockwise positive
  Body body = Body::kLid;
  Vec2 at = Vec2::Zero();     ///< now, in the case's frame
  Vec2 along = Vec2::Zero();  ///< unit; the held size counts along it
};

/// A hand at the lid's point `edge` (lid's frame) that pushes square to the line from it to the
/// instant centre, so along its path; positive opens.
Holder HandAt(const LidMotion& motion, const LidState& state, const Vec2& edge);

/// Friction of the joints while the lid is about to move: each holds against its turning with
/// coefficient · pin radius · its load (the friction circle).
struct JointFriction {
  double coefficient = 0.0;
  std::array<double, kJoints> radius_mm{0.0, 0.0, 0.0, 0.0};
  double sense = 0.0;  ///< +1 about to open, −1 about to shut, 0 none
};

/// Everything that acts at rest, both ends of the box together, in newtons and N·mm.
struct Balance {
  double held = kUnset;             ///< size of the holder
  std::array<Vec2, kJoints> joint;  ///< case joints: case on arm; lid joints: arm on lid
  std::array<double, kJoints> friction_nmm{0.0, 0.0, 0.0, 0.0};  ///< moments, on the same bodies
  bool settled = true;  ///< false: friction locks the joints, no size of the holder would do
};

/// Nine equations, three for each of lid and arms, for the four joints' forces and the holder, by
/// force balance: no velocity enters but the senses of friction. Weights act at the bodies'
/// centres; `loads` are further forces on the lid. Friction is found by repeating with the loads
/// found before, until they change by less than 1e-12 of themselves.
///
/// Requires a linkage (not plain) whose arms are not parallel at this state.
/// Accuracy: rounding times the condition of the nine equations, about 1e-12 in ordinary linkages.
Balance BalanceAt(const LidMotion& motion, const LidState& state, const LoadCase& load,
                  const Holder& holder, const std::vector<LidLoad>& loads = {},
                  const JointFriction& friction = {});

/// The joints' friction of a load case.
JointFriction FrictionOf(const LoadCase& load, double sense);

/// The force in an arm along its line at the lid's joint, pulling positive (both ends together).
double PullInArm_n(const LidMotion& motion, const LidState& state, const Balance& balance,
                   bool arm_b);

}  // namespace lidwright
