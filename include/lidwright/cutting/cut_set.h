// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <string>
#include <vector>

#include "lidwright/arms/hinge_parts.h"
#include "lidwright/cutting/cut_piece.h"
#include "lidwright/cutting/cutter_path.h"
#include "lidwright/cutting/nest.h"
#include "lidwright/job/job.h"

namespace lidwright {

/// With what and out of what the pieces are cut.
struct CutWish {
  double cutter_mm = 3.0;   ///< diameter; 0 for a saw or laser
  double kerf_mm = 0.0;     ///< width of a laser's or saw's cut, for its paths
  double web_mm = 1.0;      ///< least material in a part beside holes
  double between_mm = 3.0;  ///< web between parts on the sheet, besides the cutter
  double sheet_width_mm = 600.0;
  double sheet_height_mm = 300.0;
  double margin_mm = 5.0;
  int tabs = 3;  ///< in each outline of the paths
  double tab_mm = 4.0;
  bool paths = false;  ///< write the cutter's or the kerf's paths besides the true sizes
  bool inches = false;
};

/// What the job's `shop` says of it.
CutWish CutWishFor(const Job& job);

/// One material and thickness: its parts, both ends' together, and how they lie.
struct CutGroup {
  std::string material;
  double thickness_mm = 0.0;
  Stock stock;
  std::vector<NestPart> parts;  ///< "arm A, left" …, at true size, small holes as drill marks
  Nest nest;
};

struct CutSet {
  std::vector<CutGroup> groups;
  /// All that stands against cutting, with the part, the number and what would fit. Parts whose
  /// outline is at fault or that fit no sheet are not nested.
  std::vector<CutFault> faults;
};

/// Every piece that is cut from sheet, left and right, nested by material and thickness. The
/// spacing is the cutter (or kerf) plus the web between.
CutSet MakeCutSet(const std::vector<HingePiece>& pieces, const CutWish& wish);

/// Does the material have a grain that shall run along the part? Solid wood and plywood.
bool HasGrain(const std::string& material);
/// The way the grain is to run in a piece: for an arm from hole to hole, else along its longer
/// side.
Vec2 GrainAlong(const HingePiece& piece);

/// The cut files by name: "arm_a_left.dxf" … for every part, "sheet_brass_3_mm_1.svg" … for every
/// nested sheet, each as DXF and as SVG; with `paths`, "…_path.dxf" too, the cutter's middle with
/// tabs. A path that cannot be (the cutter is too fat) is left out and named in `faults`.
std::map<std::string, std::string> CutFiles(const CutSet& set, const CutWish& wish,
                                            std::vector<CutFault>* faults);

}  // namespace lidwright
