// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/job/job.h"
#include "lidwright/solid/solid.h"

namespace lidwright {

/// A body as seen from the side, from its stations; across the width it is taken as balanced.
struct MassProperties {
  double mass_kg = kUnset;
  Vec2 centre = Vec2::Zero();      ///< case's frame, lid shut [mm]
  double inertia_kg_mm2 = kUnset;  ///< about the axis along z through the centre
};

/// The lid: volume of its ruled solid times the job's density, or the weighed mass spread the same
/// way. Sections between stations are linear blends, so area and first moments are polynomials in z
/// that Simpson's rule integrates exactly (up to third degree); the inertia is exact for prisms and
/// within the blend's error otherwise.
MassProperties MassOfLid(const Job& job, const Solid& solid);

/// The empty case, of the same density.
MassProperties MassOfCase(const Job& job, const Solid& solid);

}  // namespace lidwright
