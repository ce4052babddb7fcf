// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

namespace lidwright {

/// What the force side needs of a material beyond what job/arm_materials.h says.
struct MaterialData {
  std::string name;
  double density_kg_m3;
  double modulus_mpa;    ///< Young's, for wood along the grain
  double tension_mpa;    ///< what tension and bending are held against
  double shear_mpa;      ///< metals: tension / √3 (Mises)
  double bearing_mpa;    ///< crushing under a pin or bushing; metals: yield
  double factor_wanted;  ///< safety factor asked for (common practice, no source)
  bool brittle;          ///< does not yield at the edge of a hole: peak stress counts there
  std::string source;    ///< with READ (seen on a page) or memory
};

/// Arms' materials (all names of job/arm_materials.h) and pins': "mild steel", "stainless steel",
/// "brass". Values are the low end of what was read; sheets, tempers and boards vary, so they are
/// for judging, not for certifying.
const std::vector<MaterialData>& MaterialTable();

/// The material of that name, or nothing.
const MaterialData* FindMaterial(const std::string& name);

/// [MPa] Yield of soft brass tube, the bushing: cartridge brass, soft temper (READ 110 … 570 by
/// temper). A shop's pages allow bronze bushings 90 at rest.
inline constexpr double kBushingYield_mpa = 110.0;

}  // namespace lidwright
