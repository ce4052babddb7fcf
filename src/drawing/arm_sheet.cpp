// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/arm_sheet.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "bodies.h"
#include "boxes.h"
#include "dimensions.h"
#include "labels.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/cutting/arm_holes.h"
#include "lidwright/cutting/cut_part.h"
#include "lidwright/cutting/parts_list.h"
#include "lidwright/drawing/length_text.h"
#include "lidwright/drawing/style.h"
#include "radii.h"
#include "sheet.h"

namespace lidwright {
namespace {

constexpr double kAside_mm = 24.0;  // room left and right of an arm for labels
constexpr double kOver_mm = 16.0;   // above it
constexpr double kUnder_mm = 22.0;  // under it, for two dimension lines

const std::string kDiameter = "\xE2\x8C\x80 ";

// An arm laid flat: case hole at the origin, lid hole on the x axis.
struct LaidArm {
  std::string name;
  Body body = Body::kArmA;
  const Arm* arm = nullptr;
  ArmHoles holes;
  Pose pose;
  Outline outline;
  Circle case_hole, lid_hole;
  Centreline centreline;
  Rect2 bounds;
};

LaidArm Laid(const Hinge& hinge, Body body) {
  const Arm& arm = body == Body::kArmA ? *hinge.arm_a : *hinge.arm_b;
  LaidArm laid;
  laid.holes = HolesOf(hinge, body);
  laid.name = body == Body::kArmA ? "Arm A" : "Arm B";
  laid.body = body;
  laid.arm = &arm;
  const Vec2 along = arm.lid_hole.centre - arm.case_hole.centre;
  const Pose turn = Pose::Make(-std::atan2(along.y(), along.x()), Vec2::Zero());
  laid.pose = turn;
  laid.pose.origin = -turn.Turn(arm.case_hole.centre);
  laid.outline = Moved(arm.outline, laid.pose);
  // As drilled; as wide as the bushings where the fit is not known.
  const double radius_mm =
      (std::isnan(laid.holes.drilled_mm) ? laid.holes.bushing_mm : laid.holes.drilled_mm) / 2.0;
  laid.case_hole = {laid.pose * arm.case_hole.centre, radius_mm};
  laid.lid_hole = {laid.pose * arm.lid_hole.centre, radius_mm};
  laid.centreline = arm.centreline;
  for (OutlineVertex& v : laid.centreline) v.point = laid.pose * v.point;
  CutPart lies;
  lies.outline = laid.outline;
  laid.bounds = Bounds(std::vector<CutPart>{lies});
  return laid;
}

// Where the middle of the arm's length is and which way it runs there.
struct Middle {
  Vec2 at = Vec2::Zero();
  Vec2 along = Vec2(1.0, 0.0);
};
Middle MiddleOf(const LaidArm& laid) {
  Middle middle{(laid.case_hole.centre + laid.lid_hole.centre) / 2.0, Vec2(1.0, 0.0)};
  if (laid.centreline.size() < 2) return middle;
  // As points close enough to be a curve.
  std::vector<Vec2> points;
  for (std::size_t i = 0; i + 1 < laid.centreline.size(); ++i) {
    const OutlineVertex &a = laid.centreline[i], &b = laid.centreline[i + 1];
    points.push_back(a.point);
    if (a.bulge == 0.0 || a.point == b.point) continue;
    const Arc arc = ArcOf(a.point, b.point, a.bulge);
    for (int k = 1; k < 32; ++k) {
      const double angle = arc.start_rad + arc.sweep_rad * k / 32.0;
      points.push_back(arc.centre + arc.radius_mm * Vec2(std::cos(angle), std::sin(angle)));
    }
  }
  points.push_back(laid.centreline.back().point);
  double length = 0.0;
  for (std::size_t i = 0; i + 1 < points.size(); ++i) length += (points[i + 1] - points[i]).norm();
  double left = length / 2.0;
  for (std::size_t i = 0; i + 1 < points.size(); ++i) {
    const Vec2 step = points[i + 1] - points[i];
    if (step.norm() >= left && step.norm() > 0.0) {
      return {points[i] + left / step.norm() * step, step.normalized()};
    }
    left -= step.norm();
  }
  return middle;
}

// The outline's two points nearest on either side of `at` along `normal`; nothing outside the arm.
std::optional<std::pair<Vec2, Vec2>> Across(const Outline& outline, const Vec2& at,
                                            const Vec2& normal) {
  const Ring ring = Flatten(outline, kChordError_mm / 10.0);
  double before = -1e300, after = 1e300;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Vec2 a = ring[i] - at, b = ring[(i + 1) % ring.size()] - at;
    const double ca = Cross(normal, a), cb = Cross(normal, b);
    if ((ca > 0.0) == (cb > 0.0)) continue;
    const double t = (a + ca / (ca - cb) * (b - a)).dot(normal);
    if (t > 0.0) after = std::min(after, t);
    if (t < 0.0) before = std::max(before, t);
  }
  if (before < -1e200 || after > 1e200) return std::nullopt;
  return std::pair<Vec2, Vec2>(at + before * normal, at + after * normal);
}

void DrawWidth(Canvas& canvas, const View& view, const LaidArm& laid, bool inches,
               const LabelRule& base) {
  const Middle middle = MiddleOf(laid);
  const auto across = Across(laid.outline, middle.at, Perp(middle.along));
  if (!across) return;
  const Vec2 low = view(across->first), high = view(across->second);
  const Vec2 normal = Perp(middle.along), reach = 4.0 * normal;
  const Vec2 slant = Pose::Make(kPi / 4.0, Vec2::Zero()).Turn(normal) * style::kDimStroke_mm / 2.0;
  Path strokes;
  for (const Vec2& p : {low, high}) strokes.push_back(PageLine({p - slant, p + slant})[0]);
  canvas.Draw(strokes, std::nullopt, style::kFineEdge);
  canvas.Draw(PageLine({low - 0.4 * reach, high + reach}), std::nullopt, style::kDim);
  LabelRule rule = base;
  rule.toward = normal + 0.6 * middle.along;
  rule.clear_mm = 1.2;
  PlaceLabel(canvas, LengthText((across->second - across->first).norm(), inches, Bench::kSize),
             high + reach, rule);
}

void DrawLaidArm(Canvas& canvas, const View& view, const LaidArm& laid, const Rect2& area,
                 bool inches, int item) {
  const auto hole_text = [&](double mm) { return LengthText(mm, inches); };
  const auto size_text = [&](double mm) { return LengthText(mm, inches, Bench::kSize); };
  canvas.Begin(laid.body == Body::kArmA ? "arm-a" : "arm-b");
  DrawArmMetal(
      canvas, {view(laid.outline), view(AsOutline(laid.case_hole)), view(AsOutline(laid.lid_hole))},
      laid.body);
  Trail centre{laid.centreline, false};
  for (OutlineVertex& v : centre.vertices) v.point = view(v.point);
  if (centre.vertices.size() > 1) canvas.Draw({centre}, std::nullopt, style::kCentre);
  for (const Circle& hole : {laid.case_hole, laid.lid_hole}) {
    const double reach = view.scale * hole.radius_mm + 2.0;
    const Vec2 at = view(hole.centre);
    canvas.Draw(PageLine({at - Vec2(reach, 0.0), at + Vec2(reach, 0.0)}), std::nullopt,
                style::kThin);
    canvas.Draw(PageLine({at - Vec2(0.0, reach), at + Vec2(0.0, reach)}), std::nullopt,
                style::kThin);
  }
  Lettering title;
  title.height_mm = style::kTitle_mm;
  const Vec2 corner(area.low.x() + 4.0, area.high.y() - 8.0);
  if (item > 0) DrawItem(canvas, corner + Vec2(kItem_mm, 1.8), item);
  canvas.Write(laid.name, corner + Vec2(item > 0 ? 2.0 * kItem_mm + 2.0 : 0.0, 0.0), title);

  const double low = view(laid.bounds).low.y();
  DimensionSide below(canvas, false, low - style::kDimFirst_mm, -1);
  below.Add(view(laid.case_hole.centre), view(laid.lid_hole.centre),
            hole_text((laid.lid_hole.centre - laid.case_hole.centre).norm()));
  below.Add(view({laid.bounds.low.x(), laid.case_hole.centre.y()}),
            view({laid.bounds.high.x(), laid.case_hole.centre.y()}),
            size_text(Size(laid.bounds).x()));
  DimensionSide right(canvas, true, view(laid.bounds).high.x() + style::kDimFirst_mm, 1);
  right.Add(view({laid.bounds.high.x(), laid.bounds.low.y()}), view(laid.bounds.high),
            size_text(Size(laid.bounds).y()));

  LabelRule rule;
  rule.area = Grown(area, -1.5);
  rule.colour = style::kDimInk;
  DrawWidth(canvas, view, laid, inches, rule);
  rule.leader_from_mm = 1.0;
  const double clear = 3.5;
  for (const auto& [hole, to] :
       {std::pair(laid.case_hole, Vec2(-1.0, 1.2)), std::pair(laid.lid_hole, Vec2(1.0, 1.2))}) {
    rule.toward = to;
    rule.clear_mm = clear + 2.0;
    const Vec2 rim = view(hole.centre) + view.scale * hole.radius_mm * to.normalized();
    PlaceLabel(canvas, kDiameter + hole_text(2.0 * hole.radius_mm), rim, rule);
  }
  rule.clear_mm = clear;
  for (const Radius& radius : RadiiOf(laid.outline)) {
    rule.toward = radius.inside ? Vec2(-radius.outward) : radius.outward;
    PlaceLabel(canvas, "R " + size_text(radius.radius_mm), view(radius.on_arc), rule);
  }
  canvas.End();
}

std::vector<std::vector<std::string>> Facts(const std::vector<LaidArm>& arms, bool inches) {
  std::vector<std::vector<std::string>> rows = {
      {inches ? "inches" : "mm", "hole to hole", "thickness", "drill " + kDiameter,
       "for bushing " + kDiameter, "layer", "inside radius"}};
  for (const LaidArm& laid : arms) {
    const Arm& arm = *laid.arm;
    const bool inside = std::isfinite(arm.inside_radius_mm) && arm.inside_radius_mm > 0.0;
    rows.push_back({laid.name, LengthText(arm.length_mm, inches),
                    LengthText(arm.z_max_mm - arm.z_min_mm, inches),
                    std::isnan(laid.holes.drilled_mm) ? "by its fit"
                                                      : LengthText(laid.holes.drilled_mm, inches),
                    LengthText(laid.holes.bushing_mm, inches),
                    arm.layer == 0 ? "at the wall" : "on spacers",
                    inside ? LengthText(arm.inside_radius_mm, inches, Bench::kSize) : "none"});
  }
  return rows;
}

}  // namespace

