// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/geometry/outline.h"
#include "lidwright/geometry/ring.h"

namespace lidwright {

/// A piece of the outline that is left uncut, so that the part stays in its sheet: it begins
/// `at_mm` along the outline from its first vertex and is `width_mm` long.
struct Tab {
  double at_mm = 0.0;
  double width_mm = 0.0;
};

/// One piece to be cut from sheet, seen from above with y up [mm], already lying where it is to be
/// cut: what is written to a cut file together must have been placed so that it does not overlap.
struct CutPart {
  std::string name;                 ///< for messages only; never drawn
  Outline outline;                  ///< counter-clockwise
  std::vector<Circle> holes;        ///< cut through, to this size
  std::vector<Circle> drill_marks;  ///< drilled: the centre is marked, the circle is not cut
  std::vector<Tab> tabs = {};  ///< by growing at_mm, apart from each other; none for a closed cut
};

/// The part turned and moved.
CutPart Moved(const CutPart& part, const Pose& pose);

/// Mirrored in the line x = 0, exactly: every coordinate is the same number or its negative.
/// Requires a part without tabs.
CutPart Mirrored(const CutPart& part);

/// Why `part` cannot be cut as drawn, as a sentence with the place; nothing if it can. Looks for
/// an outline that is clockwise, crosses itself or has a number that is not finite, for radii that
/// are not positive, and for holes or marks that leave the outline or overlap one another (drill
/// marks may coincide with nothing either), and for tabs that overlap or leave nothing to cut. Arcs
/// are judged as chords within kChordError_mm. O(n²) in the vertices of the flattened outline.
std::optional<std::string> FaultOf(const CutPart& part);

/// The smallest upright box round the outlines of the parts, arcs included. Exact, not by chords.
Rect2 Bounds(const std::vector<CutPart>& parts);

}  // namespace lidwright
