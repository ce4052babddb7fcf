// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/nest_sheet.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "boxes.h"
#include "dimensions.h"
#include "full_size.h"
#include "labels.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/drawing/length_text.h"
#include "lidwright/drawing/stack_sheet.h"
#include "lidwright/drawing/style.h"
#include "sheet.h"
#include "view.h"

namespace lidwright {
namespace {

constexpr double kBeside_mm = 22.0;  // for dimensions, left and above
const Colour kSheetPart{0xeeeeee};
constexpr double kGrainShare = 0.6;        // of the material along it that a grain arrow takes
constexpr double kGrainLongest_mm = 25.0;  // on the page
constexpr double kRows_mm = 85.0;          // what else stands in the column of the table
constexpr double kBeyond_mm = 12.0;  // of the sheet beyond the parts, where only a corner is shown
constexpr double kWhole_mm = 60.0;   // the whole sheet's width, small
constexpr double kWholeBeside_mm = 12.0;

// Where a line along `along` through the part has the longest stretch of material, holes left out,
// of lines in equal steps across it and `clear_mm` to both sides of them: the middle of that
// stretch and its length.
struct Stretch {
  Vec2 middle = Vec2::Zero();
  double length = 0.0;
};
Stretch LongestAlong(const CutPart& part, const Vec2& along, const Vec2& keep_off, double off_mm,
                     double clear_mm) {
  const Vec2 across = Perp(along);
  const Ring ring = Flatten(part.outline, kChordError_mm);
  double low = std::numeric_limits<double>::infinity(), high = -low;
  for (const Vec2& p : ring) {
    low = std::min(low, p.dot(across));
    high = std::max(high, p.dot(across));
  }
  std::vector<Circle> holes = part.holes;
  holes.insert(holes.end(), part.drill_marks.begin(), part.drill_marks.end());
  holes.push_back({keep_off, off_mm});
  Stretch best;
  for (const double clear : {clear_mm, 0.4 * clear_mm, 0.0}) {  // beside the line, if that can be
    double best_worth = -std::numeric_limits<double>::infinity();
    for (int i = 1; i < 40; ++i) {
      const double aside = (high - low) * (i / 40.0 - 0.5);
      const Vec2 at = ((low + high) / 2.0 + aside) * across;
      const auto below = CutThrough(part.outline, holes, at - clear * across, along);
      const auto above = CutThrough(part.outline, holes, at + clear * across, along);
      for (const auto& [from, to] : CutThrough(part.outline, holes, at, along)) {
        for (const auto& [low_from, low_to] : below) {
          for (const auto& [high_from, high_to] : above) {
            const double start = std::max({from, low_from, high_from});
            const double length = std::min({to, low_to, high_to}) - start;
            const double worth = length - std::abs(aside);  // rather in the middle
            if (length <= 0.0 || worth <= best_worth) continue;
            best_worth = worth;
            best = {at + (start + length / 2.0) * along, length};
          }
        }
      }
    }
    if (best.length >= 8.0 * clear_mm) return best;  // else as long as it may be
  }
  return best;
}

// The place in the material that is farthest from all its edges.
Vec2 Roomiest(const CutPart& part, double* room_mm) {
  std::vector<Ring> rings{Flatten(part.outline, 0.05)};
  for (const Circle& hole : part.holes) rings.push_back(Flatten(hole, 0.05));
  for (const Circle& hole : part.drill_marks) rings.push_back(Flatten(hole, 0.05));
  for (std::size_t i = 1; i < rings.size(); ++i) std::reverse(rings[i].begin(), rings[i].end());
  const Rect2 box = Bounds(rings[0]);
  Vec2 best = Middle(box);
  *room_mm = 0.0;
  for (int i = 1; i < 60; ++i) {
    for (int k = 1; k < 60; ++k) {
      const Vec2 p = box.low + Size(box).cwiseProduct(Vec2(i, k) / 60.0);
      const double room = -SignedDistance(rings, p);
      if (room <= *room_mm + 0.01) continue;
      *room_mm = room;
      best = p;
    }
  }
  return best;
}

void DrawGrain(Canvas& canvas, const View& view, const Stretch& stretch, const Vec2& along) {
  const double length = std::min(kGrainShare * stretch.length, kGrainLongest_mm / view.scale);
  const Vec2 a = view(stretch.middle - length / 2.0 * along);
  const Vec2 b = view(stretch.middle + length / 2.0 * along);
  Path arrow = PageLine({a, b});
  const double barb = 1.4;
  for (const auto& [tip, back] : {std::pair(a, b), {b, a}}) {
    const Vec2 in = (back - tip).normalized();
    arrow.push_back(PageLine(
        {tip + barb * (in + 0.35 * Perp(in)), tip, tip + barb * (in - 0.35 * Perp(in))})[0]);
  }
  canvas.Draw(arrow, std::nullopt, style::kThin);
}

void DrawPart(Canvas& canvas, const View& view, const CutPart& part) {
  Path path{view(part.outline)};
  for (const Circle& hole : part.holes) path.push_back(view(AsOutline(hole)));
  canvas.Draw(path, kSheetPart, style::kFineEdge);
  for (const Circle& drill : part.drill_marks) {
    const Vec2 c = view(drill.centre), x(1.2, 0.0), y(0.0, 1.2);
    canvas.Draw(PageLine({c - x, c + x}), std::nullopt, style::kThin);
    canvas.Draw(PageLine({c - y, c + y}), std::nullopt, style::kThin);
  }
}

// "1L" for "arm A, left": the number of the parts list and the end it is for.
std::string ItemOnSheet(const PartsList& list, const std::string& part) {
  const std::size_t comma = part.rfind(", ");
  const std::string end = comma == std::string::npos ? "" : part.substr(comma + 2);
  const bool handed = end == "left" || end == "right";
  const int item = ItemOf(list, handed ? part.substr(0, comma) : part);
  return std::to_string(item) + (end == "left" ? "L" : end == "right" ? "R" : "");
}

class Sheet {
 public:
  Sheet(const Job& job, const CutGroup& group, int sheet, const PartsList* list)
      : job_(job), group_(group), sheet_(sheet), list_(list), paper_(PaperSize(job, true)) {}

