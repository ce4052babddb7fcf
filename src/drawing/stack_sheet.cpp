// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/stack_sheet.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "bodies.h"
#include "boxes.h"
#include "dimensions.h"
#include "full_size.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/drawing/length_text.h"
#include "lidwright/drawing/style.h"
#include "lidwright/solid/mounting_block.h"
#include "sheet.h"

namespace lidwright {
namespace {

constexpr double kReach_mm = 9.0;      // shown on either side of the axis
constexpr double kWallShown_mm = 8.0;  // of the end wall's thickness
constexpr double kInWall_mm = 1.0;     // behind its face, where the wall is looked at
constexpr double kTable_mm = 74.0;
constexpr double kInset_mm = 3.0;     // of the table from its cell's right edge
constexpr double kDrawing_mm = 52.0;  // width of a section's place
constexpr double kTitle_mm = 8.0;
constexpr double kApart_mm = 4.0;  // from one number over a section to the next, at least

struct PinCut {
  const HingePiece* pin = nullptr;
  std::vector<const HingePiece*> pieces;  // that the axis passes, outermost first
  std::vector<const HingePiece*> beside;  // packing of the pin's plate that lies elsewhere
  Vec2 across = Vec2(1.0, 0.0);           // direction of the cut
  double wall_mm = 0.0;                   // z of the wall's inner face
  bool in_wall = true;                    // there is wood of that wall at the pin
  double z_low = 0.0, z_high = 0.0;       // shown
  double from_mm = 0.0;                   // z that places are measured from: one for an arm's pins
  bool tapers = false;                    // its block
};

// [mm] A block whose two thicknesses differ by less has one.
constexpr double kTaper_mm = 0.05;

Vec2 CentreOf(const HingePiece& piece) {
  return Middle(Bounds(Flatten(piece.outline, kChordError_mm)));
}

PinCut CutOf(const HingePiece& pin, const Job& job, const Solid& solid,
             const std::vector<HingePiece>& pieces) {
  PinCut cut;
  cut.pin = &pin;
  const Vec2 centre = CentreOf(pin);
  const double lid_wall = std::isnan(job.lid.wall_mm) ? job.case_form.end_wall_mm : job.lid.wall_mm;
  cut.wall_mm = pin.body == Body::kLid && solid.mirrored ? job.case_form.width_mm / 2.0 - lid_wall
                                                         : solid.bay.z_max_mm;
  if (solid.end_lip) {  // the wall is behind the lip
    cut.wall_mm = pin.body == Body::kLid ? LidFace_mm(job, solid)
                                         : job.case_form.width_mm / 2.0 - job.case_form.end_wall_mm;
  }
  const MountingBlock& block = solid.block;
  cut.from_mm = NeedsBlock(block) ? solid.bay.z_max_mm : cut.wall_mm;
  cut.tapers = pin.body == Body::kCase && std::abs(block.at_rim_mm - block.at_floor_mm) > kTaper_mm;
  const Section section = SectionAt(solid, cut.wall_mm + kInWall_mm);
  cut.in_wall = Contains(pin.body == Body::kLid ? section.lid_rings : section.case_rings, centre);
  for (const HingePiece& piece : pieces) {
    if (piece.kind == PieceKind::kJig || piece.kind == PieceKind::kScrew) continue;
    if (!Contains({Flatten(piece.outline, kChordError_mm)}, centre)) {
      const bool packing = piece.kind == PieceKind::kSpacer && piece.cut_from_sheet;
      if (packing && piece.body == pin.body) cut.beside.push_back(&piece);
      continue;
    }
    // Only the pin's own body and the arm that runs on it: what passes over it when the lid is shut
    // has no part in its stack.
    const bool own = piece.body == pin.body || (pin.joined && piece.body == *pin.joined);
    if (!own) continue;
    cut.pieces.push_back(&piece);
    if (piece.kind == PieceKind::kArm && piece.holes.size() == 2) {
      cut.across = Perp(Vec2((piece.holes[1].centre - piece.holes[0].centre).normalized()));
    }
  }
  std::stable_sort(cut.pieces.begin(), cut.pieces.end(),
                   [](const HingePiece* a, const HingePiece* b) {
                     if (std::abs(a->z_max_mm - b->z_max_mm) > kSamePoint_mm) {
                       return a->z_max_mm > b->z_max_mm;
                     }
                     return a->z_min_mm < b->z_min_mm;
                   });
  cut.z_low = pin.z_min_mm;
  cut.z_high = cut.wall_mm + kWallShown_mm;
  for (const HingePiece* piece : cut.pieces) {
    cut.z_low = std::min(cut.z_low, piece->z_min_mm);
    cut.z_high = std::max(cut.z_high, piece->z_max_mm);
  }
  return cut;
}

// "washer on case pin of arm A" is a washer where that pin is the title.
std::string ShortName(const HingePiece& piece, const HingePiece& pin) {
  if (&piece == &pin) return "pin";
  if (piece.kind == PieceKind::kBushing) return "bushing";
  if (piece.name.rfind("packing", 0) == 0) return "packing";
  if (IsMountingBlock(piece)) return "block";
  const std::size_t at = piece.name.find(" " + pin.name);
  const std::size_t word = at == std::string::npos ? at : piece.name.rfind(' ', at - 1);
  return word == std::string::npos ? piece.name : piece.name.substr(0, word);
}

void DrawPiece(Canvas& canvas, const HingePiece& piece, const Rect2& box) {
  const Path path = PageRing(RingOf(box));
  const bool arm = piece.kind == PieceKind::kArm;
  DrawLook(canvas, path, LookOf(piece), arm ? style::kArmEdge : style::kFineEdge);
}

// Page x for z: the outside of the box at the left.
struct StackView {
  double scale, z_high;
  Vec2 origin;  // of the page, where z = z_high meets the axis

