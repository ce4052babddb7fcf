// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/arms/arm.h"
#include "lidwright/job/job.h"
#include "lidwright/solid/solid.h"

namespace lidwright {

/// How heavy a body is and where, in the case's frame with the lid shut.
struct MassProperties {
  double mass_kg = kUnset;
  Vec2 centre = Vec2::Zero();      ///< side view [mm]
  double z_mm = 0.0;               ///< across the width; 0 in a box that is its own mirror image
  double inertia_kg_mm2 = kUnset;  ///< about the axis along z through the centre
};

/// The lid's wood: volume of its ruled solid times the job's density (a wood at 12 % moisture), or
/// the weighed mass spread the same way. A weighed mass is the whole lid's as it hangs, with what
/// is screwed to it. Sections between stations are linear blends, so area and moments are
/// polynomials in z that Simpson's rule integrates exactly up to third degree: mass and centre are
/// exact for the ruled solid; the inertia is exact for prisms and within the blend's error
/// otherwise.
MassProperties MassOfLid(const Job& job, const Solid& solid);

/// The empty case, of the same density.
MassProperties MassOfCase(const Job& job, const Solid& solid);

/// One flat piece at each end of the box, together: the outline less its holes, `thickness_mm`
/// thick. Arcs become chords within 0.1 µm.
MassProperties MassOfPair(const Outline& outline, const std::vector<Circle>& holes,
                          double thickness_mm, double density_kg_m3);

/// The same of an arm with its two holes.
MassProperties MassOfArms(const Arm& arm, double density_kg_m3);

/// Two bodies as one. Bodies without mass (0 or unset) add nothing.
MassProperties Together(const MassProperties& p, const MassProperties& q);

}  // namespace lidwright
