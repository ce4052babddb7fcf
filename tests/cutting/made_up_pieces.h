// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>
#include <string>
#include <vector>

#include "../drawing/made_up_design.h"
#include "lidwright/arms/hinge_set.h"

/// A whole set of pieces put together by hand round the made-up hinges, to be cut and drawn. Shapes
/// are plausible, nothing is certified.
namespace lidwright::testing {

/// A polygon with all corners rounded, inside ones too. Requires edges longer than two tangents.
inline Outline RoundedOutline(const Ring& ring, double radius) {
  Outline outline;
  const std::size_t n = ring.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 u = (ring[i] - ring[(i + n - 1) % n]).normalized();
    const Vec2 v = (ring[(i + 1) % n] - ring[i]).normalized();
    const double turn = std::atan2(Cross(u, v), u.dot(v));
    const double tangent = radius * std::tan(std::abs(turn) / 2.0);
    outline.vertices.push_back({ring[i] - tangent * u, std::tan(turn / 4.0)});
    outline.vertices.push_back({ring[i] + tangent * v, 0.0});
  }
  return outline;
}

inline HingePiece FlatPiece(const std::string& name, PieceKind kind, Body body,
                            const Outline& outline, double z_min, double z_max,
                            const std::string& material) {
  HingePiece piece;
  piece.name = name;
  piece.kind = kind;
  piece.body = body;
  piece.outline = outline;
  piece.z_min_mm = z_min;
  piece.z_max_mm = z_max;
  piece.material = material;
  return piece;
}

inline HingePiece TurnedPiece(const std::string& name, PieceKind kind, Body body, const Vec2& at,
                              double diameter, double bore, double z_min, double z_max,
                              const std::string& material) {
  HingePiece piece =
      FlatPiece(name, kind, body, AsOutline({at, diameter / 2.0}), z_min, z_max, material);
  if (bore > 0.0) piece.holes.push_back({at, bore / 2.0});
  piece.cut_from_sheet = false;
  return piece;
}

/// Arms, plates, packing, pins with bushings, spacers and heads, screws, stop and jig.
inline std::vector<HingePiece> MadeUpPieces(const Design& design) {
  const Hinge& hinge = design.hinges.at(0);
  const Job& job = design.job;
  const Pivots& p = hinge.pivots;
  const double wall = design.solid.bay.z_max_mm, plate = wall - 3.0;
  std::vector<HingePiece> pieces;
  for (const auto& [arm, body] :
       {std::pair(&*hinge.arm_a, Body::kArmA), {&*hinge.arm_b, Body::kArmB}}) {
    HingePiece piece = FlatPiece(body == Body::kArmA ? "arm A" : "arm B", PieceKind::kArm, body,
                                 arm->outline, arm->z_min_mm, arm->z_max_mm, job.arms.material);
    piece.holes = {arm->case_hole, arm->lid_hole};
    pieces.push_back(piece);
  }
  // As near to the back wall as the pins' edges let it, with room for screws before them.
  const Vec2 low = p.case_a.cwiseMin(p.case_b) - Vec2(4.5, 9.0);
  const Vec2 high = p.case_a.cwiseMax(p.case_b) + Vec2(20.0, 9.0);
  const Vec2 g = (low + high) / 2.0, gd = (high - low) / 2.0, l = (p.lid_a + p.lid_b) / 2.0;
  HingePiece ground = FlatPiece(
      "case plate", PieceKind::kCasePlate, Body::kCase,
      RoundedOutline({g - gd, g + Vec2(gd.x(), -gd.y()), g + gd, g + Vec2(-gd.x(), gd.y())}, 4.0),
      plate, wall, "brass");
  ground.holes = {{p.case_a, 1.6}, {p.case_b, 1.6}};
  ground.drills = {{g + Vec2(gd.x() - 5.0, gd.y() - 4.0), 1.25},
                   {g + Vec2(gd.x() - 5.0, 4.0 - gd.y()), 1.25}};
  const Vec2 ld = (p.lid_b - p.lid_a).cwiseAbs() / 2.0 + Vec2(10.0, 9.0);
  HingePiece lid =
      FlatPiece("lid plate", PieceKind::kLidPlate, Body::kLid,
                RoundedOutline({l - ld, l + Vec2(ld.x(), -ld.y()), l + Vec2(ld.x(), ld.y() + 14.0),
                                l + Vec2(ld.x() - 16.0, ld.y() + 14.0),
                                l + Vec2(ld.x() - 16.0, ld.y()), l + Vec2(-ld.x(), ld.y())},
                               1.9),
                plate - 1.0, plate + 1.0, "brass");
  lid.holes = {{p.lid_a, 1.6}, {p.lid_b, 1.6}};
  lid.drills = {{l + Vec2(ld.x() - 8.0, ld.y() + 8.0), 1.25}};
  pieces.push_back(ground);
  pieces.push_back(lid);
  const struct {
    const char* name;
    Vec2 at;
    Body holds;
    const Arm* arm;
  } pins[] = {{"case pin of arm A", p.case_a, Body::kCase, &*hinge.arm_a},
              {"case pin of arm B", p.case_b, Body::kCase, &*hinge.arm_b},
              {"lid pin of arm A", p.lid_a, Body::kLid, &*hinge.arm_a},
              {"lid pin of arm B", p.lid_b, Body::kLid, &*hinge.arm_b}};
  for (const auto& pin : pins) {
    const std::string name = pin.name;
    const double from = pin.arm->z_min_mm, to = pin.arm->z_max_mm;
    const Body arm = pin.arm == &*hinge.arm_a ? Body::kArmA : Body::kArmB;
    const double foot = pin.holds == Body::kCase ? ground.z_max_mm : lid.z_max_mm;
    const double face = pin.holds == Body::kCase ? ground.z_min_mm : lid.z_min_mm;
    HingePiece rod =
        TurnedPiece(name, PieceKind::kPin, pin.holds, pin.at, 3.2, 0.0, from - 1.0, foot, "steel");
    rod.note = "3.2 mm rod";
    rod.joined = arm;
    pieces.push_back(rod);
    pieces.push_back(TurnedPiece("bushing on " + name, PieceKind::kBushing, arm, pin.at,
                                 job.arms.bushing_mm, 3.2, from, to, "brass"));
    if (face > to + 0.01) {
      pieces.push_back(TurnedPiece("spacer on " + name, PieceKind::kSpacer, pin.holds, pin.at, 7.0,
                                   3.3, to, face, "brass"));
    }
    pieces.push_back(TurnedPiece("head of " + name, PieceKind::kWasher, pin.holds, pin.at, 7.0, 3.2,
                                 from - 1.0, from, "brass"));
  }
  Rect2 all;
  for (const Vec2& at : {p.case_a, p.case_b, p.lid_a, p.lid_b}) {
    all.Add(at - Vec2(14.0, 14.0));
    all.Add(at + Vec2(14.0, 14.0));
  }
  const Ring jig = {all.low, {all.high.x(), all.low.y()}, all.high, {all.low.x(), all.high.y()}};
  HingePiece plate_jig =
      FlatPiece("closed-position jig", PieceKind::kJig, Body::kCase, RoundedOutline(jig, 3.0),
                wall - 9.0, wall - 3.0, "birch plywood");
  plate_jig.holes = {{p.case_a, 1.625}, {p.case_b, 1.625}, {p.lid_a, 1.625}, {p.lid_b, 1.625}};
  pieces.push_back(plate_jig);
  return pieces;
}

}  // namespace lidwright::testing
