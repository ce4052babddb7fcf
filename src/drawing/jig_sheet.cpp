// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/jig_sheet.h"

#include <cmath>

#include "boxes.h"
#include "full_size.h"
#include "lidwright/base/bench.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/drawing/style.h"
#include "lidwright/solid/reachable_faces.h"
#include "sheet.h"

namespace lidwright {

namespace {

// [mm] Less is not seen in two decimals.
constexpr double kSameFace_mm = 0.005;

// The piece whose middle is in a hole of the jig; the lid's, as it is when shut.
const HingePiece* PieceAt(const std::vector<HingePiece>& pieces, PieceKind kind,
                          const Circle& hole) {
  for (const HingePiece& piece : pieces) {
    if (piece.kind != kind || piece.per_end == 0) continue;
    if (kind == PieceKind::kScrew && piece.body != Body::kCase) continue;
    const Vec2 middle = Middle(Bounds(Flatten(piece.outline, kChordError_mm)));
    if ((middle - hole.centre).norm() < hole.radius_mm) return &piece;
  }
  return nullptr;
}

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
  add(back, "back",
      BackLeans(job) ? "for the jig meets the leaning wall below the rim"
                     : "for the jig meets the bowed wall nearer to mid-width");
  add(rim, "level", "for the jig lies under another place of the arched rim");
  return text.empty()
             ? text
             : "A case pivot's distances are not those of the drilling template: " + text + ".";
}

}  // namespace

std::vector<Canvas> JigSheets(const Job& job, const Solid& solid, const Jig& jig,
                              const std::vector<HingePiece>& pieces, const PartsList* list) {
  FullSize drawing;
  drawing.title = "Closed-position jig, seen from outside of the left end";
  const HingePiece& piece = jig.piece;
  drawing.notes.push_back(piece.material + ", " +
                          BenchText(piece.z_max_mm - piece.z_min_mm, Bench::kHole, job.inches) +
                          " thick. One for both ends: it is turned over for the right one.");
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
    const HingePiece* pin = PieceAt(pieces, PieceKind::kPin, hole);
    drawing.marks.push_back({{to_edges * hole.centre, hole.radius_mm},
                             what,
                             "fits its pin",
                             kUnset,
                             pin && list ? ItemOf(*list, pin->name) : 0});
  }
  for (const Circle& hole : piece.drills) {
    const HingePiece* screw = PieceAt(pieces, PieceKind::kScrew, hole);
    const std::string over = screw ? screw->name.substr(0, screw->name.find(',')) : "a screw";
    drawing.marks.push_back({{to_edges * hole.centre, hole.radius_mm},
                             "over " + over,
                             "for the screwdriver",
                             kUnset,
                             screw && list ? ItemOf(*list, screw->name) : 0});
  }
  drawing.edge_x = "back edge";
  drawing.edge_y = "level edge";
  drawing.from_x = "from back";
  drawing.from_y = "from level";
  drawing.inches = job.inches;
  drawing.most_mm = PaperSize(job, false).x() - 2.0 * kTileMargin_mm;
  // The steps that the jig is laid on for, unless they push the drawing over the sheet's end; the
  // rest stand in the order of work.
  FullSize told = drawing;
  int step = 0;
  for (const JigStep& one : jig.steps) {
    if (one.shows == JigScene::kLidLowered || one.shows == JigScene::kLidOpen) continue;
    told.notes.push_back(std::to_string(++step) + ". " + one.text);
  }
  drawing.notes.push_back(
      "How it is laid on and what is done with it stands in the order of work.");
  std::vector<Canvas> bare = Tiles(DrawFullSize(drawing), job);
  std::vector<Canvas> sheets = Tiles(DrawFullSize(told), job);
  return sheets.size() > bare.size() ? bare : sheets;
}

}  // namespace lidwright
