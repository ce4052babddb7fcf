// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/nest_sheet.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>

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
// Corners of several sheets on one page: kept at their right, and above for what they are of.
constexpr double kAfter_mm = 6.0, kCaption_mm = 14.0;
constexpr double kSmaller = 0.6;  // of the scale it would have alone that a corner may be drawn at

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
    const Rect2 frame = FrameOf(paper_), block = TitleBlockOf(paper_), room = Room(paper_);
    whole_ = IsWhole();
    const Vec2 shown = whole_ ? StockSize() : Corner();
    const double scale = ScaleFor(shown);
    const Vec2 beside = Beside();
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

  // Of a sheet with little on it only the corner with the parts is drawn, so that they can be read.
  bool IsWhole() const { return ScaleFor(StockSize()) >= 0.6 * ScaleFor(Corner()); }
  double CornersScale() const { return ScaleFor(Corner()); }

  static Rect2 Room(const Vec2& paper) {
    Rect2 room = FrameOf(paper);
    room.high.x() = TitleBlockOf(paper).low.x();
    return room;
  }

  // What the corner takes of a page that it shares.
  Vec2 CellAt(double scale) const {
    const Vec2 cell = scale * Corner() + Vec2(kBeside_mm + kAfter_mm, kBeside_mm + kCaption_mm);
    return cell.cwiseMax(Vec2(kBeside_mm + LengthOf(Caption(), style::kText_mm) + 4.0, 0.0));
  }

  using Rows = std::vector<std::vector<std::string>>;

  Rows DrawCorner(Canvas& canvas, const Rect2& cell, double scale) {
    whole_ = false;
    const View view{scale, cell.low + Vec2::Constant(kBeside_mm)};
    DrawStock(canvas, view, Corner());
    Dimensions(canvas, view, Corner());
    Lettering lettering;
    lettering.height_mm = style::kText_mm;
    canvas.Write(Caption(), {cell.low.x() + kBeside_mm, cell.high.y() - 6.0}, lettering);
    return Parts(canvas, view, Rect2{Vec2::Zero(), Corner()});
  }

  // The table of a page that several share.
  void DrawTableOf(Canvas& canvas, const Rows& rows, bool grain) {
    grain_ = grain;
    Table(canvas, FrameOf(paper_), TitleBlockOf(paper_), rows,
          {"Only the used corners are shown, of sheets of " + Say(group_.stock.width_mm) + " by " +
           Say(group_.stock.height_mm) + "."});
  }
  bool grain() const { return grain_; }

 private:
  std::string Say(double mm) const { return BenchText(mm, Bench::kHole, job_.inches); }

  Vec2 StockSize() const { return {group_.stock.width_mm, group_.stock.height_mm}; }
  Vec2 Corner() const {
    return StockSize().cwiseMin(Used() + Vec2::Constant(group_.stock.margin_mm + kBeyond_mm));
  }
  static Vec2 Beside() { return {kBeside_mm + 6.0, 2.0 * kBeside_mm}; }
  double ScaleFor(const Vec2& shown) const {
    const Vec2 room = Size(Room(paper_));
    return UsualScale(
        [&](double s) { return ((s * shown + Beside()).array() <= room.array()).all(); });
  }
  std::string Caption() const {
    return group_.material + ", " + Say(group_.thickness_mm) +
           (group_.nest.sheets > 1 ? ", sheet " + std::to_string(sheet_ + 1) + " of " +
                                         std::to_string(group_.nest.sheets)
                                   : "");
  }

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
               std::vector<std::vector<std::string>> rows,
               std::vector<std::string> lines = {}) const {
    const double most = std::floor((frame.high.y() - block.high.y() - kRows_mm) / 5.0);
    if (static_cast<double>(rows.size()) > most) {
      rows.resize(static_cast<std::size_t>(most) - 1);
      rows.push_back({"\xE2\x80\xA6", "more in the parts list"});
    }
    const Vec2 corner(block.low.x() + 2.0, frame.high.y() - 2.0);
    double y =
        DrawTable(canvas, corner, {{10.0, false}, {style::kTitleWidth_mm - 14.0, false}}, rows);
    lines.push_back("Between parts at least " + Say(group_.stock.spacing_mm));
    lines.push_back("From the sheet's edges at least " + Say(group_.stock.margin_mm));
    lines.push_back("Crosses are drilled. Cut drill marks first, then holes, then outlines.");
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

// Where boxes lie in a room that is measured from its upper left corner, the tallest first; nothing
// if they do not go in.
std::optional<std::vector<Vec2>> Packed(const std::vector<Vec2>& boxes, const Vec2& room) {
  std::vector<std::size_t> order(boxes.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return boxes[a].y() > boxes[b].y(); });
  std::vector<Vec2> places(boxes.size());
  std::vector<std::size_t> placed;
  for (const std::size_t i : order) {
    std::vector<double> xs{0.0}, ys{0.0};
    for (const std::size_t k : placed) {
      xs.push_back(places[k].x() + boxes[k].x());
      ys.push_back(places[k].y() + boxes[k].y());
    }
    std::sort(xs.begin(), xs.end());
    std::sort(ys.begin(), ys.end());
    const auto free = [&](const Vec2& at) {
      if (((at + boxes[i]).array() > room.array()).any()) return false;
      return std::none_of(placed.begin(), placed.end(), [&](std::size_t k) {
        return ((at.array() < (places[k] + boxes[k]).array() - kSamePoint_mm) &&
                (places[k].array() < (at + boxes[i]).array() - kSamePoint_mm))
            .all();
      });
    };
    bool found = false;
    for (const double y : ys) {
      for (const double x : xs) {
        if (found || !free({x, y})) continue;
        places[i] = {x, y};
        found = true;
      }
    }
    if (!found) return std::nullopt;
    placed.push_back(i);
  }
  return places;
}

