// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/jig_sheet.h"

#include <cmath>

#include "full_size.h"
#include "lidwright/base/bench.h"
#include "lidwright/drawing/style.h"
#include "lidwright/solid/reachable_faces.h"

namespace lidwright {

namespace {

// [mm] Less is not seen in two decimals.
constexpr double kSameFace_mm = 0.005;

// Why the same pivot is at other distances on the templates.
std::string OtherThanTemplates(const Job& job, const Solid& solid, const Jig& jig) {
  const ReachableFaces faces = FacesAtEnd(job, solid);
  const double back = faces.back_x_mm - jig.back_x_mm, rim = faces.rim_y_mm - jig.rim_y_mm;
  std::string text;
  const auto add = [&](double by_mm, const char* from, const char* why) {
    if (std::abs(by_mm) < kSameFace_mm) return;
    text += std::string(text.empty() ? "" : "; ") + "from the " + from + " it is " +
            BenchText(std::abs(by_mm), Bench::kHole, job.inches) +
            (by_mm > 0.0 ? " more than there, " : " less than there, ") + why;
  };
  add(back, "back", "for the jig meets the bowed wall nearer to mid-width");
  add(rim, "level", "for the jig lies under another place of the arched rim");
  return text.empty()
             ? text
             : "A case pivot's distances are not those of the drilling template: " + text + ".";
}

}  // namespace

std::vector<Canvas> JigSheets(const Job& job, const Solid& solid, const Jig& jig) {
  FullSize drawing;
  drawing.title = "Closed-position jig, seen from outside of the left end";
  const HingePiece& piece = jig.piece;
  drawing.notes.push_back(piece.material + ", " +
                          BenchText(piece.z_max_mm - piece.z_min_mm, Bench::kHole, job.inches) +
                          " thick. One for both ends: it is turned over for the right one.");
  // The steps that the jig is laid on for; the rest stand in the order of work.
  int step = 0;
  for (const JigStep& one : jig.steps) {
    if (one.shows == JigScene::kLidLowered || one.shows == JigScene::kLidOpen) continue;
    drawing.notes.push_back(std::to_string(++step) + ". " + one.text);
  }
  const std::string other = OtherThanTemplates(job, solid, jig);
  if (!other.empty()) drawing.notes.push_back(other);
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
