// SPDX-License-Identifier: Apache-2.0
#include "lidwright/geometry/rings_tree.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace lidwright {
namespace {

// [count] Edges at a leaf.
constexpr std::size_t kAtLeaf = 8;
// [mm] What boxes are taken to be nearer than they are: a foot on an edge is off by the rounding of
// its coordinates, 1e-12 mm at a metre.
constexpr double kRounding_mm = 1e-9;

double Apart_mm(const Rect2& box, const Vec2& p) {
  return (box.low - p).cwiseMax(p - box.high).cwiseMax(0.0).norm();
}

std::size_t Middle(std::size_t from, std::size_t to) {
  return from + (to - from) / 2;
}

}  // namespace

RingsTree::RingsTree(const std::vector<Ring>& rings) {
  for (const Ring& ring : rings) {
    for (std::size_t i = 0, j = ring.size() - 1; i < ring.size(); j = i++) {
      edges_.push_back({ring[j], ring[i]});
    }
  }
  if (!edges_.empty()) Build(0, 0, edges_.size());
}

void RingsTree::Build(std::size_t node, std::size_t from, std::size_t to) {
  if (boxes_.size() <= node) boxes_.resize(node + 1);
  Rect2 box;
  if (to - from <= kAtLeaf) {
    for (std::size_t i = from; i < to; ++i) {
      box.Add(edges_[i].from);
      box.Add(edges_[i].to);
    }
  } else {
    const std::size_t middle = Middle(from, to);
    Build(2 * node + 1, from, middle);
    Build(2 * node + 2, middle, to);
    for (const std::size_t child : {2 * node + 1, 2 * node + 2}) {
      box.Add(boxes_[child].low);
      box.Add(boxes_[child].high);
    }
  }
  boxes_[node] = box;
}

void RingsTree::Cross(std::size_t node, std::size_t from, std::size_t to, const Vec2& p,
                      bool* inside) const {
  const Rect2& box = boxes_[node];
  if (!(box.high.y() > p.y()) || box.low.y() > p.y() || p.x() > box.high.x() + kRounding_mm) return;
  if (to - from > kAtLeaf) {
    const std::size_t middle = Middle(from, to);
    Cross(2 * node + 1, from, middle, p, inside);
    Cross(2 * node + 2, middle, to, p, inside);
    return;
  }
  for (std::size_t i = from; i < to; ++i) {
    const Vec2 &a = edges_[i].from, &b = edges_[i].to;
    if ((a.y() > p.y()) == (b.y() > p.y())) continue;
    const double x = a.x() + (p.y() - a.y()) / (b.y() - a.y()) * (b.x() - a.x());
    if (p.x() < x) *inside = !*inside;
  }
}

void RingsTree::Approach(std::size_t node, std::size_t from, std::size_t to, const Vec2& p,
                         Best* best) const {
  if (to - from <= kAtLeaf) {
    for (std::size_t i = from; i < to; ++i) {
      const Vec2 foot = NearestOnSegment(p, edges_[i].from, edges_[i].to);
      const double squared = (p - foot).squaredNorm();
      // Of several as near, the first.
      if (squared > best->squared || (squared == best->squared && i > best->edge)) continue;
      *best = {squared, std::sqrt(squared), i, foot};
    }
    return;
  }
  const std::size_t middle = Middle(from, to);
  const double first = Apart_mm(boxes_[2 * node + 1], p);
  const double second = Apart_mm(boxes_[2 * node + 2], p);
  const auto go = [&](bool to_first) {
    if ((to_first ? first : second) > best->distance + kRounding_mm) return;
    if (to_first) {
      Approach(2 * node + 1, from, middle, p, best);
    } else {
      Approach(2 * node + 2, middle, to, p, best);
    }
  };
  go(first <= second);
  go(first > second);
}

bool RingsTree::Contains(const Vec2& p) const {
  bool inside = false;
  if (!edges_.empty()) Cross(0, 0, edges_.size(), p, &inside);
  return inside;
}

double RingsTree::SignedDistance(const Vec2& p, Vec2* nearest) const {
  constexpr double kFar = std::numeric_limits<double>::infinity();
  Best best{kFar, kFar, edges_.size(), Vec2::Zero()};
  if (!edges_.empty()) Approach(0, 0, edges_.size(), p, &best);
  if (nearest && !edges_.empty()) *nearest = best.foot;
  return Contains(p) ? -best.distance : best.distance;
}

}  // namespace lidwright
