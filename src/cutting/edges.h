// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "lidwright/cutting/cut_part.h"
#include "lidwright/geometry/outline.h"

namespace lidwright {

/// Edge i of an outline.
struct Edge {
  Vec2 from = Vec2::Zero();
  Vec2 to = Vec2::Zero();
  double bulge = 0.0;

  /// Rises less than kFlatArc_mm over its chord.
  bool Straight() const;
};
Edge EdgeOf(const Outline& outline, std::size_t i);

/// The point of an edge after the fraction t of its turn: at turn φ = t·sweep from the start, an
/// arc's chord is c sin(φ/2) / sin(sweep/2) long and points φ/2 − sweep/2 off the whole chord c.
/// Needs neither centre nor radius, so it is as good for the flattest arc as for a full one.
Vec2 PointAt(const Edge& edge, double t);

/// How far the outline turns from the end of one edge to the start of the next, −π … π: positive
/// for a corner that stands out, negative for an inside corner.
double Turn_rad(const Edge& edge, const Edge& next);

/// [rad] Edges that turn less than this from one to the next join smoothly: rounding of arcs given
/// by bulges, as in SmallestInsideRadius.
inline constexpr double kSmoothJoint_rad = 1e-6;

/// Length of an edge [mm], from chord and bulge.
double Length(const Edge& edge);

/// What is cut of the outline between its tabs: open runs of lines and arcs, the last vertex of
/// each without a bulge, in the order of the outline. Requires tabs.
using OpenRun = std::vector<OutlineVertex>;
std::vector<OpenRun> RunsBetweenTabs(const CutPart& part);

/// The circle that an outline of two half-turn arcs is; nothing for any other outline.
std::optional<Circle> AsCircle(const Outline& outline);

}  // namespace lidwright
