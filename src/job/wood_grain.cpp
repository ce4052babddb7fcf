// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/wood_grain.h"

namespace lidwright {

const std::vector<WoodGrain>& WoodGrains() {
  static const std::vector<WoodGrain> kGrains{
      {"black cherry", 10300.0, 3.9, 4.8, 0.00248, 0.00126},
      {"hard maple", 12600.0, 4.6, 10.1, 0.00353, 0.00165},
      {"white oak", 12300.0, 5.5, 7.4, 0.00365, 0.00180},
      {"red oak", 12500.0, 5.5, 7.0, 0.00369, 0.00158},
      {"white ash", 12000.0, 6.5, 8.0, 0.00274, 0.00169},
      {"yellow poplar", 10900.0, 3.7, 3.4, 0.00289, 0.00158},
      {"black walnut", 11600.0, 4.8, 7.0, 0.00274, 0.00190},
      {"mahogany", 10340.0, 3.95, 7.6, 0.00238, 0.00172},
      {"yellow birch", 13860.0, 6.3, 6.7, 0.00338, 0.00256},
  };
  return kGrains;
}

const WoodGrain* FindWoodGrain(const std::string& name) {
  for (const WoodGrain& wood : WoodGrains()) {
    if (wood.name == name) return &wood;
  }
  return nullptr;
}

}  // namespace lidwright
