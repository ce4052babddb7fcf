// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/design/make_design.h"
#include "lidwright/synthesis/lid_builds.h"

namespace lidwright {

// The one merit by which hinges are compared is made here, of the certified hinge and nothing else:
// LidMerit's shares from its pivots with its own play and its own way of fixing, then those of its
// arms, of its strength and of its trial builds. What the search reckons with before there are arms
// only orders its work.

/// How a hinge's lid is used: the play of the bushings it gets, and what its arms are off along
/// their lines when all is fixed. A plate is fixed with the lid shut; where pins go straight into
/// wood at both ends, two holes are marked with the lid shut and are off by the drill's error.
LidUse UseOf(const BoxModel& box);

/// The merit's share of strength: what lacks in use and leaned on; NaN before forces are known.
double StrengthLacking(const Hinge& hinge);

/// The merit of a hinge as far as it is worked out: shares whose part of the hinge does not exist
/// yet (arms, forces) are kUnset and count nothing in Total. Builds that miss something are those
/// of hinge.accuracy, until that is worked out those of `shares`.
Merit MeritOf(const BoxModel& box, const LidUse& use, const Hinge& hinge,
              const BuildShares& shares);

}  // namespace lidwright
