// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/forces/lid_mass.h"
#include "lidwright/linkage/lid_motion.h"

namespace lidwright {

/// Does the open lid tip the box over backwards? The box, empty, stands on its bottom and tips
/// about what stands rearmost on the bench at the ends, (Solid::stands_back_mm, bench).
struct Tipping {
  double case_mass_kg = kUnset;
  double least_margin_nmm =
      kUnset;              ///< weights' moment that keeps it standing, least over the swing
  double at_rad = kUnset;  ///< and where that is
  double pull_n = kUnset;  ///< force at the open lid's far edge, in the worst direction,
                           ///< that tips it
};
Tipping TippingOf(const Job& job, const Solid& solid, const LidMotion& motion,
                  const MassProperties& lid, const Vec2& front_edge);

}  // namespace lidwright
