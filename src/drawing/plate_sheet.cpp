// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/plate_sheet.h"

#include "boxes.h"
#include "full_size.h"
#include "lidwright/base/bench.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"
#include "lidwright/cutting/cut_piece.h"
#include "lidwright/cutting/nest.h"
#include "lidwright/drawing/style.h"
#include "lidwright/solid/mounting_block.h"

namespace lidwright {
namespace {

const Pen kBlank{0.25, style::kInk, {5.0, 1.2, 0.6, 1.2}};

bool IsPlate(const HingePiece& piece) {
  return piece.cut_from_sheet && piece.per_end > 0 && piece.kind != PieceKind::kArm &&
         piece.kind != PieceKind::kJig;
}

std::string Capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 32);
  return text;
}

// The pivot whose pin goes through a hole, or "pin".
std::string HoleName(const HingePiece& piece, const Circle& hole,
                     const std::vector<HingePiece>& pieces) {
  for (const HingePiece& pin : pieces) {
    if (pin.kind != PieceKind::kPin || pin.body != piece.body) continue;
    const Vec2 at = Middle(Bounds(Flatten(pin.outline, kChordError_mm)));
    if ((at - hole.centre).norm() < hole.radius_mm) return pin.name;
  }
  return piece.kind == PieceKind::kCasePlate ? "stop rod" : "through";
}

// Packing is screwed by its plate's screws.
std::string PlateOf(const HingePiece& piece) {
  return piece.body == Body::kCase ? "case plate" : "lid plate";
}

FullSize DrawingOf(const Job& job, const HingePiece& piece, const std::vector<HingePiece>& pieces,
                   const PartsList& list) {
  const auto size = [&](double mm) { return BenchText(mm, Bench::kSize, job.inches); };
  const auto [lay, blank_size] = LyingAtOrigin(piece.outline);
  FullSize drawing;
  drawing.item = ItemOf(list, piece.name);
  drawing.title = Capital(piece.name);
  drawing.inches = job.inches;
  drawing.radii = true;
  drawing.notes = {
      piece.material + ", " + BenchText(piece.z_max_mm - piece.z_min_mm, Bench::kHole, job.inches) +
      " thick, from a blank of " + size(blank_size.x()) + " by " + size(blank_size.y()) + ". " +
      std::to_string(piece.per_end) + " for each end; the right end's is the mirror image" +
      (piece.note.empty() ? "." : "; " + piece.note + ".")};
  drawing.outlines.push_back({Moved(piece.outline, lay), style::kEdge, ""});
  const Rect2 blank{Vec2::Zero(), blank_size};
  Outline edge;
  for (const Vec2& corner : RingOf(blank)) edge.vertices.push_back({corner, 0.0});
  drawing.outlines.push_back({edge, kBlank, ""});
  for (const Circle& hole : piece.holes) {
    const std::string name = HoleName(piece, hole, pieces);
    drawing.marks.push_back(
        {{lay * hole.centre, hole.radius_mm}, name, "", kUnset, ItemOf(list, name)});
  }
  for (std::size_t i = 0; i < piece.drills.size(); ++i) {  // by their numbers in the order of work
    const Circle& hole = piece.drills[i];
    const std::string screw = "screw " + std::to_string(i + 1);
    drawing.marks.push_back({{lay * hole.centre, hole.radius_mm},
                             screw,
                             "",
                             kUnset,
                             ItemOf(list, HeadOf(ScrewName(i + 1, PlateOf(piece))))});
  }
  drawing.up = lay.Turn(Vec2(0.0, 1.0));
  drawing.up_says = "up, lid shut";
  drawing.edge_x = "left edge";
  drawing.edge_y = "lower edge";
  drawing.from_x = "from left";
  drawing.from_y = "from below";
  return drawing;
}

// How the case's block is planed where the end leans: its own two ends reach neither rim nor floor.
std::string WedgeWords(const Job& job, const MountingBlock& block, const HingePiece& piece) {
  if (!IsMountingBlock(piece) || piece.body != Body::kCase || !(block.wedge_rad > 0.0)) return "";
  const Rect2 box = Bounds(Flatten(piece.outline, kChordError_mm));
  const double floor = job.case_form.floor_mm - job.case_form.height_mm;
  const auto thick = [&](double y) {
    const double share = (y - floor) / -floor;
    const double mm = block.at_floor_mm + share * (block.at_rim_mm - block.at_floor_mm);
    return BenchText(PlanedTo_mm(mm, job.inches), Bench::kHole, job.inches);
  };
  return "Plane its back as a wedge along the arrow: " + thick(box.high.y()) +
         " thick at its uppermost corner, " + thick(box.low.y()) +
         " at its lowest. Try it on the end wall: its front stands upright.";
}

}  // namespace

std::vector<Canvas> PlateSheets(const Job& job, const Solid& solid,
                                const std::vector<HingePiece>& pieces, const PartsList& list) {
  std::vector<Canvas> wholes;
  for (const HingePiece& piece : pieces) {
    if (!IsPlate(piece)) continue;
    FullSize drawing = DrawingOf(job, piece, pieces, list);
    if (const std::string says = WedgeWords(job, solid.block, piece); !says.empty()) {
      drawing.notes.push_back(says);
    }
    if (NeedsBlock(solid.block) && piece.kind != PieceKind::kSpacer) {
      drawing.notes.push_back("It stands on a mounting block, which is drawn by itself.");
    }
    wholes.push_back(DrawFullSize(drawing));
  }
  return SharedSheets(wholes, "Plates and packing, seen from outside of the left end", job);
}

}  // namespace lidwright
