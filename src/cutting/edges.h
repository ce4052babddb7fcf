// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>

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

/// The circle that an outline of two half-turn arcs is; nothing for any other outline.
std::optional<Circle> AsCircle(const Outline& outline);

}  // namespace lidwright
