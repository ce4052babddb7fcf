// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/solid/solid.h"

namespace lidwright {

/// Does the case's end lean or is it cupped, so that plates need an upright face? The lid needs one
/// too, unless a lip along the ends has its rail as far in.
bool NeedsBlock(const MountingBlock& block);

/// [mm] A mounting block's thickness as a rule reads it, to the nearest tenth of a millimetre or
/// 64th of an inch: it is planed to fit.
double PlanedTo_mm(double thickness_mm, bool inches);

}  // namespace lidwright
