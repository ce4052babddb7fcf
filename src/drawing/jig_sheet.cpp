// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/jig_sheet.h"

#include "full_size.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "lidwright/drawing/style.h"

namespace lidwright {

std::vector<Canvas> JigSheets(const Job& job, const Jig& jig) {
  FullSize drawing;
  drawing.title = "Closed-position jig, seen from outside of the left end";
  const HingePiece& piece = jig.piece;
  drawing.notes.push_back(piece.material + ", " +
                          LengthText_mm(piece.z_max_mm - piece.z_min_mm, job.inches) +
                          " thick. One for both ends: it is turned over for the right one.");
  int step = 0;
  for (const std::string& text : jig.steps) {
    drawing.notes.push_back(std::to_string(++step) + ". " + text);
  }
  const Pose to_edges{1.0, 0.0, Vec2(-jig.back_x_mm, -jig.rim_y_mm)};
  drawing.outlines.push_back({Moved(piece.outline, to_edges), style::kEdge, ""});
  // MakeJig's order.
  const char* const pivots[] = {"case pivot of arm A", "case pivot of arm B", "lid pivot of arm A",
                                "lid pivot of arm B"};
  std::size_t next = 0;
  for (const Circle& hole : piece.holes) {
    const std::string what = next < 4 ? pivots[next++] : "pivot";
    drawing.marks.push_back(
        {{to_edges * hole.centre, hole.radius_mm}, what, "fits its pin", kUnset});
  }
  for (const Circle& hole : piece.drills) {
    drawing.marks.push_back(
        {{to_edges * hole.centre, hole.radius_mm}, "over a screw", "for the screwdriver", kUnset});
  }
  drawing.edge_x = "back edge";
  drawing.edge_y = "level edge";
  drawing.from_x = "from back";
  drawing.from_y = "from level";
  drawing.inches = job.inches;
  return Tiles(DrawFullSize(drawing), job);
}

}  // namespace lidwright
