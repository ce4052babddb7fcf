// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <vector>

#include "lidwright/geometry/ring.h"

namespace lidwright {

/// Rings to which many points' distances are asked: the edges in a tree of boxes, in the order in
/// which they follow each other. Each answer is that of the plain walk over all edges, to the last
/// bit; where edges are short it costs some log n of them.
class RingsTree {
 public:
  explicit RingsTree(const std::vector<Ring>& rings);

  bool empty() const { return edges_.empty(); }
  /// As Contains(rings, p).
  bool Contains(const Vec2& p) const;
  /// As SignedDistance(rings, p, nearest).
  double SignedDistance(const Vec2& p, Vec2* nearest = nullptr) const;

 private:
  struct Edge {
    Vec2 from, to;
  };
  struct Best {
    double squared, distance;
    std::size_t edge;
    Vec2 foot;
  };
  // A node has the edges [from, to), its children are 2 node + 1 and 2 node + 2 with half each.
  void Build(std::size_t node, std::size_t from, std::size_t to);
  void Cross(std::size_t node, std::size_t from, std::size_t to, const Vec2& p, bool* inside) const;
  void Approach(std::size_t node, std::size_t from, std::size_t to, const Vec2& p,
                Best* best) const;

  std::vector<Edge> edges_;
  std::vector<Rect2> boxes_;
};

}  // namespace lidwright
