// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/drawing/canvas.h"
#include "lidwright/drawing/style.h"

namespace lidwright {

/// The one rule by which names and figures find their place on a drawing.
struct LabelRule {
  Rect2 area;                    ///< the label stays in here
  Vec2 toward = Vec2(1.0, 1.0);  ///< where it would best stand, seen from its point
  double clear_mm = 1.6;         ///< least distance from its point
  double height_mm = style::kText_mm;
  Colour colour = style::kInk;
  Colour behind = style::kPaper;  ///< clears what is behind the text
  double leader_from_mm = 4.5;    ///< from this distance on a thin line leads to its point
};

/// Writes `text` near `point`, where no other text stands: of a fixed fan of places at growing
/// distances the cheapest, by distance, by turn away from `toward` and by the length of lines it
/// would cover; then of a grid over the whole area the nearest free one. The paper behind it is
/// cleared. Returns false, with nothing written, only if there is no free place in the area.
/// Greedy: earlier labels have the first choice.
bool PlaceLabel(Canvas& canvas, const std::string& text, const Vec2& point, const LabelRule& rule);

/// Does a text in `box` stand so near to the left or right of another on the same line that the two
/// read as one? "R 10.5" beside "8" is no "R 10.58".
bool ReadsOn(const Canvas& canvas, const Rect2& box, bool upright = false);

/// A thin line from a to b that stays clear of the texts so far.
void DrawAroundTexts(Canvas& canvas, const Vec2& a, const Vec2& b, const Pen& pen);

}  // namespace lidwright