  Rect2 operator()(double z_min, double z_max, double from, double to) const {
    return {origin + scale * Vec2(z_high - z_max, from), origin + scale * Vec2(z_high - z_min, to)};
  }
};

void DrawWall(Canvas& canvas, const StackView& view, const PinCut& cut) {
  const Path wall = PageRing(RingOf(view(cut.wall_mm, cut.z_high, -kReach_mm, kReach_mm)));
  if (!cut.in_wall) {
    canvas.Draw(wall, std::nullopt, style::kPhantom);
  } else if (cut.pin->body == Body::kLid) {
    DrawLidWood(canvas, wall);
  } else {
    DrawCaseWood(canvas, wall);
  }
}

// Numbers in a row over the section, in the order of their dots, so that no two leaders cross.
void NumberThem(Canvas& canvas, const std::vector<Vec2>& dots,
                const std::vector<std::string>& numbers, double top_mm, double right_mm) {
  std::vector<std::size_t> order(dots.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return dots[a].x() < dots[b].x(); });
  double apart = kApart_mm;
  for (const std::string& number : numbers) {
    apart = std::max(apart, LengthOf(number, style::kSmall_mm) + 1.3);
  }
  // As near to their dots as the least distance lets them: each run that is too tight is spread
  // about its middle.
  struct Group {
    double sum = 0.0;  // of (dot − place within the group)
    std::size_t count = 0;
    double apart = 0.0;
    double First() const { return sum / static_cast<double>(count); }
    double Last() const { return First() + apart * static_cast<double>(count - 1); }
  };
  std::vector<Group> groups;
  for (const std::size_t i : order) {
    groups.push_back({dots[i].x(), 1, apart});
    while (groups.size() > 1 && groups[groups.size() - 2].Last() + apart > groups.back().First()) {
      Group& before = groups[groups.size() - 2];
      const Group& last = groups.back();
      before.sum += last.sum - apart * static_cast<double>(before.count * last.count);
      before.count += last.count;
      groups.pop_back();
    }
  }
  Lettering lettering;
  lettering.height_mm = style::kSmall_mm;
  lettering.along = 0.5;
  std::size_t next = 0;
  for (const Group& group : groups) {
    for (std::size_t k = 0; k < group.count; ++k) {
      const std::size_t i = order[next++];
      const double over = std::max(0.0, group.Last() - right_mm);
      const double x = group.First() - over + apart * static_cast<double>(k);
      canvas.Draw(PageLine({dots[i], {dots[i].x(), top_mm + 2.0}, {x, top_mm + 5.0}}), std::nullopt,
                  style::kThin);
      canvas.Draw(Circle{dots[i], 0.4}, style::kInk, std::nullopt);
      canvas.Write(numbers[i], {x, top_mm + 5.8}, lettering);
    }
  }
}

void DrawSection(Canvas& canvas, const PinCut& cut, const Rect2& cell, double scale, bool blocks,
                 bool inches, const PartsList* list) {
  const Vec2 centre = CentreOf(*cut.pin);
  const double width = scale * (cut.z_high - cut.z_low);
  const double room = Size(cell).y() - kTitle_mm - 14.0;
  const StackView view{
      scale,
      cut.z_high,
      {cell.low.x() + 4.0 + (kDrawing_mm - width) / 2.0, cell.low.y() + 14.0 + room / 2.0}};
  canvas.Begin("stack");
  DrawWall(canvas, view, cut);
  std::vector<Vec2> dots;
  std::vector<std::string> numbers;
  const auto number = [&](const HingePiece& piece) {
    numbers.push_back(std::to_string(list ? ItemOf(*list, piece.name) : numbers.size() + 1));
    return numbers.back();
  };
  std::vector<std::vector<std::string>> rows{
      {list ? "item" : "no.", "part", "thick", blocks ? "from block" : "from wall"}};
  for (const bool pins : {false, true}) {  // pins last, on top
    for (const HingePiece* piece : cut.pieces) {
      if ((piece->kind == PieceKind::kPin) != pins) continue;
      for (const auto& [from, to] : CutThrough(piece->outline, piece->holes, centre, cut.across)) {
        const double low = std::max(from, -kReach_mm), high = std::min(to, kReach_mm);
        if (high - low < 0.01) continue;
        DrawPiece(canvas, *piece, view(piece->z_min_mm, piece->z_max_mm, low, high));
      }
    }
  }
  for (const HingePiece* piece : cut.beside) {
    canvas.Draw(PageRing(RingOf(view(piece->z_min_mm, piece->z_max_mm, -kReach_mm, kReach_mm))),
                std::nullopt, style::kHidden);
  }
  for (std::size_t i = 0; i < cut.pieces.size(); ++i) {
    const HingePiece& piece = *cut.pieces[i];
    double top = -kReach_mm;
    for (const auto& [from, to] : CutThrough(piece.outline, piece.holes, centre, cut.across)) {
      if (from < kReach_mm) top = std::max(top, std::min(to, kReach_mm));
    }
    // A pin is pointed at near its outer end, arm and bushing beside each other.
    const double share = piece.kind == PieceKind::kPin       ? 0.9
                         : piece.kind == PieceKind::kArm     ? 0.7
                         : piece.kind == PieceKind::kBushing ? 0.3
                                                             : 0.5;
    const double z = piece.z_min_mm + share * (piece.z_max_mm - piece.z_min_mm);
    const double in = piece.kind == PieceKind::kPin ? 1.0 : 0.4 / scale;
    dots.push_back(view(z, z, top - in, top - in).low);
    // Its thickness at a pin is in between those of the plate sheet.
    const bool tapers = cut.tapers && IsMountingBlock(piece);
    rows.push_back({number(piece), ShortName(piece, *cut.pin),
                    tapers ? "tapers" : PlaceText(piece.z_max_mm - piece.z_min_mm, inches),
                    tapers ? "" : PlaceText(cut.from_mm - piece.z_max_mm, inches)});
  }
  for (const HingePiece* piece : cut.beside) {
    const double z = (piece->z_min_mm + piece->z_max_mm) / 2.0;
    dots.push_back(view(z, z, kReach_mm - 0.4 / scale, kReach_mm).low);
    rows.push_back({number(*piece), ShortName(*piece, *cut.pin) + " beside",
                    PlaceText(piece->z_max_mm - piece->z_min_mm, inches),
                    PlaceText(cut.from_mm - piece->z_max_mm, inches)});
  }
  const Vec2 left = view(cut.z_high, cut.z_high, 0.0, 0.0).low - Vec2(3.0, 0.0);
  const Vec2 right = view(cut.z_low, cut.z_low, 0.0, 0.0).low + Vec2(3.0, 0.0);
  canvas.Draw(PageLine({left, right}), std::nullopt, style::kCentre);
  canvas.End();
  NumberThem(canvas, dots, numbers, view(0, 0, kReach_mm, kReach_mm).low.y(),
             cell.high.x() - kTable_mm - kInset_mm - 2.5);
  DimensionSide below(canvas, false, view(0, 0, -kReach_mm, 0).low.y() - 6.0, -1);
  const Rect2 pin = view(cut.pin->z_min_mm, cut.pin->z_max_mm, -kReach_mm, kReach_mm);
  below.Add(pin.low, {pin.high.x(), pin.low.y()},
            LengthText(cut.pin->z_max_mm - cut.pin->z_min_mm, inches));
  Lettering title;
  title.height_mm = style::kText_mm;
  canvas.Write(Fitted(cut.pin->name, Size(cell).x() - 8.0, title.height_mm),
               {cell.low.x() + 4.0, cell.high.y() - 5.5}, title);
  DrawTable(canvas, {cell.high.x() - kTable_mm - kInset_mm, cell.high.y() - 1.0},
            {{11.0, false}, {28.0, false}, {15.0, true}, {20.0, true}}, rows);
}

}  // namespace

