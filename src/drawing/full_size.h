// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <limits>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "lidwright/drawing/canvas.h"
#include "lidwright/job/job.h"

namespace lidwright {

/// Something round to be marked: a number stands beside it, the rest in the table.
struct RoundMark {
  Circle circle;
  std::string what;
  std::string note;  ///< stands once under the table, a letter in it
  double deep_mm = kUnset;
  int item = 0;  ///< number in the parts list of what goes in, if there is one
};

struct DrawnOutline {
  Outline outline;
  Pen pen;
  std::string name;  ///< written beside it; may be empty
};

/// A drawing at full size with everything measured from two edges that meet at the origin: the one
/// along x = 0 and the one along y = 0.
struct FullSize {
  std::string title;
  int item = 0;  ///< number in the parts list; stands beside the title if there is one
  std::vector<std::string> notes;  ///< above the table, broken into lines
  std::vector<DrawnOutline> outlines;
  std::vector<RoundMark> marks;
  bool table = true;           ///< false: names stand beside the marks, and there is no table
  bool radii = false;          ///< name each radius of the outlines
  bool edges = true;           ///< draw the two edges and measure from them
  std::string edge_x, edge_y;  ///< what lies along x = 0 and along y = 0
  bool leftwards = false;      ///< what is measured from x = 0 counts to the left
  std::string from_x, from_y;  ///< heads of the table's columns: "from back"
  Rect2 shown;                 ///< besides all outlines and marks
  /// Wider only if it must be: then an edge's name has no room of its own.
  double most_mm = std::numeric_limits<double>::infinity();
  bool inches = false;
  /// Which way is up where the piece is built in, if that is to be told: an arrow in a free corner,
  /// with these words.
  std::optional<Vec2> up;
  std::string up_says;
};

/// Drawn on a page as large as it needs to be, the table above the drawing, so that no table is
/// cut in tiles. Lengths in inches are decimal: a fraction would move a hole by up to 1/128 in.
Canvas DrawFullSize(const FullSize& drawing);

/// The page cut into sheets of the maker's paper, upright or across, whichever takes fewer. Sheets
/// overlap by kTileOverlap_mm; in each overlap crosses stand at the same places on both sheets, to
/// be laid on each other. Each sheet carries the job's name, its place, a 100 mm bar and a 4 in
/// bar.
std::vector<Canvas> Tiles(const Canvas& whole, const Job& job);

/// Several such pages, as many on a sheet as fit it uncut, one under the other in their order;
/// those that fit none are cut into sheets of their own. `title` is the shared sheets'.
std::vector<Canvas> SharedSheets(const std::vector<Canvas>& wholes, const std::string& title,
                                 const Job& job);

inline constexpr double kTileOverlap_mm = 12.0;
inline constexpr double kTileMargin_mm = 10.0;  ///< left, right and above: printers need it
inline constexpr double kTileFoot_mm = 27.0;    ///< below: for the bars and what the sheet is

/// Does the back wall's inner face leave the line of the rim's corner farther down?
inline bool BackLeans(const Job& job) {
  return job.case_form.back_flare_rad != 0.0 || job.case_form.back_cup_mm != 0.0;
}

/// Does the lid's lip reach lower than the end walls beside it?
inline bool LipAtBackAlone(const Job& job) {
  return job.lid.lip_mm > 0.0 && job.lid.lip_side == "inside" && !job.lid.lip_at_ends;
}

/// Text broken into lines of at most `width_mm`.
std::vector<std::string> Broken(const std::string& text, double width_mm, double height_mm);

}  // namespace lidwright
