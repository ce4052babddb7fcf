// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "lidwright/cutting/cut_part.h"
#include "lidwright/cutting/cutter_check.h"
#include "lidwright/geometry/pose.h"

namespace lidwright {

/// The maker's sheet and how close parts may lie on it.
struct Stock {
  double width_mm = 600.0;  ///< along x, with the grain if it has one
  double height_mm = 300.0;
  double margin_mm = 5.0;   ///< from every part's outline to the sheet's edge
  double spacing_mm = 6.0;  ///< from outline to outline: the cutter's diameter and a web
  bool inches = false;      ///< the maker's unit, for the sentences
};

/// A part to be laid on a sheet.
struct NestPart {
  CutPart part;
  std::optional<Vec2> grain;  ///< along which the grain is to run; nothing: lies any way
};

struct NestOptions {
  int layouts = 400;     ///< tried
  int turns = 4;         ///< ways a part without grain may lie: 4, 8, 12 … in equal steps
  double cell_mm = 0.0;  ///< of the search's grid; 0: by the size of the parts, 0.4 or more
  unsigned seed = 1;
};

/// Where a part lies: X_SP, from the part's coordinates to the sheet's, origin at the sheet's lower
/// left corner.
struct Placement {
  std::size_t part = 0;
  int sheet = 0;
  Pose pose;
};

struct Nest {
  std::vector<Placement> placements;  ///< by sheet, then by part
  int sheets = 0;
  /// Of each sheet: from the corner of the margins to the far corner of the parts' common box.
  std::vector<Rect2> used;
  std::vector<CutFault> faults;  ///< parts larger than the sheet: they are not placed
  double UsedArea_mm2() const;
};

/// Lays parts on as few sheets as it can, and within that in as small a box from the sheet's lower
/// left corner as it can, so that what is left over of the sheet stays in one piece. Parts are not
/// turned over.
///
/// Greedy placements (each part at the place that widens the box least, of all its ways to lie) in
/// many orders and within several widths, the best order changed at random and kept if better.
/// Places come from maps of forbidden offsets between two shapes, drawn on a grid of cells that is
/// kept to the safe side: the spacing holds for the true outlines, whatever the grid.
///
/// Same parts, same seed, same answer; `layouts` bounds the time. Requires parts without fault, a
/// positive sheet, spacing and margin ≥ 0, turns a multiple of 4.
Nest NestParts(const std::vector<NestPart>& parts, const Stock& stock,
               const NestOptions& options = {});

/// The turn that lays the smallest box round an outline with its longer side along x. One side of
/// such a box lies on an edge of the convex hull (Freeman and Shapira, 1975). Arcs are judged as
/// chords within kChordError_mm / 2.
double LyingAngle(const Outline& outline);

/// An outline turned by that, the lower left corner of its box at the origin.
struct Lying {
  Pose pose;
  Vec2 size;  ///< of the box
};
Lying LyingAtOrigin(const Outline& outline);

/// The parts of one sheet as they lie there, to be written to a cut file.
std::vector<CutPart> OnSheet(const std::vector<NestPart>& parts, const Nest& nest, int sheet);

}  // namespace lidwright
