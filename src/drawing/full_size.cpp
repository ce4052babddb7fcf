// SPDX-License-Identifier: Apache-2.0
#include "full_size.h"

#include <algorithm>
#include <cmath>

#include "boxes.h"
#include "dimensions.h"
#include "labels.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/drawing/length_text.h"
#include "lidwright/drawing/style.h"
#include "radii.h"
#include "sheet.h"
#include "view.h"

namespace lidwright {
namespace {

constexpr double kAround_mm = 10.0;     // of the drawing, for names
constexpr double kOrdinates_mm = 30.0;  // below and beside it
constexpr double kEdgeOver_mm = 4.0;    // the edges are drawn so far beyond the rest
constexpr double kLine_mm = 4.2;        // from one line of notes to the next
constexpr double kNotes_mm = 176.0;     // a line fits a sheet
constexpr double kLeastWidth_mm = 180.0;

double FromX(const FullSize& drawing, const Vec2& at) {
  return drawing.leftwards ? -at.x() : at.x();
}

std::string Say(const FullSize& drawing, double mm) {
  return PlaceText(mm, drawing.inches);
}

// Number, what, diameter, depth, two distances and the letter of a note; columns that nobody needs
// are left out.
struct HoleTable {
  std::vector<Column> columns;
  std::vector<std::vector<std::string>> rows;
  std::vector<std::string> notes;  // "a  drill through …"

  double Width() const {
    double width = 0.0;
    for (const Column& column : columns) width += column.width_mm;
    return width;
  }
  double Height() const {
    if (columns.empty()) return 0.0;
    return TableHeight(rows.size()) + kLine_mm * static_cast<double>(notes.size()) + 4.0;
  }

