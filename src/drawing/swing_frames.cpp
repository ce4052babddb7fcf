// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/swing_frames.h"

#include <algorithm>
#include <cmath>

#include "boxes.h"
#include "labels.h"
#include "lidwright/base/check.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "lidwright/design/names.h"
#include "lidwright/drawing/length_text.h"
#include "lidwright/drawing/style.h"
#include "sheet.h"
#include "swing_scene.h"

namespace lidwright {
namespace {

constexpr double kNumber_mm = 20.0;  // room for the frame's number

void DrawFooter(Canvas& canvas, const SwingScene& scene, const FrameLayout& layout, double theta,
                int number, int count) {
  const double width = layout.page.x(), left = kFrameMargin_mm, right = width - kFrameMargin_mm;
  canvas.Begin("footer");
  // How far the swing has come, as a line that grows.
  const double share = scene.swing.to_rad > 0.0 ? theta / scene.swing.to_rad : 0.0;
  canvas.Draw(PageLine({{left, kFooter_mm}, {right, kFooter_mm}}), std::nullopt, style::kGhost);
  if (share > 0.0) {
    canvas.Draw(PageLine({{left, kFooter_mm}, {left + share * (right - left), kFooter_mm}}),
                std::nullopt, Pen{0.9, style::kInk});
  }
  Lettering big, small;
  big.height_mm = style::kTitle_mm;
  small.height_mm = style::kSmall_mm;
  small.colour = style::kGrey;
  small.along = 1.0;
  std::string angle = Fixed(theta * kDegPerRad, 1) + "\xC2\xB0";
  if (!scene.swing.motion) {
    angle = "cannot move";
  } else if (!scene.swing.whole && number == count) {
    angle += ", no further";
  }
  const Vec2 at(left, 3.6);
  canvas.Write(angle, at, big);
  const std::string scale = ScaleText(layout.view.scale);
  canvas.Write(std::to_string(number) + " / " + std::to_string(count), {right, 3.6}, small);
  canvas.Write(scale, {right - kNumber_mm, 3.6}, small);
  const double from = left + std::max(24.0, LengthOf(angle, style::kTitle_mm) + 4.0);
  const double room = right - kNumber_mm - LengthOf(scale, small.height_mm) - 4.0 - from;
  small.along = 0.0;
  if (room > 10.0) {
    canvas.Write(Fitted(scene.design.job.name, room, small.height_mm), {from, 3.6}, small);
  }
  canvas.End();
}

void DrawSpots(Canvas& canvas, const SwingScene& scene, const FrameLayout& layout, double theta,
               double step) {
  LabelRule rule;
  rule.area = Grown(layout.drawing, -1.5);
  rule.colour = style::kMark;
  rule.clear_mm = 3.2;
  canvas.Begin("spots");
  for (const Spot& spot : scene.spots) {
    const Vec2 at = layout.view(spot.at);
    if (!Inside({at, at}, rule.area)) continue;
    // Half a step either way; a spot just between two frames belongs to the later one.
    const double off = theta - *spot.verdict->angle_rad;
    const bool now = off == 0.0 || (off >= -step / 2.0 && off < step / 2.0);
    canvas.Draw(Circle{at, now ? 2.4 : 0.9}, std::nullopt,
                now ? style::kMarkEdge : style::kMarkFine, now ? "tightest" : "tight");
    if (!now) continue;
    const std::string gap = GapText(*spot.verdict, true, scene.design.job.inches);
    PlaceLabel(canvas, gap + "  " + NameOf(*spot.verdict), at, rule);
  }
  canvas.End();
}

}  // namespace

std::vector<Canvas> SwingFrameCanvases(const Design& design, const Hinge& hinge,
                                       const SwingFrameOptions& options) {
  LW_REQUIRE(options.count >= 1, "count=" << options.count);
  const SwingScene scene(design, hinge);
  const FrameLayout layout = LayoutFrames(scene);
  const View& view = layout.view;
  const std::string name =
      design.job.name.empty() ? "A box" : design.job.name + " \xE2\x80\x93 swing";

  const int steps = std::max(1, options.count - 1);
  const double step = scene.swing.to_rad / steps;
  std::vector<Canvas> frames;
  for (int i = 0; i < options.count; ++i) {
    const double theta = i == steps ? scene.swing.to_rad : step * i;
    const LidState state = scene.swing.At(theta);
    Canvas canvas(layout.page.x(), layout.page.y(), name + ", " + AngleText(theta));
    DrawStanding(canvas, view, scene);
    DrawLid(canvas, view, scene, state);
    DrawHinge(canvas, view, hinge, scene.swing, state);
    DrawStay(canvas, view, scene, state);
    canvas.Begin("paths");
    for (const Vec2& pivot : {hinge.pivots.lid_a, hinge.pivots.lid_b}) {
      canvas.Draw(view.Line(PathOf(scene.swing, pivot)), std::nullopt, style::kTrack);
    }
    canvas.End();
    DrawFooter(canvas, scene, layout, theta, i + 1, options.count);
    DrawSpots(canvas, scene, layout, theta, options.count > 1 ? step : 0.0);
    LabelRule rule;
    rule.area = Grown(layout.drawing, -1.5);
    for (const NamedPivot& pivot : PivotsAt(scene, state)) {
      rule.toward = pivot.at - pivot.other_end;
      PlaceLabel(canvas, pivot.name, view(pivot.at), rule);
    }
    if (options.instant_centre && scene.swing.motion) {
      const Vec2 centre = view(scene.swing.motion->InstantCentre(state));
      if (centre.allFinite() && Inside({centre, centre}, rule.area)) {
        const Vec2 x(1.8, 0.0), y(0.0, 1.8);
        Path cross = PageLine({centre - x, centre + x});
        cross.push_back(PageLine({centre - y, centre + y})[0]);
        canvas.Begin("instant-centre");
        canvas.Draw(cross, std::nullopt, style::kMarkFine);
        canvas.End();
      }
    }
    frames.push_back(std::move(canvas));
  }
  return frames;
}

std::vector<std::string> SwingFrames(const Design& design, const Hinge& hinge, int count) {
  std::vector<std::string> texts;
  SwingFrameOptions options;
  options.count = count;
  for (const Canvas& canvas : SwingFrameCanvases(design, hinge, options)) {
    texts.push_back(canvas.Svg());
  }
  return texts;
}

}  // namespace lidwright
