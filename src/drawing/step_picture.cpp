// SPDX-License-Identifier: Apache-2.0
#include "step_picture.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>

#include "boxes.h"
#include "labels.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"
#include "lidwright/cutting/nest.h"
#include "lidwright/drawing/style.h"
#include "sheet.h"

namespace lidwright {
namespace {

constexpr double kAround_mm = 5.0;  // kept round a picture for numbers
constexpr double kHead_mm = 3.0;    // of an arrow
const Pen kArrow{0.8, style::kInk};

void DrawArrow(Canvas& canvas, const std::vector<Vec2>& points) {
  const Vec2 tip = points.back(), back = (points[points.size() - 2] - tip).normalized();
  const Vec2 side = 0.45 * kHead_mm * Perp(back), foot = tip + kHead_mm * back;
  std::vector<Vec2> shaft = points;
  shaft.back() = tip + 0.8 * kHead_mm * back;
  canvas.Draw(PageLine(shaft), std::nullopt, kArrow);
  canvas.Draw(PageRing({tip, foot + side, foot - side}), style::kInk, std::nullopt);
}

const HingePiece* Find(const HingeSet& set, const std::string& name) {
  for (const HingePiece& piece : set.pieces) {
    if (piece.name == name) return &piece;
  }
  return nullptr;
}

// One piece laid flat or a turned one from its side, in its own frame from its lower left corner.
struct LaidPiece {
  const HingePiece* piece = nullptr;
  Path path;  // in millimetres of the piece
  Vec2 size = Vec2::Zero();
};

LaidPiece Lay(const HingePiece& piece) {
  LaidPiece laid{&piece, {}, Vec2::Zero()};
  if (piece.cut_from_sheet) {
    const auto [lay, size] = LyingAtOrigin(piece.outline);
    laid.size = size;
    laid.path.push_back(View{}(Moved(piece.outline, lay)));
    for (Circle hole : piece.holes) {
      hole.centre = lay * hole.centre;
      laid.path.push_back(View{}(AsOutline(hole)));
    }
    return laid;
  }
  const double across = Size(Bounds(Flatten(piece.outline, kChordError_mm))).y();
  laid.size = {piece.z_max_mm - piece.z_min_mm, across};
  laid.path = PageRing(RingOf({Vec2::Zero(), laid.size}));
  return laid;
}

Path At(const Path& path, const View& view) {
  Path moved = path;
  for (Trail& trail : moved) {
    for (OutlineVertex& v : trail.vertices) v.point = view(v.point);
  }
  return moved;
}

// How far down rows of pieces reach at a scale; draws them if `canvas` is given.
double LayRows(const std::vector<LaidPiece>& pieces, const Rect2& area, double scale,
               const PartsList& list, Canvas* canvas) {
  const double apart = 5.0, number = 2.0 * kItem_mm + 1.5;
  double x = area.low.x(), y = area.high.y(), row = 0.0;
  for (const LaidPiece& laid : pieces) {
    const Vec2 size(scale * laid.size.x() + number, std::max(scale * laid.size.y(), number));
    if (x > area.low.x() && x + size.x() > area.high.x()) {
      y -= row + 3.0;
      x = area.low.x();
      row = 0.0;
    }
    if (x + size.x() > area.high.x()) return -1e9;
    if (canvas) {
      const double middle = y - size.y() / 2.0;
      DrawItem(*canvas, {x + kItem_mm, middle}, ItemOf(list, laid.piece->name));
      const View view{scale, {x + number, middle - scale * laid.size.y() / 2.0}};
      DrawLook(*canvas, At(laid.path, view), LookOf(*laid.piece), style::kFineEdge);
    }
    x += size.x() + apart;
    row = std::max(row, size.y());
  }
  return y - row;
}

// Each different piece of the step once.
void DrawLaidPieces(Canvas& canvas, const Rect2& area, const HingeSet& set, const WorkStep& step,
                    const PartsList& list) {
  std::vector<LaidPiece> pieces;
  std::set<int> told;
  for (const std::string& name : step.pieces) {
    const HingePiece* piece = Find(set, name);
    const int item = ItemOf(list, name);
    if (piece && item > 0 && told.insert(item).second) pieces.push_back(Lay(*piece));
  }
  const Rect2 room = Grown(area, -3.0);
  double scale = 3.0;
  while (scale > 0.05 && LayRows(pieces, room, scale, list, nullptr) < room.low.y()) scale *= 0.95;
  canvas.Begin("pieces");
  LayRows(pieces, room, scale, list, &canvas);
  canvas.End();
}

void DrawJig(Canvas& canvas, const View& view, const HingeSet& set) {
  if (!set.jig) return;
  Path path{view(set.jig->piece.outline)};
  for (const auto& circles : {set.jig->piece.holes, set.jig->piece.drills}) {
    for (const Circle& hole : circles) path.push_back(view(AsOutline(hole)));
  }
  canvas.Begin("jig");
  canvas.Draw(path, style::kPaper, style::kEdge);
  canvas.End();
}

// Numbers of what is handled, each once, at a piece as `pose` puts it.
void NumberPieces(Canvas& canvas, const View& view, const Rect2& area, const SwingScene& scene,
                  const WorkStep& step, const PartsList& list, const LidState& state) {
  LabelRule rule;
  rule.area = area;
  rule.clear_mm = 3.0;
  rule.leader_from_mm = 1.0;
  std::set<int> told;
  for (const std::string& name : step.pieces) {
    const HingePiece* piece = Find(*scene.hinge.parts, name);
    const int item = ItemOf(list, name);
    if (!piece || item == 0 || !told.insert(item).second) continue;
    const Ring ring = Flatten(piece->outline, kChordError_mm);
    const Vec2 at = view(scene.swing.PoseOf(piece->body, state) * ring[ring.size() / 3]);
    rule.toward = at - Middle(area);
    PlaceLabel(canvas, std::to_string(item), at, rule);
  }
}

void DrawHoles(Canvas& canvas, const View& view, const HingeSet& set) {
  canvas.Begin("holes");
  for (const WoodWork& work : set.bench_work) {
    if (!(work.hole.radius_mm > 0.0)) continue;
    const Circle at = view(work.hole);
    const Vec2 x(at.radius_mm + 1.5, 0.0), y(0.0, at.radius_mm + 1.5);
    canvas.Draw(at, style::kPaper, style::kFineEdge);
    canvas.Draw(PageLine({at.centre - x, at.centre + x}), std::nullopt, style::kThin);
    canvas.Draw(PageLine({at.centre - y, at.centre + y}), std::nullopt, style::kThin);
  }
  canvas.End();
}

// The arrow of a lid that opens: along the way of its front edge, off the lid itself.
void DrawWay(Canvas& canvas, const View& view, const SwingScene& scene, double from, double to) {
  Vec2 front(-1e300, 0.0);
  for (const Ring& ring : scene.cut.lid_rings) {
    for (const Vec2& p : ring) {
      if (p.x() > front.x()) front = p;
    }
  }
  std::vector<Vec2> way;
  for (int i = 0; i <= 24; ++i) {
    const double share = from + (to - from) * i / 24.0;
    const LidState state = scene.swing.At(share * scene.swing.to_rad);
    way.push_back(view(scene.swing.PoseOf(Body::kLid, state) * front));
  }
  DrawArrow(canvas, way);
}

// What stands in the box at a step, by its scene.
struct Shown {
  double share = 0.0;  // of the swing
  bool lid = true, box = true, jig = false, arms = false, case_plate = false, lid_plate = false;
};

Shown ShownAt(StepScene scene, const HingeSet& set) {
  switch (scene) {
    case StepScene::kHolesInWood:
      return {0.0, true, true, false, false, false, false};
    case StepScene::kLidPlateLetIn:
      return {0.0, true, false, false, false, false, true};
    case StepScene::kPlatesOnJig:
      return {0.0, false, false, true, false, true, false};
    case StepScene::kJigInCase:
      return {0.0, false, true, true, false, true, false};
    case StepScene::kJigInLid:
      return {0.0, true, false, set.case_plate.has_value(), false, false, false};
    case StepScene::kArmsShut:
      // Pins straight in the wood are marked in the shut lid, through the arms' eyes.
      return {0.0, !set.lid_plate, true, false, true, true, true};
    case StepScene::kLidLowered:
      return {0.0, true, true, false, true, true, true};
    case StepScene::kLidOpen:
      return {1.0, true, true, false, true, true, true};
    default:
      return {0.45, true, true, false, true, true, true};
  }
}

Rect2 ModelOf(const SwingScene& scene, const Shown& shown) {
  Rect2 box;
  if (!shown.box && !shown.lid) {
    for (const HingePiece& piece : scene.hinge.parts->pieces) {
      box = Joined(box, Bounds(Flatten(piece.outline, kChordError_mm)));
    }
    return box;
  }
  if (shown.share > 0.0) return scene.swept;
  box = scene.design.solid.bounds;
  if (!shown.lid) return box;
  box.high.y() += 0.15 * Size(box).y();  // for an arrow
  return box;
}

// Is what is called `name` not fitted yet at a step?
bool IsBefore(const std::string& name, const WorkStep& step) {
  return step.shows != StepScene::kSwing &&
         std::find(step.pieces.begin(), step.pieces.end(), name) == step.pieces.end();
}

// The hinge without pads and stays that a later step fits.
Hinge AsFarAs(const WorkStep& step, Hinge hinge) {
  const bool no_pad = IsBefore("pad", step), no_stay = IsBefore("stay", step);
  std::vector<HingePiece>& pieces = hinge.parts->pieces;
  pieces.erase(std::remove_if(pieces.begin(), pieces.end(),
                              [&](const HingePiece& piece) {
                                return (no_pad && piece.kind == PieceKind::kPad) ||
                                       (no_stay && piece.member == Member::kStay);
                              }),
               pieces.end());
  return hinge;
}

void DrawBox(Canvas& canvas, const Rect2& area, const SwingScene& scene, const WorkStep& step,
             const PartsList& list) {
  const Shown shown = ShownAt(step.shows, *scene.hinge.parts);
  std::optional<Hinge> bare;
  if (scene.hinge.parts->pad || scene.hinge.parts->stay) bare = AsFarAs(step, scene.hinge);
  const Hinge& hinge = bare ? *bare : scene.hinge;
  const HingeSet& set = *hinge.parts;
  const LidState state = scene.swing.At(shown.share * scene.swing.to_rad);
  const Pose X_CL = scene.swing.PoseOf(Body::kLid, state);
  const Rect2 model = ModelOf(scene, shown);
  const View view = Fitting(Grown(area, -kAround_mm), model);
  if (shown.box) DrawStandingIn(canvas, view, scene, Grown(model, 2.0 / view.scale));
  if (shown.lid) DrawLid(canvas, view, scene, state);
  if (shown.jig) DrawJig(canvas, view, set);
  if (shown.arms) {
    DrawHinge(canvas, view, hinge, scene.swing, state);
    if (shown.lid && !IsBefore("stay", step)) DrawStay(canvas, view, scene, state);
  } else {
    if (shown.case_plate) DrawPlates(canvas, view, hinge, Body::kCase, Pose{});
    if (shown.lid_plate) DrawPlates(canvas, view, hinge, Body::kLid, X_CL);
    if (shown.jig) {
      DrawTurned(canvas, view, hinge, Body::kCase, Pose{});
      if (shown.lid) DrawTurned(canvas, view, hinge, Body::kLid, X_CL);
    }
  }
  if (step.shows == StepScene::kHolesInWood) DrawHoles(canvas, view, set);
  const Vec2 top(Middle(view(model)).x(), view(model).high.y() + 2.0);
  if (step.shows == StepScene::kLidLowered) {
    DrawArrow(canvas, {top, top - Vec2(0.0, 0.12 * Size(view(model)).y())});
  }
  if (step.shows == StepScene::kLidOpen) DrawWay(canvas, view, scene, 0.3, 0.9);
  if (step.shows == StepScene::kSwing) DrawWay(canvas, view, scene, 0.55, 0.95);
  NumberPieces(canvas, view, Grown(area, -0.5), scene, step, list, state);
}

}  // namespace

void DrawStepPicture(Canvas& canvas, const Rect2& area, const SwingScene& scene,
                     const WorkStep& step, const PartsList& list) {
  if (step.shows == StepScene::kFlatParts || step.shows == StepScene::kTurnedParts) {
    return DrawLaidPieces(canvas, area, *scene.hinge.parts, step, list);
  }
  DrawBox(canvas, area, scene, step, list);
}

}  // namespace lidwright