  void Add(const std::string& head, const std::vector<std::string>& cells, bool right) {
    double width = LengthOf(head, style::kSmall_mm);
    for (const std::string& cell : cells) width = std::max(width, LengthOf(cell, style::kText_mm));
    columns.push_back({width + 4.0, right});
    rows.resize(cells.size() + 1);
    rows[0].push_back(head);
    for (std::size_t i = 0; i < cells.size(); ++i) rows[i + 1].push_back(cells[i]);
  }
};

HoleTable TableOf(const FullSize& drawing) {
  HoleTable table;
  if (drawing.marks.empty() || !drawing.table) return table;
  std::vector<std::string> numbers, whats, diameters, depths, across, up, letters;
  std::vector<std::string> items;
  bool deep = false, listed = false;
  for (const RoundMark& mark : drawing.marks) {
    const Vec2& at = mark.circle.centre;
    numbers.push_back(std::to_string(numbers.size() + 1));
    whats.push_back(mark.what);
    items.push_back(mark.item > 0 ? std::to_string(mark.item) : "");
    listed = listed || mark.item > 0;
    diameters.push_back(Say(drawing, 2.0 * mark.circle.radius_mm));
    deep = deep || std::isfinite(mark.deep_mm);
    depths.push_back(std::isfinite(mark.deep_mm) ? Say(drawing, mark.deep_mm) : "");
    across.push_back(Say(drawing, FromX(drawing, at)));
    up.push_back(Say(drawing, at.y()));
    letters.emplace_back();
    if (mark.note.empty()) continue;
    auto same = std::find_if(table.notes.begin(), table.notes.end(),
                             [&](const std::string& note) { return note.substr(3) == mark.note; });
    if (same == table.notes.end()) {
      const char letter = static_cast<char>('a' + table.notes.size() % 26);
      table.notes.push_back(std::string(1, letter) + "  " + mark.note);
      same = table.notes.end() - 1;
    }
    letters.back() = same->substr(0, 1);
  }
  table.Add("no.", numbers, false);
  // The unit once: with it in every head the table grew wider than a sheet.
  table.Add(std::string("hole, lengths in ") + (drawing.inches ? "in" : "mm"), whats, false);
  if (listed) table.Add("for part", items, true);
  table.Add("dia.", diameters, true);
  if (deep) table.Add("deep", depths, true);
  if (drawing.edges) {
    table.Add(drawing.from_x, across, true);
    table.Add(drawing.from_y, up, true);
  }
  if (!table.notes.empty()) table.Add("note", letters, true);
  return table;
}

// An arrow in the first corner of the area that is free, with its words below.
void DrawUp(Canvas& canvas, const FullSize& drawing, const Rect2& area) {
  constexpr double kLong_mm = 12.0, kHead_mm = 3.0, kRoom_mm = 2.0;
  Lettering words;
  words.height_mm = style::kSmall_mm;
  words.along = 0.5;
  const double half = std::max(kLong_mm, LengthOf(drawing.up_says, words.height_mm)) / 2.0 + 1.0;
  const double high = kLong_mm + words.height_mm + 3.0;
  for (const bool top : {true, false}) {
    for (const bool right : {true, false}) {
      const double x = right ? area.high.x() - half - kRoom_mm : area.low.x() + half + kRoom_mm;
      const double foot = top ? area.high.y() - high - kRoom_mm : area.low.y() + kRoom_mm;
      const Rect2 box{{x - half, foot}, {x + half, foot + high}};
      if (!canvas.Free(box, style::kTextClear_mm) || canvas.InkIn(box) > 0.0) continue;
      const Vec2 centre(x, box.high.y() - kLong_mm / 2.0), u = drawing.up->normalized();
      const Vec2 tip = centre + kLong_mm / 2.0 * u, back = tip - kHead_mm * u;
      canvas.Begin("up");
      canvas.Draw(PageLine({centre - kLong_mm / 2.0 * u, tip}), std::nullopt, style::kEdge);
      canvas.Draw(PageLine({back + kHead_mm / 2.0 * Perp(u), tip, back - kHead_mm / 2.0 * Perp(u)}),
                  std::nullopt, style::kEdge);
      canvas.Write(drawing.up_says, {x, foot + 0.5}, words);
      canvas.End();
      return;
    }
  }
}

// One ordinate for points on one line, reaching to the farthest from the texts.
void AddOrdinate(std::vector<Ordinate>& all, const Vec2& point, const std::string& text,
                 bool row_along_x, int direction) {
  const int along = row_along_x ? 0 : 1, out = 1 - along;
  for (Ordinate& other : all) {
    if (other.text != text || std::abs(other.point[along] - point[along]) > 0.005) continue;
    if (direction * (point[out] - other.point[out]) < 0.0) other.point = point;
    return;
  }
  all.push_back({point, text});
}

void DrawMark(Canvas& canvas, const View& view, const RoundMark& mark) {
  const Circle circle = view(mark.circle);
  const double reach = circle.radius_mm + 2.5;
  const Vec2 x(reach, 0.0), y(0.0, reach), c = circle.centre;
  canvas.Draw(circle, std::nullopt, style::kFineEdge, "mark");
  canvas.Draw(PageLine({c - x, c + x}), std::nullopt, style::kThin);
  canvas.Draw(PageLine({c - y, c + y}), std::nullopt, style::kThin);
}

void DrawEdges(Canvas& canvas, const View& view, const Rect2& shown) {
  const Vec2 low = shown.low - Vec2::Constant(kEdgeOver_mm);
  const Vec2 high = shown.high + Vec2::Constant(kEdgeOver_mm);
  const Pen cut{0.5, style::kInk, {4.0, 1.5}};
  canvas.Draw(view.Line({{0.0, low.y()}, {0.0, high.y()}}), std::nullopt, cut);
  canvas.Draw(view.Line({{low.x(), 0.0}, {high.x(), 0.0}}), std::nullopt, cut);
}

void NameEdges(Canvas& canvas, const View& view, const FullSize& drawing, const Rect2& shown,
               const Rect2& area) {
  LabelRule rule;
  rule.area = area;
  rule.clear_mm = 1.2;
  rule.height_mm = style::kSmall_mm;
  const Vec2 middle = Middle(shown);
  // Each name beside its edge, on the side away from what is drawn.
  rule.toward = {0.2, middle.y() > 0.0 ? -1.0 : 1.0};
  PlaceLabel(canvas, drawing.edge_y, view({middle.x(), 0.0}), rule);
  rule.toward = {middle.x() > 0.0 ? -1.0 : 1.0, 0.1};
  PlaceLabel(canvas, drawing.edge_x, view({0.0, middle.y()}), rule);
}

void NameRadii(Canvas& canvas, const View& view, const FullSize& drawing, LabelRule rule) {
  rule.clear_mm = 2.5;
  rule.leader_from_mm = 1.0;
  for (const DrawnOutline& drawn : drawing.outlines) {
    for (const Radius& radius : RadiiOf(drawn.outline)) {
      rule.toward = radius.inside ? Vec2(-radius.outward) : radius.outward;
      PlaceLabel(canvas, "R " + LengthText(radius.radius_mm, drawing.inches, Bench::kSize),
                 view(radius.on_arc), rule);
    }
  }
}

}  // namespace

Canvas DrawFullSize(const FullSize& drawing) {
  Rect2 shown = drawing.shown;
  for (const DrawnOutline& drawn : drawing.outlines) {
    for (const Vec2& p : Flatten(drawn.outline, kChordError_mm)) shown.Add(p);
  }
  for (const RoundMark& mark : drawing.marks) {
    shown.Add(mark.circle.centre - Vec2::Constant(mark.circle.radius_mm + 2.5));
    shown.Add(mark.circle.centre + Vec2::Constant(mark.circle.radius_mm + 2.5));
  }
  if (drawing.edges) shown.Add(Vec2::Zero());
  if (shown.Empty()) shown.Add(Vec2::Zero());
  const HoleTable table = TableOf(drawing);
  const double beside = drawing.edges ? kOrdinates_mm : kAround_mm;
  double side = kAround_mm;  // room for the edge's name on the back's side
  if (drawing.edges) side = std::max(side, LengthOf(drawing.edge_x, style::kSmall_mm) + 5.0);
  if (Size(shown).x() + side + beside > drawing.most_mm) side = kAround_mm;
  const double width =
      std::max({Size(shown).x() + side + beside, table.Width() + 4.0, kLeastWidth_mm});
  std::vector<std::string> notes;
  for (const std::string& note : drawing.notes) {
    const auto lines = Broken(note, std::min(width - 4.0, kNotes_mm), style::kSmall_mm);
    notes.insert(notes.end(), lines.begin(), lines.end());
  }
  const double words = 8.0 + kLine_mm * static_cast<double>(notes.size()) + 2.0;
  const double head = words + table.Height();
  const double height = head + Size(shown).y() + kAround_mm + beside;
  Canvas canvas(width, height, drawing.title);

  Lettering title;
  title.height_mm = style::kTitle_mm;
  const double aside = drawing.item > 0 ? 2.0 * kItem_mm + 2.0 : 0.0;
  if (drawing.item > 0) DrawItem(canvas, {2.0 + kItem_mm, height - 4.2}, drawing.item);
  canvas.Write(Fitted(drawing.title, width - 4.0 - aside, title.height_mm),
               {2.0 + aside, height - 6.0}, title);
  Lettering small;
  small.height_mm = style::kSmall_mm;
  for (std::size_t i = 0; i < notes.size(); ++i) {
    canvas.Write(notes[i], {2.0, height - 7.0 - kLine_mm * static_cast<double>(i + 1)}, small);
  }
  // The ordinates stand on the side away from x = 0.
  const bool back_left = Middle(shown).x() >= 0.0;
  const double left = (back_left ? side : beside) + (width - Size(shown).x() - side - beside) / 2.0;
  const View view{1.0, Vec2(left, beside) - shown.low};
  canvas.Begin("outlines");
  for (const DrawnOutline& drawn : drawing.outlines) {
    canvas.Draw({view(drawn.outline)}, std::nullopt, drawn.pen);
  }
  canvas.End();
  if (drawing.edges) DrawEdges(canvas, view, shown);
  canvas.Begin("marks");
  for (const RoundMark& mark : drawing.marks) DrawMark(canvas, view, mark);
  canvas.End();
  const Rect2 area{{1.0, 1.0}, {width - 1.0, height - head}};
  if (drawing.edges) {
    std::vector<Ordinate> across, up;
    for (const RoundMark& mark : drawing.marks) {
      const Vec2& at = mark.circle.centre;
      AddOrdinate(across, view(at), Say(drawing, FromX(drawing, at)), true, -1);
      AddOrdinate(up, view(at), Say(drawing, at.y()), false, back_left ? 1 : -1);
    }
    // The edges' own start at their ends, so as not to cover them.
    across.push_back({view(Vec2(0.0, shown.low.y() - kEdgeOver_mm)), "0"});
    const double end = back_left ? shown.high.x() + kEdgeOver_mm : shown.low.x() - kEdgeOver_mm;
    up.push_back({view(Vec2(end, 0.0)), "0"});
    canvas.Begin("ordinates");
    DrawOrdinates(canvas, across, true, view(shown).low.y() - 10.0, -1);
    const double row = back_left ? view(shown).high.x() + 10.0 : view(shown).low.x() - 10.0;
    DrawOrdinates(canvas, up, false, row, back_left ? 1 : -1);
    canvas.End();
    NameEdges(canvas, view, drawing, shown, area);
  }
  LabelRule rule;
  rule.area = area;
  rule.clear_mm = drawing.table ? 1.4 : 5.0;  // names clear the outline round a hole
  int next = 0;
  for (const RoundMark& mark : drawing.marks) {
    rule.toward = {1.0, 1.0};
    const Vec2 rim = view(mark.circle.centre) + mark.circle.radius_mm * Vec2(1.0, 1.0).normalized();
    PlaceLabel(canvas, drawing.table ? std::to_string(++next) : mark.what, rim, rule);
  }
  rule.height_mm = style::kSmall_mm;
  if (drawing.radii) NameRadii(canvas, view, drawing, rule);
  rule.clear_mm = 1.4;
  for (const DrawnOutline& drawn : drawing.outlines) {
    if (drawn.name.empty()) continue;
    const Rect2 box = view(Bounds(Flatten(drawn.outline, kChordError_mm)));
    PlaceLabel(canvas, drawn.name, {Middle(box).x(), box.low.y() + 3.0}, rule);
  }
  if (drawing.up) DrawUp(canvas, drawing, area);
  if (!table.columns.empty()) {
    double y = DrawTable(canvas, {2.0, height - words}, table.columns, table.rows);
    for (const std::string& note : table.notes) {
      y -= kLine_mm;
      canvas.Write(Fitted(note, width - 4.0, style::kSmall_mm), {2.0, y}, small);
    }
  }
  return canvas;
}

}  // namespace lidwright