  Canvas Draw() {
    const Stock& stock = group_.stock;
    const Rect2 frame = FrameOf(paper_), block = TitleBlockOf(paper_);
    Rect2 room = frame;
    room.high.x() = block.low.x();
    const Vec2 size(stock.width_mm, stock.height_mm);
    // Of a sheet with little on it only the corner with the parts, so that they can be read.
    const Vec2 corner = size.cwiseMin(Used() + Vec2::Constant(stock.margin_mm + kBeyond_mm));
    const Vec2 beside(kBeside_mm + 6.0, 2.0 * kBeside_mm);
    const auto scale_for = [&](const Vec2& shown) {
      return UsualScale(
          [&](double s) { return ((s * shown + beside).array() <= Size(room).array()).all(); });
    };
    whole_ = scale_for(size) >= 0.6 * scale_for(corner);
    const Vec2 shown = whole_ ? size : corner;
    const double scale = scale_for(shown);
    Canvas canvas = MakeSheet(
        job_, true,
        {"Sheet " + std::to_string(sheet_ + 1) + " of " + std::to_string(group_.nest.sheets) +
             ": " + group_.material + ", " + Say(group_.thickness_mm),
         scale});
    const Vec2 spare = Size(room) - scale * shown - beside;
    const View view{scale, room.low + Vec2(kBeside_mm, kBeside_mm) + spare / 2.0};
    DrawStock(canvas, view, shown);
    Dimensions(canvas, view, shown);
    const auto rows = Parts(canvas, view, Rect2{Vec2::Zero(), shown});
    const double low = Table(canvas, frame, block, rows);
    if (!whole_) {
      DrawWhole(canvas,
                {{block.low.x() + 2.0, block.high.y() + 4.0}, {block.high.x() - 2.0, low - 4.0}});
    }
    return canvas;
  }