// Corners of several sheets on one page, as long as they can be read there.
void AddCorners(const Job& job, std::vector<Sheet> sheets, std::vector<Canvas>& pages) {
  if (sheets.size() == 1) pages.push_back(sheets[0].Draw());
  if (sheets.size() < 2) return;
  const Vec2 paper = PaperSize(job, true);
  const Rect2 room = Sheet::Room(paper);
  std::vector<Vec2> cells;
  const auto pack = [&](double scale) {
    cells.clear();
    for (const Sheet& sheet : sheets) cells.push_back(sheet.CellAt(scale));
    return Packed(cells, Size(room));
  };
  const double scale = UsualScale([&](double s) { return pack(s).has_value(); });
  double alone = std::numeric_limits<double>::infinity();
  for (const Sheet& sheet : sheets) alone = std::min(alone, sheet.CornersScale());
  const auto places = pack(scale);
  if (!places || scale < kSmaller * alone) {
    const auto middle = sheets.begin() + static_cast<std::ptrdiff_t>((sheets.size() + 1) / 2);
    AddCorners(job, {sheets.begin(), middle}, pages);
    AddCorners(job, {middle, sheets.end()}, pages);
    return;
  }
  Canvas canvas = MakeSheet(job, true, {"How the parts lie on their sheets", scale});
  Sheet::Rows rows;
  bool grain = false;
  for (std::size_t i = 0; i < sheets.size(); ++i) {
    const Vec2 corner(room.low.x() + (*places)[i].x(), room.high.y() - (*places)[i].y());
    const Rect2 cell{corner - Vec2(0.0, cells[i].y()), corner + Vec2(cells[i].x(), 0.0)};
    const Sheet::Rows own = sheets[i].DrawCorner(canvas, cell, scale);
    rows.insert(rows.end(), own.begin() + (rows.empty() ? 0 : 1), own.end());
    grain = grain || sheets[i].grain();
  }
  sheets[0].DrawTableOf(canvas, rows, grain);
  pages.push_back(std::move(canvas));
}

}  // namespace

std::vector<Canvas> NestSheets(const Job& job, const CutSet& set, const PartsList* list) {
  std::vector<Canvas> pages;
  std::vector<Sheet> corners;
  for (const CutGroup& group : set.groups) {
    for (int sheet = 0; sheet < group.nest.sheets; ++sheet) {
      Sheet one(job, group, sheet, list);
      if (one.IsWhole() || !list) {  // without a list numbers begin anew on each page
        pages.push_back(one.Draw());
      } else {
        corners.push_back(std::move(one));
      }
    }
  }
  AddCorners(job, std::move(corners), pages);
  return pages;
}

}  // namespace lidwright