std::vector<std::pair<double, double>> CutThrough(const Outline& outline,
                                                  const std::vector<Circle>& holes, const Vec2& at,
                                                  const Vec2& direction) {
  // How deep in material: one within the outline, less one within each hole.
  std::vector<std::pair<double, int>> steps;
  const Vec2 along = direction.normalized();
  const auto add = [&](const Ring& ring, int in) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 a = ring[i] - at, b = ring[(i + 1) % ring.size()] - at;
      const double ca = Cross(along, a), cb = Cross(along, b);
      if ((ca > 0.0) == (cb > 0.0)) continue;
      // A counter-clockwise ring goes up across the line where the line leaves it.
      steps.push_back({(a + ca / (ca - cb) * (b - a)).dot(along), ca > 0.0 ? in : -in});
    }
  };
  add(Flatten(outline, kChordError_mm / 4.0), 1);
  for (const Circle& hole : holes) add(Flatten(hole, kChordError_mm / 4.0), -1);
  std::sort(steps.begin(), steps.end());
  std::vector<std::pair<double, double>> met;
  int depth = 0;
  double from = 0.0;
  for (const auto& [x, step] : steps) {
    const int before = depth;
    depth += step;
    if (before <= 0 && depth > 0) from = x;
    if (before > 0 && depth <= 0 && x > from) met.push_back({from, x});
  }
  return met;
}

