// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/arms/shape_arms.h"

namespace lidwright {

/// How deep a pin goes straight into a wall: 8 mm, or what leaves 2 mm of the wall outside it.
double PinDepthIn_mm(double wall_mm);

/// For each pin that the job wants straight in the wood (plates.on_case, plates.on_lid false): has
/// it two diameters of wood from its centre to the nearest surface of the end wall all the way in
/// (common practice), and does it go in two diameters deep? Nothing where plates carry all pins.
Verdicts PinsInWood(const ArmsTask& task, const Pivots& pivots);

/// Can what the job wants carry the lid's pivots: a plate (LidPlateRoom), or the wood.
Verdicts PivotsHeld(const ArmsTask& task, const LidMotion& motion);

}  // namespace lidwright
