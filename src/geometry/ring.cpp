// SPDX-License-Identifier: Apache-2.0
#include "lidwright/geometry/ring.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "lidwright/base/check.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"

namespace lidwright {
namespace {

// Sign of the turn a→b→c, 0 when the three are in line to rounding.
int Turn(const Vec2& a, const Vec2& b, const Vec2& c) {
  const Vec2 u = b - a, v = c - a;
  const double area = Cross(u, v);
  const double rounding = kInLine * (std::abs(u.x() * v.y()) + std::abs(u.y() * v.x()));
  return area > rounding ? 1 : area < -rounding ? -1 : 0;
}

bool InBox(const Vec2& a, const Vec2& b, const Vec2& p) {
  return p.x() >= std::min(a.x(), b.x()) && p.x() <= std::max(a.x(), b.x()) &&
         p.y() >= std::min(a.y(), b.y()) && p.y() <= std::max(a.y(), b.y());
}

// A point that two meeting segments share.
Vec2 SharedPoint(const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& d) {
  if (Turn(a, b, c) == 0 && InBox(a, b, c)) return c;
  if (Turn(a, b, d) == 0 && InBox(a, b, d)) return d;
  if (Turn(c, d, a) == 0 && InBox(c, d, a)) return a;
  if (Turn(c, d, b) == 0 && InBox(c, d, b)) return b;
  return a + Cross(Vec2(c - a), Vec2(d - c)) / Cross(Vec2(b - a), Vec2(d - c)) * (b - a);
}

bool Apart(const Rect2& a, const Rect2& b) {
  return a.high.x() < b.low.x() || b.high.x() < a.low.x() || a.high.y() < b.low.y() ||
         b.high.y() < a.low.y();
}

// The boxes of a ring's edges one by one, and of so many in a row, to pass over at once what is
// nowhere near.
constexpr std::size_t kInRow = 16;
struct EdgeBoxes {
  std::vector<Rect2> single, rows;
};
EdgeBoxes BoxesOf(const Ring& ring) {
  EdgeBoxes boxes;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    Rect2 box;
    box.Add(ring[i]);
    box.Add(ring[(i + 1) % ring.size()]);
    boxes.single.push_back(box);
    if (i % kInRow == 0) boxes.rows.emplace_back();
    boxes.rows.back().Add(box.low);
    boxes.rows.back().Add(box.high);
  }
  return boxes;
}

}  // namespace

double SignedArea(const Ring& ring) {
  double twice = 0.0;
  for (std::size_t i = 0, j = ring.size() - 1; i < ring.size(); j = i++) {
    twice += Cross(ring[j], ring[i]);
  }
  return ring.empty() ? 0.0 : twice / 2.0;
}

Vec2 Centroid(const Ring& ring) {
  LW_REQUIRE(ring.size() >= 3, "size=" << ring.size());
  const Vec2 base = ring[0];
  Vec2 sum = Vec2::Zero();
  double twice = 0.0;
  for (std::size_t i = 1; i + 1 < ring.size(); ++i) {
    const Vec2 u = ring[i] - base, v = ring[i + 1] - base;
    const double area = Cross(u, v);
    sum += area * (u + v) / 3.0;
    twice += area;
  }
  LW_REQUIRE(twice != 0.0, "a ring without area");
  return base + sum / twice;
}

Rect2 Bounds(const Ring& ring) {
  Rect2 box;
  for (const Vec2& p : ring) box.Add(p);
  return box;
}

Rect2 Bounds(const std::vector<Ring>& rings) {
  Rect2 box;
  for (const Ring& ring : rings) {
    for (const Vec2& p : ring) box.Add(p);
  }
  return box;
}

bool Contains(const std::vector<Ring>& rings, const Vec2& p) {
  bool inside = false;
  for (const Ring& ring : rings) {
    for (std::size_t i = 0, j = ring.size() - 1; i < ring.size(); j = i++) {
      const Vec2 &a = ring[j], &b = ring[i];
      if ((a.y() > p.y()) == (b.y() > p.y())) continue;
      const double x = a.x() + (p.y() - a.y()) / (b.y() - a.y()) * (b.x() - a.x());
      if (p.x() < x) inside = !inside;
    }
  }
  return inside;
}

