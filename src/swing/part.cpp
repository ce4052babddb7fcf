// SPDX-License-Identifier: Apache-2.0
#include "lidwright/swing/part.h"

#include <utility>

namespace lidwright {

Part MakePrism(std::string name, Body body, double z_min_mm, double z_max_mm,
               std::vector<Ring> rings, double error_mm) {
  Part part{std::move(name), body, z_min_mm, z_max_mm, rings, {}, error_mm};
  part.at_z_max = std::move(rings);
  return part;
}

}  // namespace lidwright
