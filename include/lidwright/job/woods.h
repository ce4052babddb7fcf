// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

namespace lidwright {

/// A wood at 12 % moisture.
struct Wood {
  std::string name;
  double specific_gravity;  ///< oven-dry mass over the volume at 12 % moisture, to water
  double bending_mpa;       ///< modulus of rupture
  double compression_mpa;   ///< along the grain
  double shear_mpa;         ///< along the grain
};

/// USDA Wood Handbook, FPL-GTR-282, Table 5-3a, read as digitised elsewhere; mahogany's gravity and
/// shear and birch plywood's gravity from memory. Means of clear specimens: real boards vary.
const std::vector<Wood>& Woods();

/// The wood of that name, or nothing.
const Wood* FindWood(const std::string& name);

/// Mass over volume at 12 % moisture [kg/m³]: the oven-dry mass and the water in it.
inline double Density_kg_m3(const Wood& wood) {
  return 1000.0 * wood.specific_gravity * 1.12;
}

}  // namespace lidwright