double SignedDistance(const std::vector<Ring>& rings, const Vec2& p, Vec2* nearest) {
  double best2 = std::numeric_limits<double>::infinity();
  for (const Ring& ring : rings) {
    for (std::size_t i = 0, j = ring.size() - 1; i < ring.size(); j = i++) {
      const Vec2 q = NearestOnSegment(p, ring[j], ring[i]);
      const double d2 = (p - q).squaredNorm();
      if (d2 < best2) {
        best2 = d2;
        if (nearest) *nearest = q;
      }
    }
  }
  const double distance = std::sqrt(best2);
  return Contains(rings, p) ? -distance : distance;
}

bool SegmentsMeet(const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& d) {
  const int abc = Turn(a, b, c), abd = Turn(a, b, d), cda = Turn(c, d, a), cdb = Turn(c, d, b);
  if (abc * abd < 0 && cda * cdb < 0) return true;
  return (abc == 0 && InBox(a, b, c)) || (abd == 0 && InBox(a, b, d)) ||
         (cda == 0 && InBox(c, d, a)) || (cdb == 0 && InBox(c, d, b));
}

bool RingsMeet(const Ring& first, const Ring& second, Vec2* at) {
  const Rect2 box = Bounds(second);
  for (std::size_t i = 0; i < first.size(); ++i) {
    const Vec2 &a = first[i], &b = first[(i + 1) % first.size()];
    const Vec2 low = a.cwiseMin(b), high = a.cwiseMax(b);
    if ((high.array() < box.low.array()).any() || (low.array() > box.high.array()).any()) continue;
    for (std::size_t j = 0; j < second.size(); ++j) {
      const Vec2 &c = second[j], &d = second[(j + 1) % second.size()];
      if (std::max(c.x(), d.x()) < low.x() || std::min(c.x(), d.x()) > high.x()) continue;
      if (!SegmentsMeet(a, b, c, d)) continue;
      if (at != nullptr) *at = NearestOnSegment(c, a, b);
      return true;
    }
  }
  return false;
}

void TurnByNesting(std::vector<Ring>* rings) {
  for (std::size_t i = 0; i < rings->size(); ++i) {
    Ring& ring = (*rings)[i];
    bool hole = false;
    for (std::size_t j = 0; j < rings->size(); ++j) {
      if (j != i && Contains({(*rings)[j]}, ring[0])) hole = !hole;
    }
    if ((SignedArea(ring) < 0.0) != hole) std::reverse(ring.begin(), ring.end());
  }
}

std::optional<RingFault> FaultOf(const Ring& ring) {
  const auto at = [](const Vec2& p) { return "(" + Text(p.x()) + ", " + Text(p.y()) + ")"; };
  const std::size_t n = ring.size();
  for (std::size_t i = 0; i < n; ++i) {
    if (!ring[i].allFinite()) return RingFault{i, "a coordinate is not a finite number"};
  }
  if (n < 3) return RingFault{0, "an outline needs at least three points"};
  for (std::size_t i = 0; i < n; ++i) {
    if ((ring[i] - ring[(i + 1) % n]).norm() <= kSamePoint_mm) {
      return RingFault{i, "the point " + at(ring[i]) + " is given twice in a row"};
    }
  }
  const EdgeBoxes boxes = BoxesOf(ring);
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 &a = ring[i], &b = ring[(i + 1) % n], &c = ring[(i + 2) % n];
    if (Turn(a, b, c) == 0 && (b - a).dot(c - b) < 0.0) {
      return RingFault{(i + 1) % n, "the outline doubles back on itself at " + at(b)};
    }
    for (std::size_t j = i + 2; j < n; ++j) {
      if (i == 0 && j == n - 1) continue;  // neighbours across the start
      if (j % kInRow == 0 && Apart(boxes.single[i], boxes.rows[j / kInRow])) {
        j += kInRow - 1;
        continue;
      }
      if (Apart(boxes.single[i], boxes.single[j])) continue;
      const Vec2 &p = ring[j], &q = ring[(j + 1) % n];
      if (SegmentsMeet(a, b, p, q)) {
        return RingFault{i, "the edge from " + at(a) + " crosses or touches the edge from " +
                                at(p) + " at " + at(SharedPoint(a, b, p, q))};
      }
    }
  }
  if (std::abs(SignedArea(ring)) < kNoArea_mm2) return RingFault{0, "the outline encloses no area"};
  return std::nullopt;
}

Ring Moved(const Ring& ring, const Pose& pose) {
  Ring moved;
  moved.reserve(ring.size());
  for (const Vec2& p : ring) moved.push_back(pose * p);
  return moved;
}

}  // namespace lidwright
