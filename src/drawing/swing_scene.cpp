// SPDX-License-Identifier: Apache-2.0
#include "swing_scene.h"

#include <algorithm>
#include <cmath>

#include "boxes.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "lidwright/drawing/style.h"
#include "sheet.h"

namespace lidwright {
namespace {

constexpr int kPathSteps = 96;
constexpr int kStayPieces = 24;
// A wall or ceiling farther from what is swept than this share of the case's depth is not shown.
constexpr double kNearShare = 0.35;
const Vec2 kLargestFrame_mm(200.0, 165.0);  // the drawing in a frame
constexpr double kLeastFrame_mm = 110.0;    // wide enough for the footer

}  // namespace

SwingScene::SwingScene(const Design& the_design, const Hinge& the_hinge)
    : design(the_design),
      hinge(the_hinge),
      swing(MakeSwing(the_design.job, the_hinge.pivots)),
      cut(SectionAt(the_design.solid, HingeSection_mm(the_design.solid, the_hinge))),
      middle(SectionAt(the_design.solid, 0.0)),
      end(EndWallSection(the_design.solid)),
      spots(TightSpots(the_hinge)),
      swept(SweptBounds(the_design, the_hinge, swing)),
      area(swept) {
  const Room& room = design.job.room;
  const double near_mm = kNearShare * design.job.case_form.depth_mm;
  if (std::isfinite(room.behind_mm) && -room.behind_mm > swept.low.x() - near_mm) {
    area.low.x() = std::min(area.low.x(), -room.behind_mm);
  }
  if (std::isfinite(room.above_mm) && room.above_mm < swept.high.y() + near_mm) {
    area.high.y() = std::max(area.high.y(), room.above_mm);
  }
}

FrameLayout LayoutFrames(const SwingScene& scene) {
  FrameLayout layout;
  const Vec2 model = Size(scene.area);
  const double scale = UsualScale([&](double s) {
    return s * model.x() <= kLargestFrame_mm.x() && s * model.y() <= kLargestFrame_mm.y();
  });
  const Vec2 margin = Vec2::Constant(kFrameMargin_mm);
  layout.page = scale * model + 2.0 * margin + Vec2(0.0, kFooter_mm);
  layout.page =
      Vec2(std::max(kLeastFrame_mm, std::ceil(layout.page.x())), std::ceil(layout.page.y()));
  layout.drawing = {Vec2(0.0, kFooter_mm), layout.page};
  layout.view = {scale, Middle(layout.drawing) - scale * Middle(scene.area)};
  return layout;
}

void DrawStanding(Canvas& canvas, const View& view, const SwingScene& scene) {
  DrawStandingIn(canvas, view, scene, Grown(scene.area, 3.0 / view.scale));
}

void DrawStandingIn(Canvas& canvas, const View& view, const SwingScene& scene, const Rect2& area) {
  const Job& job = scene.design.job;
  DrawSurroundings(canvas, view, job, scene.design.solid, area);
  canvas.Begin("case");
  canvas.Draw(view(scene.middle.case_rings), std::nullopt, style::kGhost);
  DrawCaseWood(canvas, view(scene.cut.case_rings));
  canvas.Draw(view(scene.end.case_rings), std::nullopt, style::kHidden);
  for (const Contents& contents : job.contents) {
    canvas.Draw(view(contents.rings), std::nullopt, style::kPhantom);
  }
  canvas.End();
}

void DrawLid(Canvas& canvas, const View& view, const SwingScene& scene, const LidState& state) {
  const Pose pose = scene.swing.PoseOf(Body::kLid, state);
  canvas.Begin("lid");
  canvas.Draw(view(scene.middle.lid_rings, pose), std::nullopt, style::kGhost);
  DrawLidWood(canvas, view(scene.cut.lid_rings, pose));
  canvas.Draw(view(scene.end.lid_rings, pose), std::nullopt, style::kHidden);
  canvas.End();
}

void DrawStay(Canvas& canvas, const View& view, const SwingScene& scene, const LidState& state) {
  if (!scene.hinge.parts || !scene.hinge.parts->stay) return;
  const Stay& stay = *scene.hinge.parts->stay;
  const Vec2 from = stay.on_case, to = scene.swing.PoseOf(Body::kLid, state) * stay.on_lid;
  const double apart = (to - from).norm();
  // As two straight strands would hang, rounded to a parabola.
  const double sag =
      std::sqrt(std::max(0.0, stay.length_mm * stay.length_mm - apart * apart)) / 2.0;
  const Job& job = scene.design.job;
  const double floor = job.case_form.floor_mm - job.case_form.height_mm;
  std::vector<Vec2> points;
  for (int i = 0; i <= kStayPieces; ++i) {
    const double t = static_cast<double>(i) / kStayPieces;
    Vec2 p = from + t * (to - from);
    p.y() -= 4.0 * t * (1.0 - t) * sag;
    p.y() = std::max(p.y(), floor + stay.sold.width_mm / 2.0);
    points.push_back(view(p));
  }
  canvas.Begin("stay");
  canvas.Draw(PageLine(points), std::nullopt, style::kStay);
  canvas.End();
}

std::vector<Vec2> PathOf(const DrawnSwing& swing, const Vec2& closed) {
  std::vector<Vec2> path;
  for (int i = 0; i <= kPathSteps; ++i) {
    const LidState state = swing.At(swing.to_rad * i / kPathSteps);
    path.push_back(swing.PoseOf(Body::kLid, state) * closed);
  }
  return path;
}

std::vector<NamedPivot> PivotsAt(const SwingScene& scene, const LidState& state) {
  const Pivots& p = scene.hinge.pivots;
  const Pose pose = scene.swing.PoseOf(Body::kLid, state);
  const Vec2 a = pose * p.lid_a, b = pose * p.lid_b;
  return {{"A\xE2\x82\x80", p.case_a, a},
          {"B\xE2\x82\x80", p.case_b, b},
          {"A", a, p.case_a},
          {"B", b, p.case_b}};
}

std::string AngleText(double angle_rad) {
  return Text(angle_rad * kDegPerRad, 1) + "\xC2\xB0";
}

std::string WholeDegrees(double angle_rad) {
  return Fixed(angle_rad * kDegPerRad, 0) + "\xC2\xB0";
}

}  // namespace lidwright
