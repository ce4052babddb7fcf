// SPDX-License-Identifier: Apache-2.0
#include "booklet_page.h"

#include <algorithm>
#include <cmath>

#include "boxes.h"
#include "exploded.h"
#include "full_size.h"
#include "labels.h"
#include "lidwright/drawing/style.h"
#include "sheet.h"
#include "step_picture.h"

namespace lidwright {
namespace {

constexpr double kMargin_mm = 12.0;
constexpr double kFoot_mm = 14.0;
constexpr double kFolio_mm = 24.0;
constexpr double kLine_mm = 4.6;   // from one line of text to the next
constexpr double kTick_mm = 4.0;   // a box to tick
constexpr double kWrite_mm = 8.0;  // from one line to write on to the next
constexpr double kRiskWord_mm = 19.0;
constexpr double kKey_mm = 12.0;
constexpr double kHalf = 0.45;  // of the swing, on the cover

Lettering Black(double height_mm) {
  Lettering lettering;
  lettering.height_mm = height_mm;
  return lettering;
}

void DrawTickBox(Canvas& canvas, const Vec2& low) {
  canvas.Draw(PageRing(RingOf({low, low + Vec2::Constant(kTick_mm)})), style::kPaper,
              style::kFineEdge);
}

}  // namespace

BookletPage::BookletPage(const Job& job, const std::string& chapter)
    : canvas_(PaperSize(job, false).x(), PaperSize(job, false).y(),
              (job.name.empty() ? "A box without a name" : job.name) + ": bench booklet") {
  const Vec2 paper = PaperSize(job, false);
  area_ = {{kMargin_mm, kFoot_mm}, paper - Vec2::Constant(kMargin_mm)};
  y_ = area_.high.y();
  canvas_.Write(Fitted(chapter, Width() - kFolio_mm - 4.0, style::kText_mm),
                {area_.low.x(), kFoot_mm - 6.5}, Black(style::kText_mm));
  canvas_.KeepFolio(
      {{area_.high.x() - kFolio_mm, kFoot_mm - 7.5}, {area_.high.x(), kFoot_mm - 2.5}});
}

double BookletPage::Width() const {
  return Size(area_).x();
}

Rect2 BookletPage::Take(double height_mm) {
  const Rect2 taken{{area_.low.x(), y_ - height_mm}, {area_.high.x(), y_}};
  y_ -= height_mm;
  return taken;
}

void BookletPage::Title(const std::string& text, double height_mm) {
  if (y_ < area_.high.y()) y_ -= 4.0;
  y_ -= height_mm;
  canvas_.Write(Fitted(text, Width(), height_mm), {area_.low.x(), y_}, Black(height_mm));
  y_ -= 3.0;
}

void BookletPage::Paragraph(const std::string& text) {
  for (const std::string& line : Broken(text, Width(), style::kText_mm)) {
    y_ -= kLine_mm;
    canvas_.Write(line, {area_.low.x(), y_}, Black(style::kText_mm));
  }
  y_ -= 2.0;
}

void BookletPage::Tick(const std::string& text) {
  const double left = area_.low.x() + kTick_mm + 3.0;
  bool first = true;
  for (const std::string& line : Broken(text, area_.high.x() - left, style::kText_mm)) {
    y_ -= first ? kTick_mm + 1.6 : kLine_mm;
    if (first) DrawTickBox(canvas_, {area_.low.x(), y_ - 0.8});
    canvas_.Write(line, {left, y_}, Black(style::kText_mm));
    first = false;
  }
  y_ -= 0.8;
}

void BookletPage::WritingLine(const std::string& text) {
  y_ -= kWrite_mm;
  canvas_.Write(text, {area_.low.x(), y_}, Black(style::kText_mm));
  const double from = area_.low.x() + LengthOf(text, style::kText_mm) + 3.0;
  canvas_.Draw(PageLine({{from, y_ - 0.6}, {area_.high.x(), y_ - 0.6}}), std::nullopt,
               style::kThin);
}

void BookletPage::WritingLines() {
  while (y_ - kWrite_mm > area_.low.y()) {
    y_ -= kWrite_mm;
    canvas_.Draw(PageLine({{area_.low.x(), y_}, {area_.high.x(), y_}}), std::nullopt, style::kThin);
  }
}

void BookletPage::CheckTable(const std::vector<std::vector<std::string>>& rows) {
  y_ -= 3.0;
  const std::vector<Column> columns{{0.28 * Width(), false},
                                    {0.24 * Width(), true},
                                    {0.24 * Width(), true},
                                    {0.24 * Width(), true}};
  y_ = DrawTable(canvas_, {area_.low.x(), y_}, columns, rows);
}

void BookletPage::CoverPicture(const SwingScene& scene, const Rect2& area) {
  Rect2 room = area;
  room.low.y() += kKey_mm + 2.0;
  const Rect2 model = scene.swept;
  const double scale =
      std::min((Size(room).x() - 16.0) / Size(model).x(), (Size(room).y() - 6.0) / Size(model).y());
  const View view{scale, Middle(room) - scale * Middle(model)};
  const LidState half = scene.swing.At(kHalf * scene.swing.to_rad);
  DrawStandingIn(canvas_, view, scene, Grown(model, 4.0 / scale));
  for (const double share : {0.0, 1.0}) {
    const LidState state = scene.swing.At(share * scene.swing.to_rad);
    canvas_.Draw(view(scene.cut.lid_rings, scene.swing.PoseOf(Body::kLid, state)), std::nullopt,
                 style::kPhantom);
  }
  DrawLid(canvas_, view, scene, half);
  DrawHinge(canvas_, view, scene.hinge, scene.swing, half);
  DrawStay(canvas_, view, scene, half);
  LabelRule rule;
  rule.area = room;
  for (const NamedPivot& pivot : PivotsAt(scene, half)) {
    rule.toward = pivot.at - pivot.other_end;
    PlaceLabel(canvas_, pivot.name, view(pivot.at), rule);
  }
  std::vector<KeyEntry> key = {{Swatch::kCase, "case"},
                               {Swatch::kLid, "lid"},
                               {Swatch::kArmA, "arm A"},
                               {Swatch::kArmB, "arm B"}};
  AddPartsTo(key, scene.hinge);
  key.push_back({Swatch::kEndWall, "end wall"});
  DrawKey(canvas_, {area.low.x(), area.low.y() + kKey_mm}, Size(area).x(), key);
}

double BookletPage::HeightOfRisks(const std::vector<Risk>& risks) const {
  double height = 0.0;
  for (const Risk& risk : risks) {
    const double width = Width() - kRiskWord_mm - 4.0;
    height += 6.0 + kLine_mm * static_cast<double>(
                                   Broken(risk.text, width, style::kText_mm).size() +
                                   Broken("Remedy: " + risk.remedy, width, style::kText_mm).size());
  }
  return height + 18.0 + 3.0 * kLine_mm;
}

void BookletPage::Risks(const std::vector<Risk>& risks) {
  Title("Read first", style::kTitle_mm);
  const double left = area_.low.x() + kRiskWord_mm + 2.0;
  for (const Risk& risk : risks) {
    const double top = y_;
    y_ -= 1.6;
    for (const std::string& text : {risk.text, "Remedy: " + risk.remedy}) {
      for (const std::string& line : Broken(text, area_.high.x() - left - 2.0, style::kText_mm)) {
        y_ -= kLine_mm;
        canvas_.Write(line, {left, y_ + 1.0}, Black(style::kText_mm));
      }
    }
    y_ -= 1.2;
    const bool worst = risk.level == RiskLevel::kDanger;
    canvas_.Draw(PageRing(RingOf({{area_.low.x(), y_}, {area_.high.x(), top}})), std::nullopt,
                 worst ? Pen{0.9, style::kInk} : style::kFineEdge);
    Lettering word = Black(style::kText_mm + (worst ? 0.7 : 0.0));
    word.along = 0.5;
    word.across = 0.5;
    canvas_.Write(NameOf(risk.level), {area_.low.x() + kRiskWord_mm / 2.0, (y_ + top) / 2.0}, word);
    y_ -= 2.0;
  }
  Paragraph(
      "Small parts jump under a cutter; brass dust goes into eyes and lungs; arms and lid pinch; "
      "chests that children reach have rules of their own. Local codes and licensed practice come "
      "before this booklet.");
}

double BookletPage::HeightOfContents(std::size_t lines) {
  return kLine_mm * std::ceil(static_cast<double>(lines) / 2.0) + 4.0;
}

void BookletPage::Contents(const std::vector<std::pair<std::string, std::size_t>>& lines) {
  const std::size_t rows = (lines.size() + 1) / 2;
  const double column = (Width() - 8.0) / 2.0, top = y_;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const double left = area_.low.x() + (i < rows ? 0.0 : column + 8.0);
    const double y = top - kLine_mm * static_cast<double>(i % rows + 1);
    canvas_.Write(Fitted(lines[i].first, column - 12.0, style::kText_mm), {left, y},
                  Black(style::kText_mm));
    Lettering number = Black(style::kText_mm);
    number.along = 1.0;
    canvas_.Write(std::to_string(lines[i].second), {left + column, y}, number);
  }
  y_ = top - kLine_mm * static_cast<double>(rows) - 2.0;
}

