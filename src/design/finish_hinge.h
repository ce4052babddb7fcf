// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/design/make_design.h"

namespace lidwright {

/// What the forces do to a hinge with arms: with its own parts, or without any with usual ones.
void AddForces(const BoxModel& box, Hinge& hinge);

/// What is made once arms are known: the other parts, and the forces with them.
void AddParts(const BoxModel& box, Hinge& hinge);

/// What a hinge file gives, with the other parts and the forces, without a stay.
Hinge JudgeAsGiven(const BoxModel& box, const GivenHinge& given);

/// The gap of lid to case at the angles of the forces' feel.
void AddGapByAngle(const BoxModel& box, Hinge& hinge);

/// Clears, with every part made; how strong it is is another question.
bool ClearsWithAllParts(const Hinge& hinge);

/// Trial builds of a hinge that clears.
void AddTrialBuilds(const BoxModel& box, int builds, int threads, Hinge& hinge);

}  // namespace lidwright
