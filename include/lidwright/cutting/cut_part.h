// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/geometry/outline.h"
#include "lidwright/geometry/ring.h"

namespace lidwright {

/// One piece to be cut from sheet, seen from above with y up [mm], already lying where it is to be
/// cut: what is written to a cut file together must have been placed so that it does not overlap.
struct CutPart {
  std::string name;           ///< for messages only; never drawn
  Outline outline;            ///< counter-clockwise
  std::vector<Circle> holes;  ///< cut through, to this size
  std::vector<Circle>
      drill_marks;  ///< drilled afterwards: the centre is marked, the circle is not cut
};

/// Why `part` cannot be cut as drawn, as a sentence with the place; nothing if it can. Looks for
/// an outline that is clockwise, crosses itself or has a number that is not finite, for radii that
/// are not positive, and for holes or marks that leave the outline or overlap one another (drill
/// marks may coincide with nothing either). Arcs are judged as chords within kChordError_mm.
/// O(n²) in the vertices of the flattened outline.
std::optional<std::string> FaultOf(const CutPart& part);

/// The smallest upright box round the outlines of the parts, arcs included. Exact, not by chords.
Box2 Bounds(const std::vector<CutPart>& parts);

}  // namespace lidwright