std::vector<Canvas> StackSheets(const Job& job, const Solid& solid,
                                const std::vector<HingePiece>& pieces, const PartsList* list) {
  std::vector<PinCut> cuts;
  for (const HingePiece& piece : pieces) {
    if (piece.kind == PieceKind::kPin) cuts.push_back(CutOf(piece, job, solid, pieces));
  }
  double longest = 1.0;
  for (const PinCut& cut : cuts) longest = std::max(longest, cut.z_high - cut.z_low);
  const Vec2 paper = PaperSize(job, true);
  const bool blocks = NeedsBlock(solid.block);
  const Rect2 frame = FrameOf(paper), block = TitleBlockOf(paper);
  const Vec2 cell(Size(frame).x() / 2.0, (frame.high.y() - block.high.y()) / 2.0);
  const double scale = UsualScale(
      [&](double s) {
        return s * longest <= kDrawing_mm && 2.0 * s * kReach_mm <= cell.y() - kTitle_mm - 26.0;
      },
      true);
  std::vector<Canvas> sheets;
  for (std::size_t first = 0; first < cuts.size(); first += 4) {
    Canvas canvas = MakeSheet(job, true, {"What stacks on each pin, left end", scale});
    for (std::size_t i = first; i < std::min(first + 4, cuts.size()); ++i) {
      const std::size_t k = i - first;
      const Vec2 corner(frame.low.x() + cell.x() * static_cast<double>(k % 2),
                        frame.high.y() - cell.y() * static_cast<double>(k / 2 + 1));
      DrawSection(canvas, cuts[i], {corner, corner + cell}, scale, blocks, job.inches, list);
    }
    Lettering small;
    small.height_mm = style::kSmall_mm;
    double y = block.high.y();
    const std::string words =
        "Sections along the pins' axes and across the arms; the outside of the box is at the left. "
        "\"From " +
        std::string(blocks ? "block\" is measured from the mounting blocks' face"
                           : "wall\" is measured from the inner face of the end wall of the pin's "
                             "body") +
        "; below 0 is in the wood. Dashed: packing between plate and wall, beside this pin. "
        "Dash-dotted: the "
        "wall reaches the pin only with its face. The right end is the mirror image.";
    for (const std::string& line :
         Broken(words, block.low.x() - frame.low.x() - 8.0, style::kSmall_mm)) {
      y -= 4.2;
      canvas.Write(line, {frame.low.x() + 4.0, y}, small);
    }
    sheets.push_back(std::move(canvas));
  }
  return sheets;
}

}  // namespace lidwright