 private:
  std::string Say(double mm) const { return BenchText(mm, Bench::kHole, job_.inches); }

  Vec2 Used() const { return group_.nest.used[static_cast<std::size_t>(sheet_)].high; }

  // The sheet's edges and margins; where it is cut off, they end open.
  void DrawStock(Canvas& canvas, const View& view, const Vec2& shown) const {
    const Vec2 size(group_.stock.width_mm, group_.stock.height_mm);
    const Vec2 margin = Vec2::Constant(group_.stock.margin_mm);
    if (whole_) {
      canvas.Draw(PageRing(RingOf(view(Rect2{Vec2::Zero(), size}))), std::nullopt, style::kEdge);
      canvas.Draw(PageRing(RingOf(view(Rect2{margin, size - margin}))), std::nullopt,
                  style::kGhost);
      return;
    }
    const auto draw = [&](const Vec2& from, const Vec2& to, const Pen& pen) {
      std::vector<Vec2> points{{from.x(), shown.y()}, from, {shown.x(), from.y()}};
      if (shown.y() >= size.y()) {  // the sheet's height is all there
        points[0].y() = to.y();
        points.insert(points.begin(), {shown.x(), to.y()});
      }
      if (shown.x() >= size.x()) {
        points.back().x() = to.x();
        points.push_back({to.x(), shown.y()});
      }
      canvas.Draw(view.Line(points), std::nullopt, pen);
    };
    draw(Vec2::Zero(), size, style::kEdge);
    draw(margin, size - margin, style::kGhost);
  }

  // The whole sheet, small, and on it the corner that is used.
  void DrawWhole(Canvas& canvas, const Rect2& room) const {
    const Vec2 size(group_.stock.width_mm, group_.stock.height_mm);
    const Vec2 free = Size(room) - Vec2(4.0 + kWholeBeside_mm, 2.0 * kWholeBeside_mm);
    const double scale = std::min({free.x() / size.x(), free.y() / size.y(), kWhole_mm / size.x()});
    if (!(scale > 0.0)) return;
    const View view{scale, room.low + Vec2(kWholeBeside_mm, kWholeBeside_mm)};
    const Rect2 all = view(Rect2{Vec2::Zero(), size});
    canvas.Begin("whole sheet");
    canvas.Draw(PageRing(RingOf(view(Rect2{Vec2::Zero(), Used()}))), kSheetPart, style::kThin);
    canvas.Draw(PageRing(RingOf(all)), std::nullopt, style::kFineEdge);
    canvas.End();
    const auto say = [&](double mm) { return LengthText(mm, job_.inches); };
    DimensionSide below(canvas, false, all.low.y() - 5.0, -1);
    below.Add(all.low, {all.high.x(), all.low.y()}, say(size.x()));
    DimensionSide left(canvas, true, all.low.x() - 5.0, -1);
    left.Add(all.low, {all.low.x(), all.high.y()}, say(size.y()));
    Lettering small;
    small.height_mm = style::kSmall_mm;
    canvas.Write("The whole sheet, its used corner grey", {room.low.x(), all.high.y() + 2.5},
                 small);
  }

  void Dimensions(Canvas& canvas, const View& view, const Vec2& shown) const {
    const Rect2 all = view(Rect2{Vec2::Zero(), shown});
    const Vec2 size(group_.stock.width_mm, group_.stock.height_mm), used = Used();
    const auto say = [&](double mm) { return LengthText(mm, job_.inches); };
    DimensionSide below(canvas, false, all.low.y() - style::kDimFirst_mm, -1);
    const auto room = [&](double mm) { return LengthText(mm, job_.inches, Bench::kRoom); };
    below.Add(all.low, view(Vec2(used.x(), 0.0)), room(used.x()));
    DimensionSide left(canvas, true, all.low.x() - style::kDimFirst_mm, -1);
    left.Add(all.low, view(Vec2(0.0, used.y())), room(used.y()));
    if (!whole_) return;
    below.Add(all.low, {all.high.x(), all.low.y()}, say(size.x()));
    left.Add(all.low, {all.low.x(), all.high.y()}, say(size.y()));
  }

