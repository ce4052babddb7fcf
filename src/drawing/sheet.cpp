// SPDX-License-Identifier: Apache-2.0
#include "sheet.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "bodies.h"
#include "boxes.h"
#include "lidwright/base/numbers.h"
#include "lidwright/drawing/style.h"
#include "view.h"

namespace lidwright {
namespace {

constexpr double kRow_mm = 5.0;  // from one row of a table or key to the next
constexpr double kSwatch_mm = 8.0;
constexpr double kPad_mm = 1.6;
constexpr double kFolio_mm = 17.0;  // of the title block's last cell

Lettering Set(double height_mm, Colour colour = style::kInk, double along = 0.0) {
  Lettering lettering;
  lettering.height_mm = height_mm;
  lettering.colour = colour;
  lettering.along = along;
  return lettering;
}

// A name over a value.
void Cell(Canvas& canvas, const Rect2& box, const std::string& name, const std::string& value) {
  const double x = box.low.x() + kPad_mm, width = Size(box).x() - 2.0 * kPad_mm;
  canvas.Write(Fitted(name, width, style::kSmall_mm), {x, box.high.y() - 3.7},
               Set(style::kSmall_mm));
  canvas.Write(Fitted(value, width, style::kText_mm), {x, box.low.y() + 1.3}, Set(style::kText_mm));
}

}  // namespace

Vec2 PaperSize(const Job& job, bool landscape) {
  const Vec2 size =
      job.shop.paper == "Letter" ? Vec2(8.5 * kMmPerInch, 11.0 * kMmPerInch) : Vec2(210.0, 297.0);
  return landscape ? Vec2(size.y(), size.x()) : size;
}

Rect2 FrameOf(const Vec2& paper) {
  return Grown({Vec2::Zero(), paper}, -style::kMargin_mm);
}

Rect2 TitleBlockOf(const Vec2& paper) {
  const Rect2 frame = FrameOf(paper);
  const Vec2 corner(frame.high.x(), frame.low.y());
  return {corner - Vec2(style::kTitleWidth_mm, 0.0), corner + Vec2(0.0, style::kTitleHeight_mm)};
}

Canvas MakeSheet(const Job& job, bool landscape, const SheetWords& words) {
  const Vec2 paper = PaperSize(job, landscape);
  const std::string name = job.name.empty() ? "A box without a name" : job.name;
  Canvas canvas(paper.x(), paper.y(), name + " \xE2\x80\x93 " + words.shows);
  canvas.Begin("sheet");
  canvas.Draw(PageRing(RingOf(FrameOf(paper))), std::nullopt, style::kFrame);
  const Rect2 block = TitleBlockOf(paper);
  canvas.Draw(PageRing(RingOf(block)), style::kPaper, style::kFrame);
  const double left = block.low.x(), right = block.high.x(), low = block.low.y();
  const double cells = low + 9.0;
  canvas.Draw(PageLine({{left, cells}, {right, cells}}), std::nullopt, style::kFineEdge);
  const double inner = style::kTitleWidth_mm - 2.0 * kPad_mm;
  double height = style::kTitle_mm;  // a long name is set smaller before it is cut
  while (height > style::kText_mm && LengthOf(name, height) > inner) height -= 0.25;
  canvas.Write(Fitted(name, inner, height), {left + kPad_mm, low + 19.6}, Set(height));
  canvas.Write(Fitted(words.shows, inner, style::kText_mm), {left + kPad_mm, low + 12.4},
               Set(style::kText_mm));
  const std::array<double, 4> widths = {21.0, 18.0, 18.0, 35.0};
  const std::array<std::pair<std::string, std::string>, 4> texts = {{
      {"scale", ScaleText(words.scale)},
      {"unit", job.inches ? "inches" : "mm"},
      {"sheet", job.shop.paper == "Letter" ? "Letter" : "A4"},
      {"by", "lidwright"},
  }};
  canvas.KeepFolio({{right - kFolio_mm, low}, {right, cells}});
  double x = left;
  for (std::size_t i = 0; i < widths.size(); ++i) {
    if (i > 0) canvas.Draw(PageLine({{x, low}, {x, cells}}), std::nullopt, style::kThin);
    Cell(canvas, {{x, low}, {x + widths[i], cells}}, texts[i].first, texts[i].second);
    x += widths[i];
  }
  canvas.End();
  return canvas;
}

double UsualScale(const std::function<bool(double)>& fits, bool enlarge) {
  for (const double up : {5.0, 2.0}) {
    if (enlarge && fits(up)) return up;
  }
  double scale = 1.0;
  for (const double down : {1.0, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0,
                            30.0, 40.0, 50.0, 100.0, 200.0}) {
    scale = 1.0 / down;
    if (fits(scale)) break;
  }
  return scale;
}

std::string ScaleText(double scale) {
  if (scale <= 0.0) return "none";
  return scale > 1.0 ? Text(scale, 2) + " : 1" : "1 : " + Text(1.0 / scale, 2);
}

void DrawItem(Canvas& canvas, const Vec2& at, int item) {
  canvas.Draw(Circle{at, kItem_mm}, style::kPaper, style::kFineEdge, "item");
  Lettering lettering = Set(style::kText_mm, style::kInk, 0.5);
  lettering.across = 0.5;
  canvas.Write(std::to_string(item), at, lettering);
}

double TableHeight(std::size_t rows) {
  return kRow_mm * static_cast<double>(rows) + 1.0;
}

double DrawTable(Canvas& canvas, const Vec2& top_left, const std::vector<Column>& columns,
                 const std::vector<std::vector<std::string>>& rows) {
  double width = 0.0;
  for (const Column& column : columns) width += column.width_mm;
  double y = top_left.y();
  for (std::size_t r = 0; r < rows.size(); ++r) {
    y -= kRow_mm;
    double x = top_left.x();
    for (std::size_t c = 0; c < std::min(columns.size(), rows[r].size()); ++c) {
      const double room = columns[c].width_mm - 1.5;
      const double height = r == 0 ? style::kSmall_mm : style::kText_mm;
      canvas.Write(Fitted(rows[r][c], room, height), {columns[c].right ? x + room : x, y + 1.2},
                   Set(height, style::kInk, columns[c].right ? 1.0 : 0.0));
      x += columns[c].width_mm;
    }
    canvas.Draw(PageLine({{top_left.x(), y}, {top_left.x() + width - 1.5, y}}), std::nullopt,
                r == 0 ? style::kFineEdge : style::kGhost);
  }
  return y - 1.0;
}

namespace {

// A piece that looks as the swatch shows.
HingePiece SampleOf(Swatch swatch) {
  HingePiece piece;
  piece.kind = swatch == Swatch::kPlate  ? PieceKind::kLidPlate
               : swatch == Swatch::kStop ? PieceKind::kStop
                                         : PieceKind::kSpacer;
  return piece;
}

std::size_t KeyColumns(double width_mm, const std::vector<KeyEntry>& entries) {
  double widest = 0.0;
  for (const KeyEntry& entry : entries) {
    widest = std::max(widest, LengthOf(entry.text, style::kSmall_mm));
  }
  const double each = kSwatch_mm + 2.0 + widest + 3.0;
  return static_cast<std::size_t>(std::max(1.0, std::floor(width_mm / each)));
}

}  // namespace

void AddPartsTo(std::vector<KeyEntry>& entries, const Hinge& hinge) {
  if (!hinge.parts) return;
  for (const Swatch swatch : {Swatch::kPlate, Swatch::kPacking, Swatch::kStop}) {
    const Look& look = LookOf(SampleOf(swatch));
    const auto& pieces = hinge.parts->pieces;
    const bool has = std::any_of(pieces.begin(), pieces.end(), [&](const HingePiece& piece) {
      return piece.kind != PieceKind::kJig && &LookOf(piece) == &look;
    });
    if (has) entries.push_back({swatch, look.says});
  }
  if (hinge.parts->stay) entries.push_back({Swatch::kStay, "stay"});
}

double KeyHeight(double width_mm, const std::vector<KeyEntry>& entries) {
  const std::size_t columns = KeyColumns(width_mm, entries);
  return kRow_mm * static_cast<double>((entries.size() + columns - 1) / columns);
}

double DrawKey(Canvas& canvas, const Vec2& top_left, double width_mm,
               const std::vector<KeyEntry>& entries) {
  const std::size_t columns = KeyColumns(width_mm, entries);
  const double each = width_mm / static_cast<double>(columns);
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const Vec2 corner = top_left + Vec2(each * static_cast<double>(i % columns),
                                        -kRow_mm * static_cast<double>(i / columns + 1));
    const Vec2 size(kSwatch_mm, 3.4);
    const Rect2 box{corner, corner + size};
    const Vec2 left(box.low.x(), Middle(box).y()), right(box.high.x(), Middle(box).y());
    const Path ring = PageRing(RingOf(box));
    switch (entries[i].swatch) {
      case Swatch::kCase:
        DrawCaseWood(canvas, ring);
        break;
      case Swatch::kLid:
        DrawLidWood(canvas, ring);
        break;
      case Swatch::kArmA:
        DrawArmMetal(canvas, ring, Body::kArmA);
        break;
      case Swatch::kArmB:
        DrawArmMetal(canvas, ring, Body::kArmB);
        break;
      case Swatch::kPlate:
      case Swatch::kPacking:
      case Swatch::kStop:
        DrawLook(canvas, ring, LookOf(SampleOf(entries[i].swatch)), style::kFineEdge);
        break;
      case Swatch::kStay:
        canvas.Draw(PageLine({left, right}), std::nullopt, style::kStay);
        break;
      case Swatch::kEndWall:
        canvas.Draw(PageLine({left, right}), std::nullopt, style::kHidden);
        break;
      case Swatch::kZone:
        canvas.Draw(ring, std::nullopt, style::kZone);
        break;
      case Swatch::kContents:
        canvas.Draw(ring, std::nullopt, style::kPhantom);
        break;
      case Swatch::kTrack:
        canvas.Draw(PageLine({left, right}), std::nullopt, style::kTrack);
        break;
      case Swatch::kMark:
        canvas.Draw(Circle{Middle(box), 1.6}, std::nullopt, style::kMarkEdge);
        break;
    }
    canvas.Write(entries[i].text, right + Vec2(2.0, 0.0), [] {
      Lettering lettering = Set(style::kSmall_mm);
      lettering.across = 0.5;
      return lettering;
    }());
  }
  return top_left.y() - KeyHeight(width_mm, entries);
}

}  // namespace lidwright
