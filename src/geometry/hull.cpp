// SPDX-License-Identifier: Apache-2.0
#include "lidwright/geometry/hull.h"

#include <algorithm>

namespace lidwright {

Ring ConvexHull(std::vector<Vec2> points) {
  std::sort(points.begin(), points.end(), [](const Vec2& a, const Vec2& b) {
    return a.x() < b.x() || (a.x() == b.x() && a.y() < b.y());
  });
  points.erase(std::unique(points.begin(), points.end()), points.end());
  if (points.size() < 3) return points;
  Ring hull;
  const auto chain = [&](auto begin, auto end) {
    const std::size_t base = hull.size();
    for (auto it = begin; it != end; ++it) {
      while (hull.size() >= base + 2 &&
             Cross(Vec2(hull.back() - hull[hull.size() - 2]), Vec2(*it - hull.back())) <= 0.0) {
        hull.pop_back();
      }
      hull.push_back(*it);
    }
    hull.pop_back();
  };
  chain(points.begin(), points.end());
  chain(points.rbegin(), points.rend());
  return hull;
}

}  // namespace lidwright
