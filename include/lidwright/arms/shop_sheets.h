// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/arms/hardware.h"

namespace lidwright {

// What can be bought, metric and inch apart, and in what order to try it: light first, simple
// first. A job in inches gets inch stock, a metric one metric.

/// What a maker says he has; empty or unset: everything that is sold.
struct ShopHas {
  std::vector<std::string> materials;  ///< of sheets, by StockSheet::material
  std::vector<double> sheets_mm;       ///< nominal thicknesses
  std::vector<double> drills_mm;
  double driver_mm = kUnset;  ///< length of the screwdriver with its bit, for reaching inside
};

/// A sheet as sold.
struct StockSheet {
  std::string name;  ///< "3 mm birch plywood", "1/8 in aluminium sheet"
  std::string material;
  double nominal_mm;    ///< as asked for
  double thickness_mm;  ///< as it is: plywood is thinner than its name
  bool inch;
  Source source;
};

/// Birch plywood, planed hardwood, acrylic, phenolic, aluminium, brass, mild and stainless steel:
/// the thicknesses most dealers keep (common practice, no source).
const std::vector<StockSheet>& StockSheets();

/// Mass over volume of what sheets are of [kg/m³], the one place for these figures: 6061, 304,
/// acrylic READ, low end; hardwood is black cherry; the others from memory. NaN if unknown.
double SheetDensity_kg_m3(const std::string& material);

/// Mass of a sheet over its area [kg/m²].
double WeightOf_kg_m2(const StockSheet& sheet);

/// How hard a material is to work with a small shop's tools: 0 wood, 1 plastics, 2 aluminium and
/// brass, 3 steel.
int WorkOf(const std::string& material);

/// Sheets to try from `least_mm` to `most_mm` of true thickness, lightest first, of equal weight
/// (within a hundredth) the one easier to work.
std::vector<StockSheet> SheetsToTry(bool inch, const ShopHas& has, double least_mm, double most_mm);

}  // namespace lidwright
