// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

namespace lidwright {

/// What a wood of job/woods.h is across its grain, and how it moves: at 12 % moisture, means of
/// clear specimens.
struct WoodGrain {
  std::string name;               ///< as in Woods()
  double modulus_mpa;             ///< along the grain, in bending
  double tension_across_mpa;      ///< pulled apart across the grain
  double compression_across_mpa;  ///< pressed across the grain (at the elastic limit)
  double tangential_per_percent;  ///< dimensional change coefficient C, along the rings
  double radial_per_percent;      ///< and square to them: relative change per % of moisture
};

/// Moduli: USDA Wood Handbook, FPL-GTR-282, Table 5-3a and the pages named with it in
/// job/woods.h (READ). Dimensional change coefficients: Wood Handbook, FPL-GTR-190, Table 13-5
/// (READ, as reproduced on a page), yellow poplar and mahogany from memory. Strengths across the
/// grain: Table 5-3a, from memory; hard maple's tension is black maple's and mahogany's is 0.05 of
/// its bending strength (no value known). Birch plywood has no line: it is layers (job/plywood.h).
const std::vector<WoodGrain>& WoodGrains();

/// The wood of that name, or nothing.
const WoodGrain* FindWoodGrain(const std::string& name);

}  // namespace lidwright
