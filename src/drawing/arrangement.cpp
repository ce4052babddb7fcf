// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/arrangement.h"

#include <algorithm>
#include <cmath>

#include "boxes.h"
#include "dimensions.h"
#include "labels.h"
#include "lidwright/base/numbers.h"
#include "lidwright/drawing/length_text.h"
#include "lidwright/drawing/overlay.h"
#include "lidwright/drawing/style.h"
#include "sheet.h"
#include "swing_scene.h"

namespace lidwright {
namespace {

constexpr double kOrdinates_mm = 28.0;  // room for them below a view and to its right
constexpr double kRow_mm = 8.0;         // from a view to its row of ordinates
constexpr double kLeft_mm = 8.0;        // left of the shut view
constexpr double kDims_mm = 18.0;       // left of the open view, for two upright dimensions
constexpr double kHead_mm = 21.0;       // above, for a title and two dimensions
constexpr double kNotes_mm = 7.6;
constexpr std::size_t kDistances = 6;

const double kStrip_mm = TableHeight(kDistances + 1) + kNotes_mm;

// What one of the two views shows, in the model's frame.
struct ViewArea {
  LidState state;
  Rect2 area;
};

// Case, lid and hinge at a state, with bench, and the wall behind if it is near.
ViewArea AreaAt(const SwingScene& scene, double theta) {
  ViewArea view;
  view.state = scene.swing.At(theta);
  view.area = scene.design.solid.bounds;
  const Pose lid = scene.swing.PoseOf(Body::kLid, view.state);
  for (const Section* section : {&scene.cut, &scene.middle, &scene.end}) {
    for (const Ring& ring : section->lid_rings) {
      for (const Vec2& p : ring) view.area.Add(lid * p);
    }
  }
  for (const Body body : {Body::kArmA, Body::kArmB}) {
    const auto& arm = body == Body::kArmA ? scene.hinge.arm_a : scene.hinge.arm_b;
    if (!arm) continue;
    const Pose pose = scene.swing.PoseOf(body, view.state);
    for (const Vec2& p : Flatten(arm->outline, 0.1)) view.area.Add(pose * p);
  }
  if (scene.hinge.parts && scene.hinge.parts->lid_plate) {
    for (const Vec2& p : Flatten(scene.hinge.parts->lid_plate->outline, 0.1)) {
      view.area.Add(lid * p);
    }
  }
  for (const NamedPivot& pivot : PivotsAt(scene, view.state)) view.area.Add(pivot.at);
  return view;
}

// The lid's bounds at a state.
Rect2 LidBounds(const SwingScene& scene, const LidState& state) {
  const Pose pose = scene.swing.PoseOf(Body::kLid, state);
  Rect2 box;
  for (const Section* section : {&scene.cut, &scene.middle, &scene.end}) {
    for (const Ring& ring : section->lid_rings) {
      for (const Vec2& p : ring) box.Add(pose * p);
    }
  }
  return box;
}

void DrawTitle(Canvas& canvas, const Vec2& at, const std::string& text) {
  Lettering lettering;
  lettering.height_mm = style::kText_mm;
  canvas.Write(text, at, lettering);
}

void DrawBody(Canvas& canvas, const View& view, const SwingScene& scene, const ViewArea& shown) {
  Rect2 area = Grown(shown.area, 3.0 / view.scale);
  DrawStandingIn(canvas, view, scene, area);
  DrawLid(canvas, view, scene, shown.state);
  DrawHinge(canvas, view, scene.hinge, scene.swing, shown.state);
  DrawStay(canvas, view, scene, shown.state);
}

void DrawPivotOrdinates(Canvas& canvas, const View& view, const SwingScene& scene,
                        const ViewArea& shown, const ReachableFaces& faces, bool only_lid) {
  const bool inches = scene.design.job.inches;
  std::vector<Ordinate> across, up;
  std::size_t i = 0;
  for (const NamedPivot& pivot : PivotsAt(scene, shown.state)) {
    if (i++ < 2 && only_lid) continue;  // the case's come first
    const Vec2 at = view(pivot.at);
    across.push_back({at, pivot.name + "  " + LengthText(pivot.at.x() - faces.back_x_mm, inches)});
    up.push_back({at, pivot.name + "  " + LengthText(pivot.at.y() - faces.rim_y_mm, inches)});
  }
  across.push_back({view({faces.back_x_mm, faces.rim_y_mm}), "0"});
  up.push_back({view({scene.design.solid.bounds.high.x(), faces.rim_y_mm}), "0"});
  canvas.Begin("ordinates");
  DrawOrdinates(canvas, across, true, view(shown.area).low.y() - kRow_mm, -1);
  DrawOrdinates(canvas, up, false, view(shown.area).high.x() + kRow_mm - 2.0, 1);
  canvas.End();
}

void DrawPivotNames(Canvas& canvas, const View& view, const SwingScene& scene,
                    const LidState& state, const Rect2& area) {
  LabelRule rule;
  rule.area = area;
  for (const NamedPivot& pivot : PivotsAt(scene, state)) {
    rule.toward = pivot.at - pivot.other_end;
    PlaceLabel(canvas, pivot.name, view(pivot.at), rule);
  }
}

// [mm] What is drawn and what was judged differ by chords and by what certificates keep back;
// nearer than this they are one quantity, and the judged number stands.
constexpr double kSameAsJudged_mm = 0.1;

// The gap under the open lid: the verdict's where it is tightest there.
std::string UnderLid(const SwingScene& scene, double drawn_mm) {
  const bool inches = scene.design.job.inches;
  for (const Verdict& v : scene.hinge.verdicts) {
    if (v.what != Requirement::kLidToBench || !v.found) continue;
    if (std::abs(*v.found - drawn_mm) < kSameAsJudged_mm) return GapText(v, false, inches);
  }
  return LengthText(drawn_mm, inches, Bench::kGap);
}

// Does the lid come farther behind on its way than it is when open?
bool ComesFartherBehind(const SwingScene& scene, const Rect2& open_lid) {
  const Traits& traits = scene.hinge.traits;
  return !std::isnan(traits.reach_behind_rad) &&
         traits.reach_behind_mm > std::max(0.0, -open_lid.low.x()) + kSameAsJudged_mm;
}

// How much room the open lid takes.
void DrawRoom(Canvas& canvas, const View& view, const SwingScene& scene, const ViewArea& shown) {
  const Job& job = scene.design.job;
  const Rect2 lid = LidBounds(scene, shown.state), paper = view(shown.area);
  const Traits& traits = scene.hinge.traits;
  const double bench = scene.design.solid.bench_mm;
  canvas.Begin("room");
  DimensionSide over(canvas, false, paper.high.y() + 5.0, 1);
  const bool more = ComesFartherBehind(scene, lid);
  if (lid.low.x() < 0.0) {
    double behind = traits.reach_behind_mm;
    if (!(std::abs(behind + lid.low.x()) < kSameAsJudged_mm)) behind = -lid.low.x();
    over.Add(view({lid.low.x(), lid.high.y()}), view(Vec2(0.0, 0.0)),
             RoomText(behind, job.room.behind_mm, job.inches) + (more ? " open" : ""));
  }
  if (more) {
    // Who sets the box to the wall by the open lid alone hits it on the way.
    const double x = -traits.reach_behind_mm, top = std::max(0.0, lid.high.y());
    canvas.Draw(PageLine({view({x, bench}), view({x, top})}), std::nullopt, style::kHidden);
    over.Add(view({x, top}), view(Vec2(0.0, 0.0)),
             "needs " + RoomText(traits.reach_behind_mm, job.room.behind_mm, job.inches) +
                 " behind, at " + WholeDegrees(traits.reach_behind_rad));
  }
  DimensionSide left(canvas, true, paper.low.x() - 6.0, -1);
  if (lid.low.y() - bench > 0.5) {
    left.Add(view({lid.low.x(), bench}), view({lid.low.x(), lid.low.y()}),
             UnderLid(scene, lid.low.y() - bench));
  }
  left.Add(view({lid.low.x(), bench}), view({lid.low.x(), lid.high.y()}),
           LengthText(lid.high.y() - bench, job.inches, Bench::kRoom));
  canvas.End();
}

void DrawPivotTable(Canvas& canvas, const Vec2& top_left, const SwingScene& scene,
                    const ReachableFaces& of_case, const ReachableFaces& of_lid) {
  const bool inches = scene.design.job.inches;
  const auto pivots = PivotsAt(scene, scene.swing.At(0.0));
  std::vector<std::vector<std::string>> rows = {
      {std::string("lid shut, ") + (inches ? "inches" : "mm"), "from back", "from rim"}};
  const auto add = [&](const NamedPivot& pivot, const std::string& what,
                       const ReachableFaces& faces) {
    rows.push_back({pivot.name + "  " + what, LengthText(pivot.at.x() - faces.back_x_mm, inches),
                    LengthText(pivot.at.y() - faces.rim_y_mm, inches)});
  };
  for (const std::size_t i : {0, 1}) add(pivots[i], "in the case", of_case);
  for (const std::size_t i : {2, 3}) add(pivots[i], "in the lid, from the case", of_case);
  for (const std::size_t i : {2, 3}) add(pivots[i], "in the lid, from the lid", of_lid);
  const double low = DrawTable(canvas, top_left, {{50, false}, {23, true}, {23, true}}, rows);
  Lettering small;
  small.height_mm = style::kSmall_mm;
  canvas.Write("back: its inner face; both where the end wall begins; minus: under the rim",
               {top_left.x(), low - 2.4}, small);
  canvas.Write("in files: add " + PlaceText(of_case.back_x_mm, inches) +
                   " to what is measured from the case's back, " +
                   PlaceText(of_case.rim_y_mm, inches) + " to that from its rim",
               {top_left.x(), low - 5.8}, small);
}

void DrawDistances(Canvas& canvas, const Vec2& top_left, const SwingScene& scene) {
  const bool inches = scene.design.job.inches;
  const auto shut = PivotsAt(scene, scene.swing.At(0.0));
  const auto open = PivotsAt(scene, scene.swing.At(scene.swing.to_rad));
  struct Pair {
    std::size_t from, to;
    const char* what;
  };
  // In the order of PivotsAt: A₀, B₀, A, B.
  const PlateWish& plates = scene.design.job.plates;
  const Pair pairs[kDistances] = {{0, 1, plates.on_case ? "case plate" : "case wall"},
                                  {2, 3, plates.on_lid ? "lid plate" : "lid wall"},
                                  {0, 2, "arm A"},
                                  {1, 3, "arm B"},
                                  {0, 3, ""},
                                  {1, 2, ""}};
  std::vector<std::vector<std::string>> rows = {{"hole to hole", "shut", "open"}};
  for (const Pair& pair : pairs) {
    const auto text = [&](const std::vector<NamedPivot>& at) {
      return LengthText((at[pair.to].at - at[pair.from].at).norm(), inches);
    };
    const std::string what = pair.what;
    rows.push_back({shut[pair.from].name + " \xE2\x80\x93 " + shut[pair.to].name +
                        (what.empty() ? "" : "  " + what),
                    text(shut), text(open)});
  }
  DrawTable(canvas, top_left, {{34, false}, {17.5, true}, {17.5, true}}, rows);
}

}  // namespace

Canvas Arrangement(const Design& design, const Hinge& hinge) {
  const SwingScene scene(design, hinge);
  ViewArea shut = AreaAt(scene, 0.0), open = AreaAt(scene, scene.swing.to_rad);
  const Room& room = design.job.room;
  const double near_mm = 0.35 * design.job.case_form.depth_mm;
  if (std::isfinite(room.behind_mm) && -room.behind_mm > open.area.low.x() - near_mm) {
    open.area.low.x() = std::min(open.area.low.x(), -room.behind_mm);
  }
  if (ComesFartherBehind(scene, LidBounds(scene, open.state))) {
    open.area.Add(Vec2(-hinge.traits.reach_behind_mm, open.area.low.y()));
  }
  // One height for both, so that they stand on one line.
  shut.area.low.y() = open.area.low.y() = std::min(shut.area.low.y(), open.area.low.y());

  const Vec2 paper = PaperSize(design.job, true);
  const Rect2 frame = FrameOf(paper), block = TitleBlockOf(paper);
  Rect2 place = frame;
  place.low.y() += std::max(style::kTitleHeight_mm, kStrip_mm) + 2.0;
  const double sides = kLeft_mm + kDims_mm + 2.0 * kOrdinates_mm;
  const double width = Size(shut.area).x() + Size(open.area).x();
  const double height = std::max(Size(shut.area).y(), Size(open.area).y());
  const double scale = UsualScale([&](double s) {
    return s * width + sides <= Size(place).x() &&
           s * height + kOrdinates_mm + kHead_mm <= Size(place).y();
  });
  const std::string angle = AngleText(scene.swing.to_rad);
  Canvas canvas = MakeSheet(design.job, true, {"Where the pivots go, section at the hinge", scale});

  const double spare = (Size(place).x() - sides - scale * width) / 3.0;
  const double base = place.low.y() + kOrdinates_mm +
                      (Size(place).y() - kOrdinates_mm - kHead_mm - scale * height) / 2.0;
  const auto view_at = [&](double left, const ViewArea& shown) {
    return View{scale, Vec2(left, base) - scale * shown.area.low};
  };
  const double left_shut = place.low.x() + spare + kLeft_mm;
  const double left_open =
      left_shut + scale * Size(shut.area).x() + kOrdinates_mm + spare + kDims_mm;
  const View view_shut = view_at(left_shut, shut), view_open = view_at(left_open, open);
  const ReachableFaces of_case = FacesAtEnd(design.job, design.solid);
  const ReachableFaces of_lid = LidFacesAtEnd(design.job, design.solid);

  std::string title = !scene.swing.motion ? "The lid cannot move"
                      : scene.swing.whole ? "Lid open, " + angle
                                          : "As far as it goes, " + angle;
  const double head = place.high.y() - 6.0;
  DrawTitle(canvas, {left_shut, head}, "Lid shut");
  DrawTitle(canvas, {left_open, head}, title);
  canvas.Begin("shut");
  DrawBody(canvas, view_shut, scene, shut);
  DrawPivotOrdinates(canvas, view_shut, scene, shut, of_case, false);
  Rect2 half = {place.low, {left_open - kDims_mm, place.high.y()}};
  DrawPivotNames(canvas, view_shut, scene, shut.state, Grown(half, -2.0));
  canvas.End();
  canvas.Begin("open");
  DrawBody(canvas, view_open, scene, open);
  DrawPivotOrdinates(canvas, view_open, scene, open, of_case, true);
  DrawRoom(canvas, view_open, scene, open);
  half = {{left_open - kDims_mm, place.low.y()}, place.high};
  DrawPivotNames(canvas, view_open, scene, open.state, Grown(half, -2.0));
  canvas.End();

  const double top = frame.low.y() + kStrip_mm;
  DrawPivotTable(canvas, {frame.low.x() + 3.0, top}, scene, of_case, of_lid);
  std::vector<KeyEntry> key = {{Swatch::kCase, "case at the hinge"},
                               {Swatch::kLid, "lid at the hinge"},
                               {Swatch::kArmA, "arm A"},
                               {Swatch::kArmB, "arm B"},
                               {Swatch::kEndWall, "end wall's section"}};
  AddPartsTo(key, hinge);
  if (!design.job.contents.empty()) key.push_back({Swatch::kContents, "contents"});
  const double key_width = style::kTitleWidth_mm - 2.0;
  DrawKey(canvas, {block.low.x() + 1.0, block.high.y() + KeyHeight(key_width, key) + 1.0},
          key_width, key);
  DrawDistances(canvas, {block.low.x() - 71.0, top}, scene);
  return canvas;
}

std::string ArrangementSvg(const Design& design, const Hinge& hinge) {
  return Arrangement(design, hinge).Svg();
}

std::string ArrangementPdf(const Design& design, const Hinge& hinge) {
  return Arrangement(design, hinge).Pdf();
}

}  // namespace lidwright
