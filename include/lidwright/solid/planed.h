// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace lidwright {

/// [mm] A mounting block's thickness as a rule reads it, to the nearest tenth of a millimetre or
/// 64th of an inch: it is planed to fit.
double PlanedTo_mm(double thickness_mm, bool inches);

}  // namespace lidwright
