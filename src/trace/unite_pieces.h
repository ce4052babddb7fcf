// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/base/problem.h"
#include "lidwright/trace/drawing_outline.h"
#include "trace/join_paths.h"

namespace lidwright {

struct UnitedPieces {
  std::vector<Ring> rings;  ///< not yet turned by nesting
  Notes notes;
  Problems problems;  ///< without a file
};

/// The one section that a body's closed outlines make together. `body` is "case" or "lid".
///
/// An outline within another is a hollow in it, one within a hollow a piece again. Pieces that
/// overlap or touch along an edge become one. Where two pieces stand at most `gap_limit_mm` apart
/// the room between them is filled, straight from piece to piece: nothing is taken away anywhere,
/// and corners that are drawn stay where they are to kUnited_mm. With one piece its outlines are
/// given back untouched.
/// Each overlap and each gap wider than kTouch_mm is told in a note with its place.
///
/// Fails: pieces that stand farther apart or meet in nothing but a point, an outline within another
/// that touches it (wood or hollow?), outlines that cross themselves, more than kMostOutlinePoints.
UnitedPieces UnitePieces(const std::vector<DrawnLoop>& loops, const std::string& body,
                         double gap_limit_mm);

}  // namespace lidwright
