// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/material_data.h"

#include <cmath>

#include "lidwright/arms/shop_sheets.h"
#include "lidwright/base/check.h"
#include "lidwright/job/arm_materials.h"

namespace lidwright {
namespace {

// Strength and factor are job/arm_materials.h's, density is arms/shop_sheets.h's: one place for
// each number.
MaterialData Arms(const std::string& name, double modulus, double shear, double bearing,
                  bool brittle, const std::string& source) {
  const ArmMaterial* arms = FindArmMaterial(name);
  LW_REQUIRE(arms != nullptr, "name=" << name);
  return {name,
          SheetDensity_kg_m3(name),
          modulus,
          arms->strength_mpa,
          shear,
          bearing,
          arms->factor_wanted,
          brittle,
          source};
}

MaterialData Metal(const std::string& name, double modulus, const std::string& source) {
  const double yield = FindArmMaterial(name)->strength_mpa;
  return Arms(name, modulus, yield / std::sqrt(3.0), yield, false, source);
}

}  // namespace

const std::vector<MaterialData>& MaterialTable() {
  static const std::vector<MaterialData> kTable{
      Arms("birch plywood", 7000.0, 8.0, 25.0, true,
           "modulus READ (generic plywood study, low end); density, shear and crushing from "
           "memory"),
      Arms("hardwood", 10300.0, 11.7, 49.0, true,
           "READ Wood Handbook Table 5-3a, black cherry, along the grain"),
      Metal("brass", 110000.0,
            "modulus and soft yield READ, cartridge brass; density from memory (one page: 8200)"),
      Metal("aluminium", 68900.0, "READ 6061-T6"),
      Metal("stainless steel", 193000.0, "READ 304, annealed"),
      Arms("acrylic", 3000.0, 30.0, 54.0, true,
           "READ, low end; shear from memory (about 0.55 of tension)"),
      {"mild steel", SheetDensity_kg_m3("mild steel"), 200000.0, 235.0, 235.0 / std::sqrt(3.0),
       235.0, 2.0, false, "from memory: plain structural steel"},
  };
  return kTable;
}

const MaterialData* FindMaterial(const std::string& name) {
  for (const MaterialData& material : MaterialTable()) {
    if (material.name == name) return &material;
  }
  return nullptr;
}

}  // namespace lidwright
