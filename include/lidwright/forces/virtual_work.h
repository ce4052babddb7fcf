// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/forces/balance.h"

namespace lidwright {

// The lid's one freedom, worked out from velocities alone: what each force does per radian that the
// lid opens. Needs no joint forces; balance.h needs no velocities. Each is the other's check.

/// Velocity of the point of `body` that is now at `p`, per radian of lid angle [mm/rad].
Vec2 VelocityOf(const LidMotion& motion, const LidState& state, Body body, const Vec2& p);

/// Work of a force on a body per radian that the lid opens [N·mm].
double WorkOf_nmm(const LidMotion& motion, const LidState& state, Body body, const Vec2& force_n,
                  const Vec2& at);

/// Work per radian of the moments that friction puts on the joints (those of Balance) [N·mm].
double FrictionWork_nmm(const LidState& state, const Balance& balance);

/// Gravity's generalised force against opening: the weights of lid and arms times their rise per
/// radian of lid angle [N·mm]. Positive: the lid wants to shut.
double ClosingMoment_nmm(const LidMotion& motion, const LidState& state, const LoadCase& load);

/// Height of lid and arms weighted by mass: potential energy over gravity [kg·mm].
double WeightHeight_kg_mm(const LidMotion& motion, const LidState& state, const LoadCase& load);

/// The inertia that the lid's angle feels: twice the kinetic energy per squared rate [kg·mm²].
double MovingInertia_kg_mm2(const LidMotion& motion, const LidState& state, const LoadCase& load);

}  // namespace lidwright
