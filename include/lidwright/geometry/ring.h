// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <optional>
#include <string>

#include "lidwright/geometry/pose.h"
#include "lidwright/geometry/vec.h"

namespace lidwright {

struct Rect2 {
  Vec2 low = Vec2::Constant(1e300);
  Vec2 high = Vec2::Constant(-1e300);
  void Add(const Vec2& p) {
    low = low.cwiseMin(p);
    high = high.cwiseMax(p);
  }
  bool Empty() const { return low.x() > high.x(); }
};

/// Signed area [mm²]: positive for a counter-clockwise ring (shoelace formula).
double SignedArea(const Ring& ring);

/// Centre of area of a ring with non-zero area.
Vec2 Centroid(const Ring& ring);

Rect2 Bounds(const Ring& ring);
Rect2 Bounds(const std::vector<Ring>& rings);

/// Is `p` inside the region of the rings (even-odd rule)? Points on an edge may go either way.
bool Contains(const std::vector<Ring>& rings, const Vec2& p);

/// Point of the segment a–b nearest to p. (Here in full: walks over a swing ask it by the million.)
inline Vec2 NearestOnSegment(const Vec2& p, const Vec2& a, const Vec2& b) {
  const Vec2 edge = b - a;
  const double length2 = edge.squaredNorm();
  if (length2 == 0.0) return a;
  const double t = std::clamp((p - a).dot(edge) / length2, 0.0, 1.0);
  return t == 1.0 ? b : Vec2(a + t * edge);
}

/// Distance from p to the boundary of the rings, negative inside the region; `nearest` (if given)
/// gets the boundary point. Plain walk over all edges.
double SignedDistance(const std::vector<Ring>& rings, const Vec2& p, Vec2* nearest = nullptr);

/// Do the segments a–b and c–d share a point? Collinear overlap counts.
bool SegmentsMeet(const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& d);

/// Do two rings share a point of their boundaries? `at` (if given) gets a place near one that they
/// share. One within the other shares none.
bool RingsMeet(const Ring& first, const Ring& second, Vec2* at = nullptr);

/// Outer rings counter-clockwise, holes clockwise: a ring inside an odd number of others is a
/// hole. Requires rings that neither cross nor touch themselves or each other.
void TurnByNesting(std::vector<Ring>* rings);

/// Why a ring cannot bound a solid (fewer than three vertices, a number that is not finite,
/// repeated points, edges that cross), with the place; nothing if it can. O(n²), n ≤ 20 000.
struct RingFault {
  std::size_t vertex = 0;  ///< where
  std::string what;        ///< such as "edge 3 crosses edge 7 at (12.5, 4)"
};
std::optional<RingFault> FaultOf(const Ring& ring);

Ring Moved(const Ring& ring, const Pose& pose);

}  // namespace lidwright
