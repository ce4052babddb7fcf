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
#include "sheet.h"
#include "view.h"

namespace lidwright {
namespace {

constexpr double kAround_mm = 10.0;     // of the drawing, for names
constexpr double kOrdinates_mm = 30.0;  // below and beside it
constexpr double kEdgeOver_mm = 4.0;    // the edges are drawn so far beyond the rest
constexpr double kLine_mm = 4.2;        // from one line of notes to the next
constexpr double kTable_mm = 168.0;
constexpr double kNotes_mm = 176.0;  // a line fits a sheet

// The table's columns: number, what, diameter, two distances, note.
const std::vector<Column> kColumns = {{8.0, false}, {50.0, false}, {18.0, true}, {22.0, true},
                                      {22.0, true}, {2.0, false},  {46.0, false}};

double FromX(const FullSize& drawing, const Vec2& at) {
  return drawing.leftwards ? -at.x() : at.x();
}

std::vector<std::vector<std::string>> Rows(const FullSize& drawing) {
  const auto say = [&](double mm) { return LengthText(mm, drawing.inches); };
  std::vector<std::vector<std::string>> rows{
      {"no.", "hole", drawing.inches ? "dia., in" : "dia., mm", drawing.edges ? drawing.from_x : "",
       drawing.edges ? drawing.from_y : "", "", ""}};
  int next = 0;
  for (const Mark& mark : drawing.marks) {
    const Vec2& at = mark.circle.centre;
    rows.push_back({std::to_string(++next), mark.what,
                    GapText(2.0 * mark.circle.radius_mm, drawing.inches),
                    drawing.edges ? say(FromX(drawing, at)) : "", drawing.edges ? say(at.y()) : "",
                    "", mark.note});
  }
  return rows;
}

void DrawMark(Canvas& canvas, const View& view, const Mark& mark) {
  const Circle circle = view(mark.circle);
  const double reach = circle.radius_mm + 2.5;
  const Vec2 x(reach, 0.0), y(0.0, reach), c = circle.centre;
  canvas.Draw(circle, std::nullopt, style::kFineEdge, "mark");
  canvas.Draw(PageLine({c - x, c + x}), std::nullopt, style::kThin);
  canvas.Draw(PageLine({c - y, c + y}), std::nullopt, style::kThin);
}

void DrawEdges(Canvas& canvas, const View& view, const Box2& shown) {
  const Vec2 low = shown.low - Vec2::Constant(kEdgeOver_mm);
  const Vec2 high = shown.high + Vec2::Constant(kEdgeOver_mm);
  const Pen cut{0.5, style::kInk, {4.0, 1.5}};
  canvas.Draw(view.Line({{0.0, low.y()}, {0.0, high.y()}}), std::nullopt, cut);
  canvas.Draw(view.Line({{low.x(), 0.0}, {high.x(), 0.0}}), std::nullopt, cut);
}

void NameEdges(Canvas& canvas, const View& view, const FullSize& drawing, const Box2& shown,
               const Box2& area) {
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

}  // namespace

Canvas DrawFullSize(const FullSize& drawing) {
  Box2 shown = drawing.shown;
  for (const DrawnOutline& drawn : drawing.outlines) {
    for (const Vec2& p : Flatten(drawn.outline, kChordError_mm)) shown.Add(p);
  }
  for (const Mark& mark : drawing.marks) {
    shown.Add(mark.circle.centre - Vec2::Constant(mark.circle.radius_mm + 2.5));
    shown.Add(mark.circle.centre + Vec2::Constant(mark.circle.radius_mm + 2.5));
  }
  if (drawing.edges) shown.Add(Vec2::Zero());
  if (shown.Empty()) shown.Add(Vec2::Zero());
  const std::vector<std::vector<std::string>> rows = Rows(drawing);
  const double table = drawing.marks.empty() ? 0.0 : TableHeight(rows.size()) + 3.0;
  const double beside = drawing.edges ? kOrdinates_mm : kAround_mm;
  double side = kAround_mm;  // room for the edge's name on the back's side
  if (drawing.edges) side = std::max(side, LengthOf(drawing.edge_x, style::kSmall_mm) + 5.0);
  const double width = std::max(
      {Size(shown).x() + side + beside, drawing.marks.empty() ? 0.0 : kTable_mm + 4.0, 120.0});
  std::vector<std::string> notes;
  for (const std::string& note : drawing.notes) {
    const auto lines = Broken(note, std::min(width - 4.0, kNotes_mm), style::kSmall_mm);
    notes.insert(notes.end(), lines.begin(), lines.end());
  }
  const double head = 8.0 + kLine_mm * static_cast<double>(notes.size()) + 2.0;
  const double height = head + Size(shown).y() + kAround_mm + beside + table;
  Canvas canvas(width, height, drawing.title);

  Lettering title;
  title.height_mm = style::kTitle_mm;
  canvas.Write(Fitted(drawing.title, width - 4.0, title.height_mm), {2.0, height - 6.0}, title);
  Lettering small;
  small.height_mm = style::kSmall_mm;
  for (std::size_t i = 0; i < notes.size(); ++i) {
    canvas.Write(notes[i], {2.0, height - 7.0 - kLine_mm * static_cast<double>(i + 1)}, small);
  }
  // The ordinates stand on the side away from x = 0.
  const bool back_left = Middle(shown).x() >= 0.0;
  const double left = (back_left ? side : beside) + (width - Size(shown).x() - side - beside) / 2.0;
  const View view{1.0, Vec2(left, table + beside) - shown.low};
  canvas.Begin("outlines");
  for (const DrawnOutline& drawn : drawing.outlines) {
    canvas.Draw({view(drawn.outline)}, std::nullopt, drawn.pen);
  }
  canvas.End();
  if (drawing.edges) DrawEdges(canvas, view, shown);
  canvas.Begin("marks");
  for (const Mark& mark : drawing.marks) DrawMark(canvas, view, mark);
  canvas.End();
  const Box2 area{{1.0, table + 1.0}, {width - 1.0, height - head}};
  if (drawing.edges) {
    std::vector<Ordinate> across, up;
    int next = 0;
    for (const Mark& mark : drawing.marks) {
      const std::string number = std::to_string(++next) + "  ";
      const Vec2& at = mark.circle.centre;
      across.push_back({view(at), number + LengthText(FromX(drawing, at), drawing.inches)});
      up.push_back({view(at), number + LengthText(at.y(), drawing.inches)});
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
  rule.clear_mm = 1.4;
  int next = 0;
  for (const Mark& mark : drawing.marks) {
    rule.toward = {1.0, 1.0};
    const Vec2 rim = view(mark.circle.centre) + mark.circle.radius_mm * Vec2(1.0, 1.0).normalized();
    PlaceLabel(canvas, std::to_string(++next), rim, rule);
  }
  rule.height_mm = style::kSmall_mm;
  for (const DrawnOutline& drawn : drawing.outlines) {
    if (drawn.name.empty()) continue;
    const Box2 box = view(Bounds(Flatten(drawn.outline, kChordError_mm)));
    PlaceLabel(canvas, drawn.name, {Middle(box).x(), box.low.y() + 3.0}, rule);
  }
  if (!drawing.marks.empty()) DrawTable(canvas, {2.0, table}, kColumns, rows);
  return canvas;
}

}  // namespace lidwright
