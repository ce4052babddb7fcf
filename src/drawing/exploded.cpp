// SPDX-License-Identifier: Apache-2.0
#include "exploded.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "bodies.h"
#include "boxes.h"
#include "labels.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/drawing/style.h"
#include "view.h"

namespace lidwright {
namespace {

// Depth runs down and inwards on the page: by this much for a millimetre of z.
const Vec2 kDepth(-0.5, -0.62);
constexpr double kLayer_mm = 26.0;  // of z from one layer to the next, besides thicknesses
constexpr double kLabels_mm = 7.0;  // kept round the drawing for numbers
constexpr double kChord_mm = 0.08;

// In which order pieces go on, from the wall inwards; −1 for those that are not drawn.
int LayerOf(const HingePiece& piece) {
  switch (piece.kind) {
    case PieceKind::kSpacer:
      return piece.cut_from_sheet ? 0 : 4;
    case PieceKind::kCasePlate:
    case PieceKind::kLidPlate:
      return 1;
    case PieceKind::kPin:
      return 2;
    case PieceKind::kScrew:
    case PieceKind::kStop:
    case PieceKind::kPad:
      return 3;
    case PieceKind::kWasher:
      return piece.name.rfind("head", 0) == 0 ? 7 : 4;
    case PieceKind::kArm:
      return 5;
    case PieceKind::kBushing:
      return 6;
    case PieceKind::kJig:
      break;
  }
  return -1;
}

// A piece where it stands in the drawing: side view and depth, both before scaling.
struct Laid {
  const HingePiece* piece = nullptr;
  std::vector<Ring> rings;  // outline and holes
  double back_mm = 0.0, front_mm = 0.0;
};

struct Oblique {
  bool left = true;
  View view;

  Vec2 operator()(const Vec2& p, double depth_mm) const {
    const Vec2 flat = Vec2(left ? -p.x() : p.x(), p.y());
    const Vec2 by = depth_mm * kDepth;
    return view(flat + Vec2(left ? by.x() : -by.x(), by.y()));
  }
  Path operator()(const std::vector<Ring>& rings, double depth_mm) const {
    Path path;
    for (const Ring& ring : rings) {
      Trail trail{{}, true};
      for (const Vec2& p : ring) trail.vertices.push_back({(*this)(p, depth_mm), 0.0});
      path.push_back(std::move(trail));
    }
    return path;
  }
};

std::vector<Laid> LaidApart(const std::vector<HingePiece>& pieces) {
  std::map<int, std::vector<Laid>> layers;
  for (const HingePiece& piece : pieces) {
    const int layer = LayerOf(piece);
    if (layer < 0 || piece.per_end == 0) continue;
    if (piece.kind == PieceKind::kScrew && piece.name.find("shank") != std::string::npos) continue;
    Laid laid{&piece, {Flatten(piece.outline, kChord_mm)}, 0.0, 0.0};
    for (const Circle& hole : piece.holes) laid.rings.push_back(Flatten(hole, kChord_mm));
    layers[layer].push_back(std::move(laid));
  }
  std::vector<Laid> all;
  double depth = 0.0;
  for (auto& [layer, in_it] : layers) {
    double thick = 0.0;
    for (Laid& laid : in_it) {
      laid.back_mm = depth;
      laid.front_mm = depth + laid.piece->z_max_mm - laid.piece->z_min_mm;
      thick = std::max(thick, laid.front_mm - laid.back_mm);
    }
    depth += std::max(thick, 2.0) + kLayer_mm;
    all.insert(all.end(), in_it.begin(), in_it.end());
  }
  return all;
}

// The edge at the back, the walls between, the face in front.
void DrawSolid(Canvas& canvas, const Oblique& to, const Laid& laid) {
  const Look& look = LookOf(*laid.piece);
  const Pen& edge = style::kFineEdge;
  canvas.Draw(to({laid.rings[0]}, laid.back_mm), FillOf(look), edge);
  const Ring& ring = laid.rings[0];
  const Vec2 along = to(Vec2::Zero(), 1.0) - to(Vec2::Zero(), 0.0);
  const std::size_t n = ring.size();
  const auto side = [&](std::size_t i) {
    const Vec2 run = to(ring[(i + 1) % n], 0.0) - to(ring[i], 0.0);
    return Cross(run, along) > 0.0;
  };
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 &a = ring[i], &b = ring[(i + 1) % n];
    canvas.Draw(PageRing({to(a, laid.back_mm), to(b, laid.back_mm), to(b, laid.front_mm),
                          to(a, laid.front_mm)}),
                FillOf(look), std::nullopt);
  }
  for (std::size_t i = 0; i < n; ++i) {  // where the walls turn away
    if (side(i) == side((i + n - 1) % n)) continue;
    canvas.Draw(PageLine({to(ring[i], laid.back_mm), to(ring[i], laid.front_mm)}), std::nullopt,
                edge);
  }
  DrawLook(canvas, to(laid.rings, laid.front_mm), look, edge);
}

// A point of the piece's front face that is in its material: where its number points to.
Vec2 PointOf(const Laid& laid) {
  const Ring& ring = laid.rings[0];
  if (laid.piece->kind != PieceKind::kArm && laid.rings.size() == 1) {
    return Middle(Bounds(ring));
  }
  return ring[ring.size() / 3];  // on its edge
}

Rect2 BoundsOf(const std::vector<Laid>& all, const Oblique& to) {
  Rect2 box;
  for (const Laid& laid : all) {
    for (const Vec2& p : laid.rings[0]) {
      box.Add(to(p, laid.back_mm));
      box.Add(to(p, laid.front_mm));
    }
  }
  return box;
}

void DrawAxes(Canvas& canvas, const Oblique& to, const std::vector<Laid>& all) {
  double depth = 0.0;
  for (const Laid& laid : all) depth = std::max(depth, laid.front_mm);
  for (const Laid& laid : all) {
    if (laid.piece->kind != PieceKind::kPin) continue;
    const Vec2 at = Middle(Bounds(laid.rings[0]));
    canvas.Draw(PageLine({to(at, -4.0), to(at, depth + 4.0)}), std::nullopt, style::kCentre);
  }
}

}  // namespace

void DrawExploded(Canvas& canvas, const std::vector<HingePiece>& pieces, const PartsList& list,
                  const Rect2& area, bool left) {
  const std::vector<Laid> all = LaidApart(pieces);
  if (all.empty()) return;
  const Rect2 room = Grown(area, -kLabels_mm);
  Oblique to{left, View{}};
  const Rect2 model = BoundsOf(all, to);
  to.view = Fitting(room, model);
  canvas.Begin("exploded");
  DrawAxes(canvas, to, all);
  for (const Laid& laid : all) DrawSolid(canvas, to, laid);
  canvas.End();
  LabelRule rule;
  rule.area = area;
  rule.clear_mm = 2.0;
  rule.leader_from_mm = 0.5;
  std::set<std::pair<int, Body>> told;  // screws of a plate
  for (const Laid& laid : all) {
    const int item = ItemOf(list, laid.piece->name);
    if (item == 0) continue;
    if (laid.piece->kind == PieceKind::kScrew && !told.insert({item, laid.piece->body}).second) {
      continue;
    }
    const Vec2 at = to(PointOf(laid), laid.front_mm);
    rule.toward = at - Middle(room);
    PlaceLabel(canvas, std::to_string(item), at, rule);
  }
}

}  // namespace lidwright
