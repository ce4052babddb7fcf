// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/woods.h"

namespace lidwright {

const std::vector<Wood>& Woods() {
  static const std::vector<Wood> kWoods{
      {"black cherry", 0.50, 85.0, 49.0, 11.7},  {"hard maple", 0.63, 109.0, 54.0, 16.1},
      {"white oak", 0.68, 105.0, 51.3, 13.8},    {"red oak", 0.63, 99.0, 46.6, 12.3},
      {"white ash", 0.60, 106.0, 51.1, 13.2},    {"yellow poplar", 0.42, 70.0, 38.2, 8.2},
      {"black walnut", 0.55, 100.7, 52.3, 9.45}, {"mahogany", 0.45, 79.0, 46.7, 8.5},
      {"yellow birch", 0.62, 114.5, 56.3, 13.0}, {"birch plywood", 0.68, 38.0, 25.0, 8.0},
  };
  return kWoods;
}

const Wood* FindWood(const std::string& name) {
  for (const Wood& wood : Woods()) {
    if (wood.name == name) return &wood;
  }
  return nullptr;
}

}  // namespace lidwright
