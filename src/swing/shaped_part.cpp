// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <utility>

#include "lidwright/base/check.h"
#include "lidwright/geometry/ring.h"
#include "lidwright/swing/clearance.h"

namespace lidwright {

ShapedPart::ShapedPart(Part part) : part_(std::move(part)) {
  LW_REQUIRE(part_.at_z_min.size() == part_.at_z_max.size() && !part_.at_z_min.empty(),
             part_.name << ": rings " << part_.at_z_min.size() << "/" << part_.at_z_max.size());
  LW_REQUIRE(part_.z_min_mm < part_.z_max_mm, part_.name << ": no width");
  for (std::size_t r = 0; r < part_.at_z_min.size(); ++r) {
    const Ring &zero = part_.at_z_min[r], &one = part_.at_z_max[r];
    const std::size_t n = zero.size();
    LW_REQUIRE(n == one.size() && n >= 3, part_.name << ": vertices " << n << "/" << one.size());
    for (std::size_t i = 0; i < n; ++i) {
      const std::size_t next = (i + 1) % n, before = (i + n - 1) % n, after = (i + 2) % n;
      edges_.push_back({zero[i], zero[next], one[i], one[next], zero[before], one[before],
                        zero[after], one[after]});
    }
  }
  nodes_.reserve(2 * edges_.size());
  Build(0, static_cast<int>(edges_.size()));
}

int ShapedPart::Build(int first, int count) {
  Rect2 box;
  for (int i = first; i < first + count; ++i) {
    const Edge& e = edges_[static_cast<std::size_t>(i)];
    for (const Vec2& p : {e.a0, e.b0, e.a1, e.b1}) box.Add(p);
  }
  Node node;
  node.centre = (box.low + box.high) / 2.0;
  for (int i = first; i < first + count; ++i) {
    const Edge& e = edges_[static_cast<std::size_t>(i)];
    for (const Vec2& p : {e.a0, e.b0, e.a1, e.b1}) {
      node.radius = std::max(node.radius, (p - node.centre).norm());
    }
  }
  node.first = first;
  node.count = count;
  if (count == 1) {
    const Edge& e = edges_[static_cast<std::size_t>(first)];
    node.shift = std::max((e.a1 - e.a0).norm(), (e.b1 - e.b0).norm()) / 2.0;
  }
  const int index = static_cast<int>(nodes_.size());
  nodes_.push_back(node);
  if (count > 1) {
    const int half = count / 2;
    const int left = Build(first, half);
    const int right = Build(first + half, count - half);
    nodes_[static_cast<std::size_t>(index)].left = left;
    nodes_[static_cast<std::size_t>(index)].right = right;
  }
  return index;
}

double ShapedPart::Reach(const Vec2& p) const {
  double reach = 0.0;
  for (const Edge& e : edges_) reach = std::max({reach, (e.a0 - p).norm(), (e.a1 - p).norm()});
  return reach;
}

std::vector<PartPair> PairsBetween(const std::vector<const ShapedPart*>& first,
                                   const std::vector<const ShapedPart*>& second) {
  std::vector<PartPair> pairs;
  for (const ShapedPart* p : first) {
    for (const ShapedPart* q : second) {
      if (p->part().body != q->part().body && Overlap(p->part(), q->part()))
        pairs.push_back({p, q});
    }
  }
  return pairs;
}

}  // namespace lidwright
