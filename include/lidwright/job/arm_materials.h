// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

namespace lidwright {

/// What arms may be cut from. `strength_mpa` is what a stress is held against: yield for metals,
/// modulus of rupture for wood, tensile strength for plastic, each at the low end of its range.
struct ArmMaterial {
  std::string name;
  double strength_mpa;
  double factor_wanted;  ///< safety factor asked for (common practice, no source)
  std::string source;
};

/// Sources as read on secondary pages unless marked; tempers and sheets vary, so these are for
/// judging, not for certifying.
const std::vector<ArmMaterial>& ArmMaterials();
const ArmMaterial* FindArmMaterial(const std::string& name);

}  // namespace lidwright