Canvas ArmSheet(const Design& design, const Hinge& hinge) {
  const Job& job = design.job;
  std::vector<LaidArm> arms;
  if (hinge.arm_a) arms.push_back(Laid(hinge, Body::kArmA));
  if (hinge.arm_b) arms.push_back(Laid(hinge, Body::kArmB));
  const Vec2 paper = PaperSize(job, true);
  const Rect2 frame = FrameOf(paper), block = TitleBlockOf(paper);
  // The arms one above the other, over the strip of the title block.
  Rect2 room = frame;
  room.low.y() = block.high.y();
  double widest = 1.0, heights = 1.0;
  for (const LaidArm& laid : arms) {
    widest = std::max(widest, Size(laid.bounds).x());
    heights += Size(laid.bounds).y();
  }
  const double count = static_cast<double>(std::max<std::size_t>(arms.size(), 1));
  const double scale = UsualScale(
      [&](double s) {
        return s * widest + 2.0 * kAside_mm <= Size(room).x() &&
               s * heights + count * (kOver_mm + kUnder_mm) <= Size(room).y();
      },
      true);
  Canvas canvas = MakeSheet(job, true, {"The arms, seen from the left", scale});
  const double spare = (Size(room).y() - scale * heights - count * (kOver_mm + kUnder_mm)) / count;
  PartsList list;
  if (hinge.parts) list = MakePartsList(hinge.parts->pieces, hinge.parts->buy, job.inches);
  double top = room.high.y();
  for (const LaidArm& laid : arms) {
    const double height = scale * Size(laid.bounds).y() + kOver_mm + kUnder_mm + spare;
    const Rect2 area{{room.low.x(), top - height}, {room.high.x(), top}};
    const Vec2 middle((area.low.x() + area.high.x()) / 2.0,
                      area.low.y() + kUnder_mm + spare / 2.0 + scale * Size(laid.bounds).y() / 2.0);
    const View view{scale, middle - scale * (laid.bounds.low + laid.bounds.high) / 2.0};
    const int item = hinge.parts ? ItemOf(list, laid.body == Body::kArmA ? "arm A" : "arm B") : 0;
    DrawLaidArm(canvas, view, laid, area, job.inches, item);
    top -= height;
  }
  const Vec2 corner(frame.low.x() + 3.0, block.high.y() - 1.0);
  double y = corner.y();
  if (!arms.empty()) {
    const double each = (block.low.x() - corner.x() - 4.0) / 10.5;
    y = DrawTable(canvas, corner,
                  {{each, false},
                   {1.6 * each, true},
                   {1.3 * each, true},
                   {1.3 * each, true},
                   {1.8 * each, true},
                   {1.8 * each, true},
                   {1.7 * each, true}},
                  Facts(arms, job.inches));
  }
  Lettering note;
  note.height_mm = style::kSmall_mm;
  std::vector<std::string> lines;
  if (arms.size() < 2) lines.push_back("For an arm that is missing here no way was found.");
  lines.push_back("The other end of the box takes the mirror images. To read and to check pieces");
  lines.push_back("against; parts are cut from the cut files.");
  for (const std::string& line : lines) {
    y -= 3.6;
    canvas.Write(line, {corner.x(), y}, note);
  }
  return canvas;
}

std::string ArmSheetSvg(const Design& design, const Hinge& hinge) {
  return ArmSheet(design, hinge).Svg();
}

std::string ArmSheetPdf(const Design& design, const Hinge& hinge) {
  return ArmSheet(design, hinge).Pdf();
}

}  // namespace lidwright
