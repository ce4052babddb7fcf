// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>

#include "lidwright/geometry/vec.h"

namespace lidwright {

/// A vertex and an edge between two stations (0 and 1), the vertex with its velocity, in one frame.
struct RuledPair {
  std::array<Vec2, 2> p, v, a, b;
  bool prism = false;  ///< stations 1 equal stations 0
};

/// How near a vertex comes to an edge, for all z between the stations.
struct RuledGap {
  double bound = 0.0;     ///< holds for every z and every |τ| ≤ h
  double distance = 0.0;  ///< a distance that occurs at τ = 0, the least unless the pair is twisted
  double share = 0.0;     ///< where between the stations it occurs
  Vec2 on_vertex = Vec2::Zero(), on_edge = Vec2::Zero();
};

/// Lower bound of |p + τ v − edge| − slack over z and |τ| ≤ h.
///
/// The vectors from the edge to the vertex, over all z, lie in the convex hull of the four at the
/// stations' edge ends. With u the direction to the hull's point nearest to zero, the bound is the
/// least u·w over the four, less h |u·v| and the slack: linear in z, hence least at a station.
/// Where the hull is too wide to reach `need` (edges that twist between the stations) though the
/// motion alone would allow it, the edge or the stretch between the stations is halved, at most
/// `splits` times one within the other. What a hull holds too much is the twist times the edge's
/// length, so two halvings, one of each, take off three quarters.
RuledGap BoundRuledGap(const RuledPair& pair, double h, double slack, double need, int splits);

}  // namespace lidwright
