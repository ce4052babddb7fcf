// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/geometry/ring.h"
#include "lidwright/geometry/vec.h"

/// What a body that touches its surroundings can begin to do, to first order (Reuleaux 1875): about
/// which centres it can start to turn without driving any contact together.
///
/// A body turning counter-clockwise at 1 rad about c moves its point p by z × (p − c), so with the
/// normal n pointing into the moving body the contact opens at n · (z × (p − c)) = cross(p − c, n).
/// Contacts that neither open nor close (rate 0) are decided by second-order terms, not here.
namespace lidwright {

struct PlanarContact {
  Vec2 point = Vec2::Zero();   ///< where moving and fixed body touch [mm]
  Vec2 normal = Vec2::Zero();  ///< across the contact, into the moving body; any length > 0
};

enum class Turning { kCounterClockwise = +1, kClockwise = -1 };

/// [mm / rad for unit normals] The rate at which the slowest contact opens when the body turns
/// about `centre`; negative if one is driven together. Infinity without contacts.
double LeastSeparationRate(const std::vector<PlanarContact>& contacts, const Vec2& centre,
                           Turning sense);

/// The same for a body that moves along `direction` without turning (centre at infinity).
double LeastSeparationRate(const std::vector<PlanarContact>& contacts, const Vec2& direction);

enum class Opening {
  kNotClosing,  ///< every rate >= 0: rolling and sliding contacts are allowed
  kStrict,      ///< every rate > 0: all contacts part at once
};

/// May the body turn about `centre` in this sense, to first order?
bool CentreAllows(const std::vector<PlanarContact>& contacts, const Vec2& centre, Turning sense,
                  Opening opening);

/// All centres inside `box` about which the body may turn in this sense (kNotClosing): for
/// counter-clockwise turns the centres on or to the left of every line through a contact along its
/// normal, for clockwise ones to the right. A convex polygon, counter-clockwise; empty if the
/// region has no area. Requires finite contacts with normals of non-zero length and a box that is
/// not empty.
Ring AllowedCentres(const std::vector<PlanarContact>& contacts, Turning sense, const Rect2& box);

}  // namespace lidwright