void BookletPage::DrawExplodedIn(const std::vector<HingePiece>& pieces, const PartsList& list,
                                 const Rect2& area, bool left) {
  DrawExploded(canvas_, pieces, list, area, left);
}

void BookletPage::StepHead(const Rect2& block, std::size_t number, const std::string& title) {
  canvas_.Draw(PageLine({{block.low.x(), block.high.y()}, block.high}), std::nullopt, style::kEdge);
  DrawTickBox(canvas_, {block.low.x(), block.high.y() - 7.6});
  canvas_.Write(
      Fitted("Step " + std::to_string(number) + "   " + title, Width() - 10.0, style::kTitle_mm),
      {block.low.x() + kTick_mm + 3.0, block.high.y() - 7.3}, Black(style::kTitle_mm));
}

void BookletPage::StepPicture(const SwingScene& scene, const WorkStep& step, const PartsList& list,
                              const Rect2& area) {
  canvas_.Draw(PageRing(RingOf(area)), std::nullopt, style::kThin);
  DrawStepPicture(canvas_, area, scene, step, list);
}

double BookletPage::TextIn(const Rect2& column, double y_mm, const std::string& word,
                           const std::string& text) {
  const double indent = word.empty() ? 0.0 : 17.0;
  double y = y_mm - kLine_mm + 1.2;
  if (!word.empty()) canvas_.Write(word, {column.low.x(), y}, Black(style::kText_mm));
  for (const std::string& line : Broken(text, Size(column).x() - indent, style::kText_mm)) {
    canvas_.Write(line, {column.low.x() + indent, y}, Black(style::kText_mm));
    y -= kLine_mm;
  }
  return y + kLine_mm - 1.2;
}

double BookletPage::WriteIn(const Rect2& column, double y_mm, const std::string& text) {
  const double y = y_mm - kWrite_mm;
  canvas_.Write(text, {column.low.x(), y}, Black(style::kText_mm));
  const double from = column.low.x() + LengthOf(text, style::kText_mm) + 2.0;
  canvas_.Draw(PageLine({{from, y - 0.6}, {column.high.x(), y - 0.6}}), std::nullopt, style::kThin);
  return y - 0.6;
}

void WriteFolios(std::vector<Canvas>& pages) {
  std::size_t number = 0;
  for (Canvas& page : pages) {
    ++number;
    if (!page.folio()) continue;
    Lettering lettering = Black(style::kText_mm);
    lettering.along = 0.5;
    lettering.across = 0.5;
    page.Write(std::to_string(number) + " / " + std::to_string(pages.size()), Middle(*page.folio()),
               lettering);
  }
}

}  // namespace lidwright
