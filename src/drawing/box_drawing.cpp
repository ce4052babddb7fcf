// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/box_drawing.h"

#include <algorithm>
#include <cmath>

#include "box_views.h"
#include "boxes.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "lidwright/drawing/length_text.h"
#include "lidwright/drawing/style.h"
#include "sheet.h"

namespace lidwright {
namespace {

// Room on paper that the views need around them [mm].
constexpr double kTop_mm = 14.0;           // captions and the line of the open lid
constexpr double kLeft_mm = 16.0;          // height of the whole
constexpr double kBetween_mm = 16.0;       // front and section
constexpr double kRight_mm = 23.0;         // heights of the section
constexpr double kMiddle_mm = 25.0;        // from the bench down to the view from above
constexpr double kBottom_mm = 18.0;        // stations and bays
constexpr double kUnderSection_mm = 28.0;  // its dimensions, over the notes

const char* const kDegree = "\xC2\xB0";

std::vector<std::vector<std::string>> Wishes(const Job& job) {
  const auto text = [&](double mm) {
    return std::isfinite(mm) ? LengthText(mm, job.inches) : std::string("no limit");
  };
  const ArmWish& arms = job.arms;
  std::vector<std::vector<std::string>> rows = {
      {"asked for", job.inches ? "in" : "mm"},
      {"opening angle", Text(job.swing.open_rad * kDegPerRad, 1) + kDegree},
      {"least gap from " + Text(job.swing.gap_from_rad * kDegPerRad, 1) + kDegree + " on",
       text(job.swing.gap_mm)},
      {"seam gap, lid shut", text(job.lid.seam_gap_mm)},
      {"room behind / above", text(job.room.behind_mm) + " / " + text(job.room.above_mm)},
      {"mouth left free, at least", Text(100.0 * job.room.mouth_free, 1) + " %"},
      {"arms, width \xC3\x97 thickness",
       text(arms.width_mm) + " \xC3\x97 " + text(arms.thickness_mm)},
      {"bushing / eye \xE2\x8C\x80", text(arms.bushing_mm) + " / " + text(arms.eye_mm)},
  };
  if (std::isnan(job.lid.seam_gap_mm)) rows.erase(rows.begin() + 3);
  return rows;
}

// What of the form the views show too small to measure; only what is not plain.
void AddForm(const Job& job, const Solid& solid, std::vector<std::vector<std::string>>& rows) {
  if (!job.stations.empty()) return;
  const CaseMeasures& form = job.case_form;
  const LidMeasures& lid = job.lid;
  const auto degrees = [](double rad) { return Text(rad * kDegPerRad, 1) + kDegree; };
  const auto add = [&](const std::string& what, std::initializer_list<double> numbers, auto text) {
    std::string all;
    bool plain = true;
    for (const double number : numbers) {
      plain = plain && number == 0.0;
      all += (all.empty() ? "" : " / ") + text(number);
    }
    if (!plain) rows.push_back({what, all});
  };
  const auto length = [&](double mm) { return LengthText(mm, job.inches); };
  add("rim's arch from the side", {form.rim_arch_side_mm}, length);
  add("flare, back / front / ends", {form.back_flare_rad, form.front_flare_rad, form.end_flare_rad},
      degrees);
  add("cup, back / front / ends", {form.back_cup_mm, form.front_cup_mm, form.end_cup_mm}, length);
  add("underside's hollow", {form.bottom_hollow_mm}, length);
  if (lid.lip_mm > 0.0) {
    const char* what = lid.lip_at_ends ? "lip all round, wall / play" : "lip, wall / play";
    add(what, {lid.lip_wall_mm, lid.lip_play_mm}, length);
  }
  add("mounting block, rim / floor", {solid.block.at_rim_mm, solid.block.at_floor_mm}, length);
  add("its bevel", {solid.block.wedge_rad}, degrees);
}

}  // namespace

Canvas BoxDrawing(const Job& job, const Solid& solid) {
  const Vec2 paper = PaperSize(job, true);
  const Rect2 frame = FrameOf(paper), block = TitleBlockOf(paper);
  const Rect2 side_area = SideArea(job, solid);
  const Vec2 body = Size(solid.bounds), side = Size(side_area), room = Size(frame);
  std::vector<KeyEntry> key = {{Swatch::kCase, "case, cut"},
                               {Swatch::kLid, "lid, cut"},
                               {Swatch::kEndWall, "end wall, hidden edges"},
                               {Swatch::kZone, "where pivots may lie"}};
  if (!job.contents.empty()) key.push_back({Swatch::kContents, "contents, left free"});
  auto wishes = Wishes(job);
  AddForm(job, solid, wishes);
  const double notes = TableHeight(wishes.size()) + KeyHeight(style::kTitleWidth_mm, key) +
                       style::kTitleHeight_mm + 8.0;
  const double width = 2.0 * LidEnd_mm(job, solid);
  const auto width_at = [&](double s) {
    return kLeft_mm + s * width + kBetween_mm +
           std::max(s * side.x() + kRight_mm, style::kTitleWidth_mm);
  };
  const double scale = UsualScale([&](double s) {
    const double lower = std::max(kMiddle_mm + s * body.x() + kBottom_mm, notes + kUnderSection_mm);
    return width_at(s) <= room.x() && kTop_mm + s * body.y() + lower <= room.y();
  });

  Canvas canvas = MakeSheet(job, true, {"The box as measured, lid shut", scale});
  // What is left over is shared out around the views.
  const double free_x = room.x() - width_at(scale);
  const double free_y =
      room.y() - kTop_mm - kMiddle_mm - kBottom_mm - scale * (body.y() + body.x());
  const Vec2 spare = Vec2(free_x, free_y).cwiseMax(0.0) / 3.0;
  const double half = width / 2.0;
  const double front_x = frame.low.x() + kLeft_mm + spare.x() + scale * half;
  const double bench_y = frame.high.y() - kTop_mm - spare.y() * 0.6 - scale * body.y();
  const double side_left = front_x + scale * half + kBetween_mm + spare.x();
  const double plan_top = bench_y - kMiddle_mm - spare.y();
  BoxViews views{job, solid, {scale, {}}, {scale, {}}, {scale, {}}, side_area};
  views.front.origin = {front_x, bench_y - scale * solid.bench_mm};
  views.side.origin = {side_left - scale * side_area.low.x(), bench_y - scale * solid.bench_mm};
  views.plan.origin = {front_x, plan_top + scale * solid.bounds.low.x()};
  const double left = block.low.x() + 1.0, table_width = style::kTitleWidth_mm - 2.0;
  const double top = block.high.y() + notes - style::kTitleHeight_mm - 2.0;
  const double table = DrawKey(canvas, {left, top}, table_width, key) - 2.0;
  DrawTable(canvas, {left, table}, {{table_width * 0.58, false}, {table_width * 0.42, true}},
            wishes);
  // After the notes, so that dimensions keep clear of them.
  DrawFront(canvas, views);
  DrawSide(canvas, views);
  DrawPlan(canvas, views);
  return canvas;
}

std::string BoxDrawingSvg(const Job& job, const Solid& solid) {
  return BoxDrawing(job, solid).Svg();
}

std::string BoxDrawingPdf(const Job& job, const Solid& solid) {
  return BoxDrawing(job, solid).Pdf();
}

}  // namespace lidwright
