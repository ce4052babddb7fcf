// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/templates.h"

#include <algorithm>
#include <cmath>

#include "bodies.h"
#include "full_size.h"
#include "lidwright/base/bench.h"
#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/drawing/style.h"
#include "sheet.h"

namespace lidwright {
namespace {

// From the case's frame to the template's: origin where the two edges meet, and mirrored for the
// left end, where x runs to the left for someone who looks at it from inside.
struct Frame {
  Vec2 origin;
  bool mirrored;

  Vec2 operator()(const Vec2& p) const {
    const Vec2 q = p - origin;
    return mirrored ? Vec2(-q.x(), q.y()) : q;
  }
  Circle operator()(const Circle& c) const { return {(*this)(c.centre), c.radius_mm}; }
  Outline operator()(const Outline& outline) const {
    const Outline moved = Moved(outline, Pose{1.0, 0.0, -origin});
    return mirrored ? Mirrored(moved) : moved;
  }
};

// Marks for a body, in the case's frame.
std::vector<RoundMark> MarksFor(Body body, const std::vector<HingePiece>& pieces,
                                const std::vector<WoodWork>& wood, const PartsList* list) {
  std::vector<RoundMark> marks;
  for (const WoodWork& work : wood) {
    if (work.body != body || !(work.hole.radius_mm > 0.0)) continue;
    marks.push_back({work.hole, work.what, work.note, work.depth_mm > 0.0 ? work.depth_mm : kUnset,
                     list ? ItemOf(*list, work.piece) : 0});
  }
  if (!marks.empty()) return marks;
  const PieceKind plate = body == Body::kCase ? PieceKind::kCasePlate : PieceKind::kLidPlate;
  for (const HingePiece& piece : pieces) {
    if (piece.kind != plate || piece.body != body) continue;
    // A lid plate's pins do not go into the wood.
    if (body == Body::kCase) {
      for (const Circle& hole : piece.holes) marks.push_back({hole, "pin", "through the plate"});
    }
    for (const Circle& drill : piece.drills) marks.push_back({drill, "screw", "pilot"});
  }
  return marks;
}

std::vector<DrawnOutline> PlatesOf(Body body, const std::vector<HingePiece>& pieces) {
  std::vector<DrawnOutline> outlines;
  for (const HingePiece& piece : pieces) {
    const bool plate = piece.kind == PieceKind::kCasePlate || piece.kind == PieceKind::kLidPlate;
    if (piece.body != body) continue;
    if (plate) outlines.push_back({piece.outline, style::kHidden, piece.name});
    // The case plate's block has the plate's own outline.
    if (IsMountingBlock(piece) && body == Body::kLid) {
      outlines.push_back({piece.outline, style::kFineEdge, piece.name});
    }
  }
  return outlines;
}

}  // namespace

std::vector<Canvas> DrillTemplates(const Job& job, const Solid& solid,
                                   const std::vector<HingePiece>& pieces,
                                   const std::vector<WoodWork>& wood, const PartsList* list) {
  std::vector<Canvas> wholes;
  for (const Body body : {Body::kCase, Body::kLid}) {
    const std::vector<RoundMark> marks = MarksFor(body, pieces, wood, list);
    const std::vector<DrawnOutline> plates = PlatesOf(body, pieces);
    if (marks.empty() && plates.empty()) continue;
    const bool is_case = body == Body::kCase;
    const bool block = std::any_of(pieces.begin(), pieces.end(), [&](const HingePiece& piece) {
      return piece.body == body && IsMountingBlock(piece);
    });
    // A lip at the back alone ends at the end walls.
    const bool at_end = !is_case && LipAtBackAlone(job);
    const ReachableFaces faces = is_case ? FacesAtEnd(job, solid) : LidFacesAtEnd(job, solid);
    for (const bool left : {true, false}) {
      const Frame frame{{faces.back_x_mm, faces.rim_y_mm}, left};
      FullSize drawing;
      drawing.title = std::string("Drilling template: ") + (is_case ? "case" : "lid") + ", " +
                      (left ? "left" : "right") + " end, seen from inside";
      drawing.notes = {std::string("Cut along the two heavy dashed lines. Lay the paper on the ") +
                       (is_case ? "case's" : "lid's") +
                       " end wall from inside, one cut edge against the back wall's inner face, "
                       "the other level with " +
                       (is_case  ? "the rim"
                        : at_end ? "that end wall's lower edge, not the lip's"
                                 : "the lid's lower edge") +
                       ". Prick the crosses through, then drill. Try it in scrap first."};
      if (is_case && BackLeans(job)) {
        drawing.notes.push_back(
            "The back wall leans: the paper's corner goes where rim and back wall meet, and what "
            "the wall covers farther down is trimmed off.");
      }
      if (at_end) {
        drawing.notes.push_back(
            "The back wall's inner face is the lip's, " +
            BenchText(job.case_form.back_wall_mm + job.lid.lip_play_mm + job.lid.lip_wall_mm,
                      Bench::kSize, job.inches) +
            " in from the lid's rear face at its end; the ends carry no lip.");
      }
      if (block) {
        drawing.notes.push_back(
            is_case ? "The mounting block goes where the case plate is drawn: prick round its "
                      "outline and glue it there before anything is drilled. Then lay the paper on "
                      "the block again for the holes."
                    : "The mounting block goes where it is drawn: prick round its outline and glue "
                      "it there first. Its holes come later, through the lid plate.");
      }
      drawing.edge_x = "back wall's inner face";
      drawing.edge_y = is_case  ? "rim"
                       : at_end ? "lower edge of the end wall"
                                : "lower edge of the lid";
      drawing.from_x = "from back";
      drawing.from_y = is_case ? "from rim" : "from edge";
      drawing.leftwards = left;
      drawing.inches = job.inches;
      drawing.most_mm = PaperSize(job, false).x() - 2.0 * kTileMargin_mm;
      for (const RoundMark& mark : marks) {
        drawing.marks.push_back(
            {frame(mark.circle), mark.what, mark.note, mark.deep_mm, mark.item});
      }
      for (const DrawnOutline& plate : plates) {
        drawing.outlines.push_back({frame(plate.outline), plate.pen, plate.name});
      }
      wholes.push_back(DrawFullSize(drawing));
    }
  }
  return SharedSheets(wholes, "Drilling templates, seen from inside", job);
}

}  // namespace lidwright
