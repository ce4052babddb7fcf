// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

namespace lidwright {

/// A birch plywood as sold: veneers crossed in turn, the outer two along the face grain.
struct PlywoodSheet {
  std::string name;
  double nominal_mm;           ///< as it is asked for
  double thickness_mm;         ///< as it is, sanded: what counts for strength
  std::vector<double> ply_mm;  ///< thickness of each veneer, an odd number of them
  bool inch;
  std::string source;
};

/// Thin to thick. From 4 mm (six sizes): veneers of 1.4 mm, the outer ones sanded, so that
/// thicknesses and every strength of the Handbook of Finnish Plywood follow (from memory;
/// re-derived to every digit there). Under 4 mm: hobby sheets, their veneers by common practice,
/// no source; makers differ. Inch sheets are the metric ones of that size as they are sold in
/// America (common practice, no source).
const std::vector<PlywoodSheet>& PlywoodSheets();

/// The sheet of that nominal thickness, metric or inch, within a tenth of a millimetre; or nothing.
const PlywoodSheet* FindPlywood(double nominal_mm, bool inch);

/// Veneers for a plywood of any thickness: the nearest sheet's, scaled. Requires a positive
/// thickness.
std::vector<double> PliesFor_mm(double thickness_mm);

}  // namespace lidwright
