// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/shop_sheets.h"
#include "lidwright/base/check.h"
#include "lidwright/forces/grain.h"
#include "lidwright/forces/material_data.h"
#include "lidwright/job/plywood.h"
#include "lidwright/job/wood_grain.h"
#include "lidwright/job/woods.h"

namespace lidwright {
namespace {

const std::string kPlywood = "birch plywood";
const std::string kHardwood = "hardwood";
const std::string kPhenolic = "phenolic";

StrapMaterial OfSolidWood(const Wood& wood, const WoodGrain& grain) {
  StrapMaterial m;
  m.kind = StrapKind::kSolidWood;
  m.name = wood.name;
  m.density_kg_m3 = Density_kg_m3(wood);
  m.modulus_mpa = grain.modulus_mpa;
  m.tension_mpa = wood.bending_mpa;
  m.compression_mpa = wood.compression_mpa;
  m.shear_mpa = wood.shear_mpa;
  m.tension_across_mpa = grain.tension_across_mpa;
  m.compression_across_mpa = grain.compression_across_mpa;
  m.specific_gravity = wood.specific_gravity;
  m.source = "Wood Handbook, Table 5-3a; across the grain from memory";
  return m;
}

StrapMaterial Plywood(double thickness_mm) {
  const MaterialData* data = FindMaterial(kPlywood);
  StrapMaterial m;
  m.kind = StrapKind::kPlywood;
  m.name = kPlywood;
  m.density_kg_m3 = data->density_kg_m3;
  m.shear_mpa = BirchVeneer().shear_mpa;
  m.specific_gravity = FindWood(kPlywood)->specific_gravity;
  m.laminate = Laminate{BirchVeneer(), PliesFor_mm(thickness_mm)};
  m.source = "layers of the Handbook of Finnish Plywood's birch veneer, from memory";
  return m;
}

// Paper phenolic sheet, grade XXX, crosswise and low: from memory of its grade's table.
StrapMaterial Phenolic() {
  StrapMaterial m;
  m.kind = StrapKind::kPlastic;
  m.name = kPhenolic;
  m.density_kg_m3 = SheetDensity_kg_m3(kPhenolic);
  m.modulus_mpa = 7000.0;
  m.tension_mpa = 80.0;
  m.compression_mpa = m.bearing_mpa = 100.0;
  m.shear_mpa = 40.0;
  m.source = "paper phenolic, grade XXX, from memory";
  return m;
}

}  // namespace

std::optional<StrapMaterial> StrapOf(const std::string& material, double thickness_mm,
                                     const std::string& wood) {
  LW_REQUIRE(thickness_mm > 0.0, "thickness=" << thickness_mm);
  if (material == kPlywood) return Plywood(thickness_mm);
  if (material == kPhenolic) return Phenolic();
  const std::string& species = material == kHardwood ? wood : material;
  const Wood* solid = FindWood(species);
  const WoodGrain* grain = FindWoodGrain(species);
  if (solid && grain) return OfSolidWood(*solid, *grain);
  const MaterialData* data = FindMaterial(material);
  if (!data || material == kHardwood) return std::nullopt;
  StrapMaterial m;
  m.kind = data->brittle ? StrapKind::kPlastic : StrapKind::kMetal;
  m.name = data->name;
  m.density_kg_m3 = data->density_kg_m3;
  m.modulus_mpa = data->modulus_mpa;
  m.tension_mpa = m.compression_mpa = data->tension_mpa;
  m.shear_mpa = data->shear_mpa;
  m.bearing_mpa = data->bearing_mpa;
  m.source = data->source;
  return m;
}

}  // namespace lidwright
