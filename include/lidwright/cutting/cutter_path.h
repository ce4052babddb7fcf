// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>

#include "lidwright/cutting/cut_part.h"
#include "lidwright/cutting/cutter_check.h"

namespace lidwright {

/// The outline of everything within `by_mm` outside of it, again of true lines and arcs: straight
/// edges move out, arcs keep their centres, a corner that stands out gets an arc of this radius.
/// Nothing if an inside corner or curve is tighter or a slot narrower than a disc of this radius
/// needs, and where a slot is just so wide that the two sides would touch. by_mm = 0 gives the same
/// outline.
///
/// Accuracy: exact but for rounding. Area and length obey Steiner's formula, A + L r + π r² and
/// L + 2π r. Arcs that shrink to less than kShortEdge_mm are left out. Requires by_mm ≥ 0 and an
/// outline without fault.
std::optional<Outline> OffsetOutward(const Outline& outline, double by_mm);

/// [mm] An edge shorter than this is left out of an offset outline: a tenth of a micrometre.
inline constexpr double kShortEdge_mm = 1e-4;

/// How the middle of the cutter runs round a part.
struct PathWish {
  double cutter_mm = 0.0;    ///< diameter of the cutter, or width of the kerf of a laser or saw
  int tabs = 0;              ///< pieces left uncut in each outline
  double tab_mm = 4.0;       ///< what stays standing of each
  double thinnest_mm = 0.5;  ///< a hole is left to the drill if its path would be smaller across
};

/// The path of the cutter's middle, to be written like a part: half a cutter outside of the
/// outline, half a cutter inside each hole. Holes too small for it become drill marks. Tabs stand
/// in the middle of the longest straight edges first, else spread evenly along the outline, never
/// over a corner; the gap in the path is wider than the tab by the cutter. Nothing, and what is in
/// the way in `faults`, if the part cannot be cut so.
std::optional<CutPart> CutterPath(const CutPart& part, const PathWish& wish, bool inches,
                                  std::vector<CutFault>* faults);

}  // namespace lidwright