  std::vector<std::vector<std::string>> Parts(Canvas& canvas, const View& view,
                                              const Rect2& sheet) {
    std::vector<std::vector<std::string>> rows{{list_ ? "item" : "no.", "part"}};
    LabelRule rule;
    rule.area = Grown(view(sheet), -0.5);
    rule.height_mm = style::kSmall_mm;
    canvas.Begin("parts");
    for (const CutPart& part : OnSheet(group_.parts, group_.nest, sheet_)) {
      DrawPart(canvas, view, part);
    }
    canvas.End();
    for (const Placement& at : group_.nest.placements) {
      if (at.sheet != sheet_) continue;
      const CutPart part = Moved(group_.parts[at.part].part, at.pose);
      const std::string number =
          list_ ? ItemOnSheet(*list_, part.name) : std::to_string(rows.size());
      double around = 0.0;
      const Vec2 place = Roomiest(part, &around);
      Lettering lettering;
      lettering.height_mm = style::kSmall_mm;
      lettering.along = 0.5;
      const double needed = 0.8 * style::kSmall_mm + 0.3 * LengthOf(number, style::kSmall_mm);
      if (view.scale * around >= needed) {
        canvas.Write(number, view(place) - Vec2(0.0, style::kSmall_mm / 2.0), lettering);
      } else {
        rule.clear_mm = view.scale * around + 0.8;
        PlaceLabel(canvas, number, view(place), rule);
      }
      if (group_.parts[at.part].grain) {
        grain_ = true;
        const Vec2 along = at.pose.Turn(*group_.parts[at.part].grain).normalized();
        DrawGrain(canvas, view,
                  LongestAlong(part, along, place, 2.2 / view.scale, 0.8 / view.scale), along);
      }
      const std::vector<std::string> row{number, part.name};
      if (!list_ || std::find(rows.begin(), rows.end(), row) == rows.end()) rows.push_back(row);
    }
    return rows;
  }

  double Table(Canvas& canvas, const Rect2& frame, const Rect2& block,
               std::vector<std::vector<std::string>> rows) const {
    const double most = std::floor((frame.high.y() - block.high.y() - kRows_mm) / 5.0);
    if (static_cast<double>(rows.size()) > most) {
      rows.resize(static_cast<std::size_t>(most) - 1);
      rows.push_back({"\xE2\x80\xA6", "more in the parts list"});
    }
    const Vec2 corner(block.low.x() + 2.0, frame.high.y() - 2.0);
    double y =
        DrawTable(canvas, corner, {{10.0, false}, {style::kTitleWidth_mm - 14.0, false}}, rows);
    std::vector<std::string> lines{
        "Between parts at least " + Say(group_.stock.spacing_mm),
        "From the sheet's edges at least " + Say(group_.stock.margin_mm),
        "Crosses are drilled. Cut drill marks first, then holes, then outlines."};
    if (grain_) lines.push_back("Arrows show the grain; it runs along the sheet, left to right.");
    Lettering small;
    small.height_mm = style::kSmall_mm;
    for (const std::string& text : lines) {
      for (const std::string& line : Broken(text, style::kTitleWidth_mm - 4.0, style::kSmall_mm)) {
        y -= 4.2;
        canvas.Write(line, {corner.x(), y}, small);
      }
    }
    return y;
  }

  const Job& job_;
  const CutGroup& group_;
  int sheet_;
  const PartsList* list_;
  Vec2 paper_;
  bool whole_ = true;  // the whole sheet is shown
  bool grain_ = false;
};

}  // namespace

std::vector<Canvas> NestSheets(const Job& job, const CutSet& set, const PartsList* list) {
  std::vector<Canvas> pages;
  for (const CutGroup& group : set.groups) {
    for (int sheet = 0; sheet < group.nest.sheets; ++sheet) {
      pages.push_back(Sheet(job, group, sheet, list).Draw());
    }
  }
  return pages;
}

}  // namespace lidwright
