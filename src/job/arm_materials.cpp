// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/arm_materials.h"

namespace lidwright {

const std::vector<ArmMaterial>& ArmMaterials() {
  static const std::vector<ArmMaterial> kMaterials{
      {"birch plywood", 38.0, 4.0, "generic plywood study, low end"},
      {"hardwood", 85.0, 4.0, "Wood Handbook, black cherry, along the grain"},
      {"brass", 110.0, 2.0, "cartridge brass, soft temper"},
      {"aluminium", 255.0, 2.0, "6061-T6"},
      {"stainless steel", 207.0, 2.0, "304, annealed"},
      {"acrylic", 54.0, 4.0, "PMMA, low end"},
  };
  return kMaterials;
}

const ArmMaterial* FindArmMaterial(const std::string& name) {
  for (const ArmMaterial& material : ArmMaterials()) {
    if (material.name == name) return &material;
  }
  return nullptr;
}

}  // namespace lidwright
