// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/design/design.h"

namespace lidwright {

/// An arm's holes as the bench drills them, and the bushing that is pressed in: it is the bushing's
/// outside that arms are found and certified with.
struct ArmHoles {
  double drilled_mm = kUnset;  ///< NaN where the hinge's parts were not made
  double bushing_mm = kUnset;
};

/// Those of arm A or B. Requires the arm.
ArmHoles HolesOf(const Hinge& hinge, Body arm);

/// "hole 3.9 mm for a 4 mm bushing pressed in"; glued in where the hole is no smaller; "hole for a
/// 4 mm bushing" where the fit is not known, "hole 4 mm" where there is no bushing.
std::string HoleText(const ArmHoles& holes, bool inches);

}  // namespace lidwright
