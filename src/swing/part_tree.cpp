// SPDX-License-Identifier: Apache-2.0
#include "lidwright/swing/part_tree.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <limits>
#include <numeric>
#include <utility>

#include "lidwright/base/check.h"
#include "lidwright/geometry/ring.h"

namespace lidwright {

PartTree::PartTree(Part part) : PartTree(std::vector<Part>{std::move(part)}) {}

PartTree::PartTree(std::vector<Part> parts) : parts_(std::move(parts)) {
  LW_REQUIRE(!parts_.empty(), "no parts");
  least_error_mm_ = largest_error_mm_ = parts_[0].error_mm;
  for (std::size_t i = 0; i < parts_.size(); ++i) {
    LW_REQUIRE(parts_[i].body == body(), parts_[i].name << ": on another body");
    AddEdges(static_cast<int>(i));
    least_error_mm_ = std::min(least_error_mm_, parts_[i].error_mm);
    largest_error_mm_ = std::max(largest_error_mm_, parts_[i].error_mm);
  }
  nodes_.reserve(2 * edges_.size());
  std::vector<int> order(edges_.size());
  std::iota(order.begin(), order.end(), 0);
  const int count = static_cast<int>(order.size());
  Build(order, Around(order, 0, count));
  std::vector<Edge> sorted;
  sorted.reserve(edges_.size());
  for (const int i : order) sorted.push_back(edges_[static_cast<std::size_t>(i)]);
  edges_ = std::move(sorted);
}

const Part& PartTree::part() const {
  LW_REQUIRE(parts_.size() == 1, "there are " << parts_.size() << " parts");
  return parts_[0];
}

void PartTree::AddEdges(int index) {
  const Part& part = parts_[static_cast<std::size_t>(index)];
  LW_REQUIRE(part.at_z_min.size() == part.at_z_max.size() && !part.at_z_min.empty(),
             part.name << ": rings " << part.at_z_min.size() << "/" << part.at_z_max.size());
  LW_REQUIRE(part.z_min_mm < part.z_max_mm, part.name << ": no width");
  for (std::size_t r = 0; r < part.at_z_min.size(); ++r) {
    const Ring &zero = part.at_z_min[r], &one = part.at_z_max[r];
    const std::size_t n = zero.size();
    LW_REQUIRE(n == one.size() && n >= 3, part.name << ": vertices " << n << "/" << one.size());
    for (std::size_t i = 0; i < n; ++i) {
      const std::size_t next = (i + 1) % n, before = (i + n - 1) % n, after = (i + 2) % n;
      edges_.push_back({zero[i], zero[next], one[i], one[next], zero[before], one[before],
                        zero[after], one[after], index});
    }
  }
}

// The bounding volumes of some edges. The segment runs along the line between the two corners that
// lie farthest apart in the direction in which the corners spread most.
PartTree::Node PartTree::Around(const std::vector<int>& order, int first, int count) const {
  Node node;
  node.first = first;
  node.count = count;
  node.z_min_mm = std::numeric_limits<double>::infinity();
  node.z_max_mm = -node.z_min_mm;
  const auto each = [&](const auto& look) {
    for (int i = first; i < first + count; ++i) {
      const Edge& e = edges_[static_cast<std::size_t>(order[static_cast<std::size_t>(i)])];
      look(e.a0);
      look(e.b0);
      look(e.a1);
      look(e.b1);
    }
  };
  Rect2 box;
  each([&](const Vec2& p) { box.Add(p); });
  node.centre = (box.low + box.high) / 2.0;
  double radius2 = 0.0, xx = 0.0, xy = 0.0, yy = 0.0;
  each([&](const Vec2& p) {
    const double x = p.x() - node.centre.x(), y = p.y() - node.centre.y();
    radius2 = std::max(radius2, x * x + y * y);
    xx += x * x;
    xy += x * y;
    yy += y * y;
  });
  for (int i = first; i < first + count; ++i) {
    const Part& part = parts_[static_cast<std::size_t>(
        edges_[static_cast<std::size_t>(order[static_cast<std::size_t>(i)])].part)];
    node.z_min_mm = std::min(node.z_min_mm, part.z_min_mm);
    node.z_max_mm = std::max(node.z_max_mm, part.z_max_mm);
  }
  node.radius = std::sqrt(radius2);
  const double heading = 0.5 * std::atan2(2.0 * xy, xx - yy);
  const Vec2 along(std::cos(heading), std::sin(heading)), across = Perp(along);
  double back = node.radius, fore = -node.radius, left = node.radius, right = -node.radius;
  each([&](const Vec2& p) {
    const double x = p.x() - node.centre.x(), y = p.y() - node.centre.y();
    const double on = along.x() * x + along.y() * y, off = across.x() * x + across.y() * y;
    back = std::min(back, on);
    fore = std::max(fore, on);
    left = std::min(left, off);
    right = std::max(right, off);
  });
  const Vec2 middle = node.centre + (left + right) / 2.0 * across;
  node.from = middle + back * along;
  node.to = middle + fore * along;
  double around2 = 0.0;
  each([&](const Vec2& p) {
    around2 = std::max(around2, (p - NearestOnSegment(p, node.from, node.to)).squaredNorm());
  });
  node.around = std::sqrt(around2);
  return node;
}

int PartTree::Build(std::vector<int>& order, const Node& node) {
  const int index = static_cast<int>(nodes_.size());
  nodes_.push_back(node);
  if (node.count == 1) {
    TellStretches(nodes_.back());
    return index;
  }
  // Halved along x, y or the width, whichever leaves the smaller volumes. Ties keep their order, so
  // that the tree is the same everywhere.
  const int half = node.count / 2;
  const auto begin = order.begin() + node.first, end = begin + node.count;
  const std::array<double (*)(const Edge&), 3> keys{
      [](const Edge& e) { return e.a0.x() + e.b0.x() + e.a1.x() + e.b1.x(); },
      [](const Edge& e) { return e.a0.y() + e.b0.y() + e.a1.y() + e.b1.y(); },
      [](const Edge& e) { return static_cast<double>(e.part); }};
  struct Keyed {
    double key;
    int edge;
  };
  std::vector<Keyed> sorted(static_cast<std::size_t>(node.count));
  std::vector<int> best;
  Node left, right;
  double least = 0.0;
  for (std::size_t k = 0; k < (parts_.size() > 1 ? 3U : 2U); ++k) {
    std::transform(begin, end, sorted.begin(), [&](int edge) {
      return Keyed{keys[k](edges_[static_cast<std::size_t>(edge)]), edge};
    });
    std::stable_sort(sorted.begin(), sorted.end(),
                     [](const Keyed& a, const Keyed& b) { return a.key < b.key; });
    std::transform(sorted.begin(), sorted.end(), begin, [](const Keyed& at) { return at.edge; });
    const auto size = [](const Node& of) { return of.around + 0.25 * of.radius; };
    const Node low = Around(order, node.first, half);
    if (!best.empty() && size(low) >= least) continue;
    const Node high = Around(order, node.first + half, node.count - half);
    if (!best.empty() && size(low) + size(high) >= least) continue;
    least = size(low) + size(high);
    best.assign(begin, end);
    left = low;
    right = high;
  }
  std::copy(best.begin(), best.end(), begin);
  const int left_index = Build(order, left);
  const int right_index = Build(order, right);
  Node& built = nodes_[static_cast<std::size_t>(index)];
  built.left = left_index;
  built.right = right_index;
  TellStretches(built);
  return index;
}

// A leaf fills its part's stretch, any other node what its children fill. Stretches that touch are
// one: what shares more than a point with the whole does so with one of its pieces.
void PartTree::TellStretches(Node& node) {
  node.first_stretch = static_cast<int>(stretches_.size());
  if (node.left < 0) {
    stretches_.push_back({node.z_min_mm, node.z_max_mm});
    node.stretches = 1;
    return;
  }
  const Node &left = nodes_[static_cast<std::size_t>(node.left)],
             &right = nodes_[static_cast<std::size_t>(node.right)];
  std::vector<Stretch> both;
  const auto begin = stretches_.begin();
  std::merge(begin + left.first_stretch, begin + left.first_stretch + left.stretches,
             begin + right.first_stretch, begin + right.first_stretch + right.stretches,
             std::back_inserter(both),
             [](const Stretch& a, const Stretch& b) { return a.z_min_mm < b.z_min_mm; });
  for (const Stretch& next : both) {
    const bool fresh = static_cast<int>(stretches_.size()) == node.first_stretch;
    if (fresh || next.z_min_mm > stretches_.back().z_max_mm) {
      stretches_.push_back(next);
    } else {
      stretches_.back().z_max_mm = std::max(stretches_.back().z_max_mm, next.z_max_mm);
    }
  }
  node.stretches = static_cast<int>(stretches_.size()) - node.first_stretch;
}

bool StretchesMeet(const PartTree& p_tree, const PartTree::Node& p, const PartTree& q_tree,
                   const PartTree::Node& q) {
  const PartTree::Stretch* one = p_tree.stretches().data() + p.first_stretch;
  const PartTree::Stretch* other = q_tree.stretches().data() + q.first_stretch;
  const PartTree::Stretch* const ones = one + p.stretches;
  const PartTree::Stretch* const others = other + q.stretches;
  while (one != ones && other != others) {
    if (one->z_min_mm < other->z_max_mm && other->z_min_mm < one->z_max_mm) return true;
    // What ends first meets nothing that comes later.
    if (one->z_max_mm < other->z_max_mm) {
      ++one;
    } else {
      ++other;
    }
  }
  return false;
}

bool Overlap(const PartTree& p, const PartTree& q) {
  return std::any_of(p.parts().begin(), p.parts().end(), [&](const Part& one) {
    return std::any_of(q.parts().begin(), q.parts().end(),
                       [&](const Part& other) { return Overlap(one, other); });
  });
}

std::vector<PartPair> PairsBetween(const std::vector<const PartTree*>& first,
                                   const std::vector<const PartTree*>& second) {
  std::vector<PartPair> pairs;
  for (const PartTree* p : first) {
    for (const PartTree* q : second) {
      if (p->body() != q->body() && Overlap(*p, *q)) pairs.push_back({p, q});
    }
  }
  return pairs;
}

}  // namespace lidwright
