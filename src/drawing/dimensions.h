// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "lidwright/drawing/canvas.h"

namespace lidwright {

/// The dimension lines on one side of a view, stacked outwards in the order they are added, each on
/// the first line where neither it nor its text meets what is there.
///
/// A dimension is a thin line between two short oblique strokes, its text above it, or outside when
/// there is no room between. Upright lines measure along y and are read from the right.
class DimensionSide {
 public:
  /// The first line stands at `first_mm` (y, or x when upright), the next ones `direction` (±1) on.
  DimensionSide(Canvas& canvas, bool upright, double first_mm, int direction);

  /// From point a to b of the page. Extension lines run from the points to the line. Returns false,
  /// with nothing drawn, if no line within the page has room.
  bool Add(const Vec2& a, const Vec2& b, const std::string& text);

  /// Where the outermost line so far stands, its text included.
  double Reach_mm() const;

 private:
  struct Span {
    double from, to;
  };
  Vec2 At(double along_mm, double across_mm) const;

  Canvas& canvas_;
  bool upright_;
  double first_mm_;
  int direction_;
  std::vector<std::vector<Span>> lines_;
};

/// Ordinate dimensions: from each point a thin line out to a common line, and there its text, all
/// in one row, pushed apart where they would meet. `upright` texts stand in a row along x,
/// the others in a column along y.
struct Ordinate {
  Vec2 point = Vec2::Zero();
  std::string text;
};
void DrawOrdinates(Canvas& canvas, std::vector<Ordinate> ordinates, bool row_along_x, double row_mm,
                   int direction);

}  // namespace lidwright
