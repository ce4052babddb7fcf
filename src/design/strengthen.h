// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "finish_hinge.h"
#include "lidwright/arms/hinge_set.h"

namespace lidwright {

/// The options that a hinge's parts were made with.
HingeSetOptions AsMade(const Hinge& hinge);

/// The hinge with parts made anew, its forces with them.
Hinge MadeAnew(const BoxModel& box, const Swing& swing, const Hinge& hinge,
               const HingeSetOptions& options);

/// Whether all that lacks strength could be mended by `Strengthen`.
bool LacksOnlyStopOrRow(const Hinge& hinge);

/// What parts alone mend on the same pivots and with the same sizes, while one of these is the
/// weakest: a stop of thicker rod, a longer row of the lid plate's screws. Requires parts, forces
/// and arms.
void Strengthen(const BoxModel& box, const Swing& swing, Hinge& hinge);

}  // namespace lidwright
