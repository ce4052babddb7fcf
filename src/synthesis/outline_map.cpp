// SPDX-License-Identifier: Apache-2.0
#include "outline_map.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "lidwright/base/check.h"

namespace lidwright {
OutlineMap::OutlineMap(const std::vector<Ring>& rings) {
  for (const Ring& ring : rings) {
    const std::size_t n = ring.size(), first = edges_.size();
    for (std::size_t i = 0; i < n; ++i) {
      const Vec2 along = ring[(i + 1) % n] - ring[i];
      const double length2 = along.squaredNorm();
      LW_REQUIRE(length2 > 0.0, "an edge without length at vertex " << i);
      edges_.push_back({ring[i], along, 1.0 / length2, -Perp(along) / std::sqrt(length2),
                        Vec2::Zero(), Vec2::Zero()});
      box_.Add(ring[i]);
    }
    // The nearer side of a corner is told by the sum of its edges' normals (Bærentzen and Aanæs
    // 2005, from memory).
    for (std::size_t i = 0; i < n; ++i) {
      Edge &before = edges_[first + (i + n - 1) % n], &edge = edges_[first + i];
      edge.at_from = before.at_to = before.normal + edge.normal;
    }
  }
  LW_REQUIRE(!edges_.empty(), "no outline");
  low_ = box_.low - Vec2::Constant(kReach_mm);
  const Vec2 size = (box_.high - box_.low + Vec2::Constant(2.0 * kReach_mm)) / kCell_mm;
  columns_ = static_cast<int>(std::ceil(size.x()));
  rows_ = static_cast<int>(std::ceil(size.y()));
  cells_.resize(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_));
  std::vector<std::uint32_t> all(edges_.size());
  std::iota(all.begin(), all.end(), 0u);
  std::vector<double> apart(edges_.size());
  for (int row = 0; row < rows_; ++row) {
    for (int column = 0; column < columns_; ++column) {
      const Vec2 middle = low_ + kCell_mm * Vec2(column + 0.5, row + 0.5);
      double least = std::numeric_limits<double>::infinity();
      for (std::size_t i = 0; i < edges_.size(); ++i) {
        const Edge& e = edges_[i];
        const Vec2 to = middle - e.from;
        const double t = std::clamp(to.dot(e.along) * e.inverse2, 0.0, 1.0);
        apart[i] = (to - t * e.along).norm();
        least = std::min(least, apart[i]);
      }
      Cell& cell = cells_[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
                          static_cast<std::size_t>(column)];
      cell.first = static_cast<std::uint32_t>(candidates_.size());
      for (std::size_t i = 0; i < edges_.size(); ++i) {
        if (apart[i] <= least + 2.0 * kHalfDiagonal_mm) candidates_.push_back(all[i]);
      }
      cell.count = static_cast<std::uint32_t>(candidates_.size()) - cell.first;
      cell.middle =
          static_cast<float>(Among(middle, candidates_.data() + cell.first, cell.count).distance);
    }
  }
}

OutlineMap::Query OutlineMap::Among(const Vec2& p, const std::uint32_t* edges,
                                    std::size_t count) const {
  double best2 = std::numeric_limits<double>::infinity(), share = 0.0;
  const Edge* nearest = nullptr;
  Vec2 from_it = Vec2::Zero();
  for (std::size_t k = 0; k < count; ++k) {
    const Edge& e = edges_[edges[k]];
    const Vec2 to = p - e.from;
    const double t = std::clamp(to.dot(e.along) * e.inverse2, 0.0, 1.0);
    const Vec2 off = to - t * e.along;
    const double d2 = off.squaredNorm();
    if (d2 >= best2) continue;
    best2 = d2;
    nearest = &e;
    share = t;
    from_it = off;
  }
  const Vec2& outwards = share <= 0.0   ? nearest->at_from
                         : share >= 1.0 ? nearest->at_to
                                        : nearest->normal;
  const double sign = from_it.dot(outwards) >= 0.0 ? 1.0 : -1.0;
  const double distance = std::sqrt(best2);
  // On the outline itself the gradient is the outward normal.
  return {sign * distance, distance > 1e-9 ? Vec2(sign / distance * from_it) : nearest->normal};
}

OutlineMap::Query OutlineMap::At(const Vec2& p) const {
  const Vec2 at = (p - low_) / kCell_mm;
  if (at.x() >= 0.0 && at.y() >= 0.0 && at.x() < columns_ && at.y() < rows_) {
    const Cell& cell = cells_[Index(at)];
    return Among(p, candidates_.data() + cell.first, cell.count);
  }
  const Vec2 off = p - p.cwiseMax(box_.low).cwiseMin(box_.high);
  const double distance = off.norm();
  return {distance, off / distance};
}

}  // namespace lidwright
