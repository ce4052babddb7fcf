// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/overlay.h"

#include <algorithm>
#include <cmath>

#include "boxes.h"
#include "dimensions.h"
#include "labels.h"
#include "lidwright/design/names.h"
#include "lidwright/drawing/length_text.h"
#include "lidwright/drawing/style.h"
#include "sheet.h"
#include "swing_scene.h"

namespace lidwright {
namespace {

constexpr int kBetween = 5;             // positions between shut and open
constexpr double kOrdinates_mm = 28.0;  // room for them below and to the right
constexpr double kRow_mm = 6.0;         // from the drawing to their row
constexpr double kAround_mm = 6.0;
constexpr double kNotes_mm = 13.0;

// Where things stand on the sheet.
struct Places {
  bool landscape = false;
  Rect2 drawing;
  Vec2 table, key;  // upper left corners
  double scale = 1.0;
};

const double kTable_mm = TableHeight(5) + kNotes_mm;

Places PlacesOn(const Job& job, bool landscape, const Vec2& model,
                const std::vector<KeyEntry>& key) {
  Places places;
  places.landscape = landscape;
  const Vec2 paper = PaperSize(job, landscape);
  const Rect2 frame = FrameOf(paper), block = TitleBlockOf(paper);
  const double key_height = KeyHeight(style::kTitleWidth_mm - 2.0, key);
  places.drawing = frame;
  if (landscape) {
    places.drawing.high.x() = block.low.x();
    const double table_top = block.high.y() + kTable_mm + 4.0;
    places.table = {block.low.x() + 1.0, table_top};
    places.key = {block.low.x() + 1.0, table_top + key_height + 4.0};
  } else {
    const double strip = std::max(kTable_mm + 4.0, style::kTitleHeight_mm + key_height + 4.0);
    places.drawing.low.y() += strip;
    places.table = {frame.low.x() + 3.0, frame.low.y() + kTable_mm + 2.0};
    places.key = {block.low.x() + 1.0, block.high.y() + key_height + 2.0};
  }
  const Vec2 room = Size(places.drawing) - Vec2::Constant(kOrdinates_mm + kAround_mm);
  places.scale = UsualScale(
      [&](double s) { return (s * model).x() <= room.x() && (s * model).y() <= room.y(); }, true);
  return places;
}

// The vertex that lies farthest in a direction.
Vec2 Extreme(const std::vector<Ring>& rings, const Vec2& direction) {
  Vec2 best = Vec2::Zero();
  double reach = -1e300;
  for (const Ring& ring : rings) {
    for (const Vec2& p : ring) {
      if (p.dot(direction) <= reach) continue;
      reach = p.dot(direction);
      best = p;
    }
  }
  return best;
}

void DrawBetween(Canvas& canvas, const View& view, const SwingScene& scene) {
  canvas.Begin("between");
  for (int i = 1; i <= kBetween; ++i) {
    const LidState state = scene.swing.At(scene.swing.to_rad * i / (kBetween + 1));
    const Pose pose = scene.swing.PoseOf(Body::kLid, state);
    canvas.Draw(view(scene.cut.lid_rings, pose), std::nullopt, style::kThin);
    const Pivots& p = scene.hinge.pivots;
    canvas.Draw(view.Line({p.case_a, pose * p.lid_a}), std::nullopt, style::kGhost);
    canvas.Draw(view.Line({p.case_b, pose * p.lid_b}), std::nullopt, style::kGhost);
  }
  canvas.End();
}

void DrawPivotOrdinates(Canvas& canvas, const View& view, const SwingScene& scene,
                        const ReachableFaces& faces) {
  const Job& job = scene.design.job;
  std::vector<Ordinate> across, up;
  for (const NamedPivot& pivot : PivotsAt(scene, scene.swing.At(0.0))) {
    const Vec2 at = view(pivot.at);
    across.push_back(
        {at, pivot.name + "  " + LengthText(pivot.at.x() - faces.back_x_mm, job.inches)});
    up.push_back({at, pivot.name + "  " + LengthText(pivot.at.y() - faces.rim_y_mm, job.inches)});
  }
  across.push_back({view({faces.back_x_mm, faces.rim_y_mm}), "0"});
  up.push_back({view({scene.design.solid.bounds.high.x(), faces.rim_y_mm}), "0"});
  canvas.Begin("ordinates");
  DrawOrdinates(canvas, across, true, view(scene.area).low.y() - kRow_mm - 2.0, -1);
  DrawOrdinates(canvas, up, false, view(scene.design.solid.bounds).high.x() + kRow_mm, 1);
  canvas.End();
}

void DrawPivotTable(Canvas& canvas, const Vec2& top_left, const SwingScene& scene,
                    const ReachableFaces& faces) {
  const bool inches = scene.design.job.inches;
  const std::string unit = inches ? ", in" : ", mm";
  std::vector<std::vector<std::string>> rows{{"pivot", "from back" + unit, "from rim" + unit}};
  const char* const bodies[] = {" case", " case", " lid", " lid"};
  int next = 0;
  for (const NamedPivot& pivot : PivotsAt(scene, scene.swing.At(0.0))) {
    const double x = pivot.at.x() - faces.back_x_mm, y = pivot.at.y() - faces.rim_y_mm;
    rows.push_back({pivot.name + bodies[next++], PlaceText(x, inches), PlaceText(y, inches)});
  }
  const double low = DrawTable(canvas, top_left, {{34, false}, {28, true}, {28, true}}, rows);
  Lettering small;
  small.height_mm = style::kSmall_mm;
  double y = low;
  for (const char* line :
       {"lid shut; from the back wall's inner face", "and from the rim, both where the end wall",
        "begins; above the rim is positive"}) {
    y -= 3.8;
    canvas.Write(line, {top_left.x(), y}, small);
  }
}

void DrawNames(Canvas& canvas, const View& view, const SwingScene& scene, const Rect2& area) {
  LabelRule rule;
  rule.area = area;
  const bool inches = scene.design.job.inches;
  const Vec2 inside = Middle(scene.design.solid.bounds);
  rule.colour = style::kMark;
  rule.clear_mm = 3.2;
  rule.height_mm = style::kSmall_mm;
  for (const Spot& spot : scene.spots) {
    canvas.Draw(Circle{view(spot.at), 2.4}, std::nullopt, style::kMarkEdge, "tightest");
  }
  for (const Spot& spot : scene.spots) {
    rule.toward = spot.at - inside;
    PlaceLabel(canvas,
               GapText(*spot.verdict, true, inches) + " " + NameOf(*spot.verdict) + ", at " +
                   AngleText(*spot.verdict->angle_rad),
               view(spot.at), rule);
  }
  rule.height_mm = style::kText_mm;
  rule.clear_mm = 1.6;
  rule.colour = style::kInk;
  for (const NamedPivot& pivot : PivotsAt(scene, scene.swing.At(0.0))) {
    rule.toward = pivot.at - pivot.other_end;
    PlaceLabel(canvas, pivot.name, view(pivot.at), rule);
  }
  // The lid's front edge carries the angles.
  const Vec2 front = Extreme(scene.cut.lid_rings, {1.0, -0.2});
  rule.height_mm = style::kSmall_mm;
  for (int i = 1; i <= kBetween + 1; ++i) {
    const double theta = scene.swing.to_rad * i / (kBetween + 1);
    const Pose pose = scene.swing.PoseOf(Body::kLid, scene.swing.At(theta));
    if (theta <= 0.0) break;
    rule.toward = pose.Turn(Vec2(front - inside).normalized());
    std::string text = AngleText(theta);
    if (i == kBetween + 1 && !scene.swing.whole) text += ", no further";
    PlaceLabel(canvas, text, view(pose * front), rule);
  }
  if (!scene.swing.motion) PlaceLabel(canvas, "cannot move", view(front), rule);
}

}  // namespace

Canvas Overlay(const Design& design, const Hinge& hinge) {
  const SwingScene scene(design, hinge);
  std::vector<KeyEntry> key = {{Swatch::kCase, "case at the hinge"},
                               {Swatch::kLid, "lid at the hinge"},
                               {Swatch::kArmA, "arm A"},
                               {Swatch::kArmB, "arm B"},
                               {Swatch::kEndWall, "end wall's section"},
                               {Swatch::kTrack, "paths in the lid"}};
  AddPartsTo(key, hinge);
  if (!design.job.contents.empty()) key.push_back({Swatch::kContents, "contents"});
  if (!scene.spots.empty()) key.push_back({Swatch::kMark, "tightest spots"});
  const Vec2 model = Size(scene.area);
  const Places across = PlacesOn(design.job, true, model, key);
  const Places upright = PlacesOn(design.job, false, model, key);
  const Places& places = across.scale >= upright.scale ? across : upright;

  Canvas canvas =
      MakeSheet(design.job, places.landscape,
                {"The swing through " + AngleText(scene.swing.to_rad) + ", section at the hinge",
                 places.scale});
  const double s = places.scale;
  const Vec2 spare = Size(places.drawing) - s * model - Vec2::Constant(kOrdinates_mm + kAround_mm);
  const Vec2 corner = places.drawing.low + Vec2(kAround_mm, kOrdinates_mm) + spare / 2.0;
  const View view{s, corner - s * scene.area.low};
  DrawStanding(canvas, view, scene);
  DrawBetween(canvas, view, scene);
  const LidState shut = scene.swing.At(0.0), open = scene.swing.At(scene.swing.to_rad);
  if (scene.swing.to_rad > 0.0) {
    DrawLid(canvas, view, scene, open);
    DrawHinge(canvas, view, hinge, scene.swing, open);
    DrawStay(canvas, view, scene, open);
  }
  DrawLid(canvas, view, scene, shut);
  DrawHinge(canvas, view, hinge, scene.swing, shut);
  canvas.Begin("paths");
  const Vec2 back = Extreme(scene.cut.lid_rings, {-1.0, -0.2});
  for (const Vec2& point : {hinge.pivots.lid_a, hinge.pivots.lid_b, back}) {
    canvas.Draw(view.Line(PathOf(scene.swing, point)), std::nullopt, style::kTrack);
  }
  canvas.End();
  const ReachableFaces faces = FacesAtEnd(design.job, design.solid);
  DrawPivotOrdinates(canvas, view, scene, faces);
  DrawPivotTable(canvas, places.table, scene, faces);
  DrawKey(canvas, places.key, style::kTitleWidth_mm - 2.0, key);
  DrawNames(canvas, view, scene, Grown(places.drawing, -2.0));
  return canvas;
}

std::string OverlaySvg(const Design& design, const Hinge& hinge) {
  return Overlay(design, hinge).Svg();
}

std::string OverlayPdf(const Design& design, const Hinge& hinge) {
  return Overlay(design, hinge).Pdf();
}

}  // namespace lidwright
