// SPDX-License-Identifier: Apache-2.0
#include "bodies.h"

#include <algorithm>
#include <cmath>

#include "boxes.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/drawing/style.h"

namespace lidwright {
namespace {

constexpr int kSweepSteps = 48;
// The gap that everything is about is always shown.
constexpr Requirement kHeadline = Requirement::kLidToCase;
constexpr double kTightTimes = 3.0;  // gaps up to so many times the required one are tight
// [rad] A motion that ends before the opening angle is drawn to this short of its end.
constexpr double kShortOfEnd_rad = 1e-3;

Rect2 Clipped(const Rect2& box, const Rect2& to) {
  return {box.low.cwiseMax(to.low), box.high.cwiseMin(to.high)};
}

void AddMoved(const std::vector<Ring>& rings, const Pose& pose, Rect2* box) {
  for (const Ring& ring : rings) {
    for (const Vec2& p : ring) box->Add(pose * p);
  }
}

void DrawPattern(Canvas& canvas, const Path& path, const Look& look) {
  const double angle_rad = look.angle_deg * kRadPerDeg;
  // Round ends make dots of dashes without length.
  const Pen dots{style::kDot_mm, Colour{look.ink}, {0.0, style::kDotsAlong_mm}};
  const Pen lines{style::kHatch_mm, Colour{look.ink}};
  switch (look.pattern) {
    case Pattern::kPlain:
      return;
    case Pattern::kCrossed:
      canvas.Hatch(path, angle_rad + kPi / 2.0, look.pitch_mm, lines);
      [[fallthrough]];
    case Pattern::kLines:
      return canvas.Hatch(path, angle_rad, look.pitch_mm, lines);
    case Pattern::kDots:
      return canvas.Hatch(path, angle_rad, look.pitch_mm, dots);
  }
}

bool IsFixed(const HingePiece& piece) {
  const bool packing = piece.kind == PieceKind::kSpacer && piece.cut_from_sheet;
  return packing || piece.kind == PieceKind::kCasePlate || piece.kind == PieceKind::kLidPlate ||
         piece.kind == PieceKind::kScrew || piece.kind == PieceKind::kStop ||
         piece.kind == PieceKind::kPad;
}

bool IsTurned(const HingePiece& piece) {
  const bool spacer = piece.kind == PieceKind::kSpacer && !piece.cut_from_sheet;
  return spacer || piece.kind == PieceKind::kWasher || piece.kind == PieceKind::kPin ||
         piece.kind == PieceKind::kBushing;
}

// A body's pieces of a sort, the ones farther from the viewer at +z first, screws and pins last.
std::vector<const HingePiece*> FromBehind(const HingeSet& set, Body body,
                                          bool (*wanted)(const HingePiece&)) {
  std::vector<const HingePiece*> pieces;
  for (const HingePiece& piece : set.pieces) {
    if (piece.body == body && wanted(piece)) pieces.push_back(&piece);
  }
  const auto runs_through = [](const HingePiece& piece) {
    return piece.kind == PieceKind::kPin || piece.kind == PieceKind::kScrew;
  };
  std::stable_sort(pieces.begin(), pieces.end(), [&](const HingePiece* a, const HingePiece* b) {
    if (runs_through(*a) != runs_through(*b)) return runs_through(*b);
    return a->z_max_mm < b->z_max_mm;
  });
  return pieces;
}

Path PathOfPiece(const View& view, const HingePiece& piece, const Pose& pose) {
  Path path{view(Moved(piece.outline, pose))};
  if (piece.kind == PieceKind::kStop) return path;  // its rod fills the sleeve
  for (Circle hole : piece.holes) {
    hole.centre = pose * hole.centre;
    path.push_back(view(AsOutline(hole)));
  }
  return path;
}

// A solid edge with hatching on its far side.
void DrawGround(Canvas& canvas, const View& view, const Rect2& solid, const Rect2& area,
                const Vec2& edge_from, const Vec2& edge_to) {
  const Rect2 shown = Clipped(solid, area);
  if (shown.low.x() >= shown.high.x() || shown.low.y() >= shown.high.y()) return;
  const Path ring = PageRing(RingOf(view(shown)));
  DrawPattern(canvas, ring, GroundLook());
  canvas.Draw(PageLine({view(edge_from.cwiseMax(area.low).cwiseMin(area.high)),
                        view(edge_to.cwiseMax(area.low).cwiseMin(area.high))}),
              std::nullopt, style::kFineEdge);
}

}  // namespace

Colour FillOf(const Look& look) {
  return Colour{look.fill};
}

void DrawLook(Canvas& canvas, const Path& path, const Look& look, const Pen& edge) {
  canvas.Draw(path, FillOf(look), std::nullopt);
  DrawPattern(canvas, path, look);
  canvas.Draw(path, std::nullopt, edge);
}

void DrawCaseWood(Canvas& canvas, const Path& path) {
  DrawLook(canvas, path, LookOf(Body::kCase), style::kEdge);
}

void DrawLidWood(Canvas& canvas, const Path& path) {
  DrawLook(canvas, path, LookOf(Body::kLid), style::kEdge);
}

void DrawArmMetal(Canvas& canvas, const Path& path, Body arm) {
  DrawLook(canvas, path, LookOf(arm), style::kArmEdge);
}

DrawnSwing MakeSwing(const Job& job, const Pivots& pivots) {
  DrawnSwing swing;
  swing.motion = LidMotion::Make(pivots);
  if (!swing.motion) return swing;
  const double end = swing.motion->Range().high_rad;
  swing.whole = job.swing.open_rad < end;
  swing.to_rad = swing.whole ? job.swing.open_rad : std::max(0.0, end - kShortOfEnd_rad);
  return swing;
}

LidState DrawnSwing::At(double theta_rad) const {
  return motion ? motion->At(std::clamp(theta_rad, 0.0, to_rad)) : LidState{};
}

Pose DrawnSwing::PoseOf(Body body, const LidState& state) const {
  return motion ? motion->BodyPose(body, state) : Pose{};
}

Rect2 SweptBounds(const Design& design, const Hinge& hinge, const DrawnSwing& swing) {
  const Solid& solid = design.solid;
  Rect2 box = solid.bounds;
  const std::vector<Section> sections = {SectionAt(solid, 0.0), EndWallSection(solid),
                                         SectionAt(solid, HingeSection_mm(solid, hinge))};
  for (int i = 0; i <= kSweepSteps; ++i) {
    const LidState state = swing.At(swing.to_rad * i / kSweepSteps);
    const Pose lid = swing.PoseOf(Body::kLid, state);
    for (const Section& section : sections) AddMoved(section.lid_rings, lid, &box);
    if (hinge.parts && hinge.parts->lid_plate) {
      AddMoved({Flatten(hinge.parts->lid_plate->outline, 0.1)}, lid, &box);
    }
    if (hinge.arm_a) {
      AddMoved({Flatten(hinge.arm_a->outline, 0.1)}, swing.PoseOf(Body::kArmA, state), &box);
    }
    if (hinge.arm_b) {
      AddMoved({Flatten(hinge.arm_b->outline, 0.1)}, swing.PoseOf(Body::kArmB, state), &box);
    }
  }
  for (const Vec2& p :
       {hinge.pivots.case_a, hinge.pivots.case_b, hinge.pivots.lid_a, hinge.pivots.lid_b}) {
    box.Add(p);
  }
  return box;
}

std::vector<Spot> TightSpots(const Hinge& hinge) {
  std::vector<Spot> spots;
  for (const Verdict& verdict : hinge.verdicts) {
    if (!verdict.nearest || !verdict.angle_rad || !verdict.found || verdict.unit != Unit::kMm) {
      continue;
    }
    spots.push_back({&verdict, (verdict.nearest->on_first + verdict.nearest->on_second) / 2.0});
  }
  std::stable_sort(spots.begin(), spots.end(), [](const Spot& a, const Spot& b) {
    return *a.verdict->found < *b.verdict->found;
  });
  const auto roomy = [](const Spot& spot) {
    return spot.verdict->what != kHeadline &&
           !(*spot.verdict->found <= kTightTimes * *spot.verdict->required);
  };
  if (!spots.empty())
    spots.erase(std::remove_if(spots.begin() + 1, spots.end(), roomy), spots.end());
  return spots;
}

void DrawSurroundings(Canvas& canvas, const View& view, const Job& job, const Solid& solid,
                      const Rect2& model_area) {
  canvas.Begin("surroundings");
  const double thick = 3.0 / view.scale;
  const double wall = -job.room.behind_mm, ceiling = job.room.above_mm;
  const Rect2& area = model_area;
  if (job.room.bench_below) {
    const double y = solid.bench_mm;
    DrawGround(canvas, view, {{area.low.x(), y - thick}, {area.high.x(), y}}, area,
               {area.low.x(), y}, {area.high.x(), y});
  }
  if (std::isfinite(wall) && wall >= area.low.x()) {
    const double low = job.room.bench_below ? solid.bench_mm : area.low.y();
    DrawGround(canvas, view, {{wall - thick, low}, {wall, area.high.y()}}, area, {wall, low},
               {wall, area.high.y()});
  }
  if (std::isfinite(ceiling) && ceiling <= area.high.y()) {
    DrawGround(canvas, view, {{area.low.x(), ceiling}, {area.high.x(), ceiling + thick}}, area,
               {area.low.x(), ceiling}, {area.high.x(), ceiling});
  }
  canvas.End();
}

double HingeSection_mm(const Solid& solid, const Hinge& hinge) {
  double low = 1e300, high = -1e300;
  for (const auto& arm : {hinge.arm_a, hinge.arm_b}) {
    if (!arm || !(arm->z_max_mm > arm->z_min_mm)) continue;
    low = std::min(low, arm->z_min_mm);
    high = std::max(high, arm->z_max_mm);
  }
  if (low > high) return (solid.bay.z_min_mm + solid.bay.z_max_mm) / 2.0;
  return (low + high) / 2.0;
}

std::array<Body, 2> ArmsFromBehind(const Hinge& hinge) {
  const bool a_nearer = hinge.arm_a && hinge.arm_b && hinge.arm_a->z_max_mm > hinge.arm_b->z_max_mm;
  return a_nearer ? std::array{Body::kArmB, Body::kArmA} : std::array{Body::kArmA, Body::kArmB};
}

void DrawArm(Canvas& canvas, const View& view, const Hinge& hinge, Body body, const Pose& pose) {
  const bool first = body == Body::kArmA;
  const std::optional<Arm>& arm = first ? hinge.arm_a : hinge.arm_b;
  const Pivots& p = hinge.pivots;
  canvas.Begin(first ? "arm-a" : "arm-b");
  if (arm) {
    Path path{view(Moved(arm->outline, pose))};
    for (Circle hole : {arm->case_hole, arm->lid_hole}) {
      hole.centre = pose * hole.centre;
      path.push_back(view(AsOutline(hole)));
    }
    DrawArmMetal(canvas, path, body);
    DrawTurned(canvas, view, hinge, body, pose);
  } else {
    canvas.Draw(PageLine({view(pose * (first ? p.case_a : p.case_b)),
                          view(pose * (first ? p.lid_a : p.lid_b))}),
                std::nullopt, Pen{style::kEdge.width_mm, style::kArmInk});
  }
  canvas.End();
}

void DrawCasePivots(Canvas& canvas, const View& view, const Pivots& pivots) {
  canvas.Draw(Circle{view(pivots.case_a), 0.8}, style::kInk, style::kThin, "pivot case-a");
  canvas.Draw(Circle{view(pivots.case_b), 0.8}, style::kInk, style::kThin, "pivot case-b");
}

void DrawLidPivots(Canvas& canvas, const View& view, const Pivots& pivots, const Pose& X_CL) {
  const Vec2 a = view(X_CL * pivots.lid_a), b = view(X_CL * pivots.lid_b);
  canvas.Draw(PageLine({a, b}), std::nullopt, style::kPhantom);  // what the lid's plate joins
  canvas.Draw(Circle{a, 0.8}, style::kPaper, style::kFineEdge, "pivot lid-a");
  canvas.Draw(Circle{b, 0.8}, style::kPaper, style::kFineEdge, "pivot lid-b");
}

void DrawPlates(Canvas& canvas, const View& view, const Hinge& hinge, Body body, const Pose& pose) {
  if (!hinge.parts) return;
  canvas.Begin("plates");
  for (const HingePiece* piece : FromBehind(*hinge.parts, body, IsFixed)) {
    DrawLook(canvas, PathOfPiece(view, *piece, pose), LookOf(*piece), style::kFineEdge);
  }
  canvas.End();
}

void DrawTurned(Canvas& canvas, const View& view, const Hinge& hinge, Body body, const Pose& pose) {
  if (!hinge.parts) return;
  canvas.Begin("turned");
  for (const HingePiece* piece : FromBehind(*hinge.parts, body, IsTurned)) {
    DrawLook(canvas, PathOfPiece(view, *piece, pose), LookOf(*piece), style::kThin);
  }
  canvas.End();
}

void DrawHinge(Canvas& canvas, const View& view, const Hinge& hinge, const DrawnSwing& swing,
               const LidState& state) {
  const Pose X_CL = swing.PoseOf(Body::kLid, state);
  DrawPlates(canvas, view, hinge, Body::kCase, Pose{});
  DrawPlates(canvas, view, hinge, Body::kLid, X_CL);
  for (const Body body : ArmsFromBehind(hinge)) {
    DrawArm(canvas, view, hinge, body, swing.PoseOf(body, state));
  }
  DrawTurned(canvas, view, hinge, Body::kCase, Pose{});
  DrawTurned(canvas, view, hinge, Body::kLid, X_CL);
  DrawLidPivots(canvas, view, hinge.pivots, swing.PoseOf(Body::kLid, state));
  DrawCasePivots(canvas, view, hinge.pivots);
}

}  // namespace lidwright
