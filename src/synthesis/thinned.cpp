// SPDX-License-Identifier: Apache-2.0
#include "thinned.h"

#include <cmath>

#include "lidwright/geometry/ring.h"

namespace lidwright {
namespace {

// Drops vertices while the polygon stays within the error of the ring (Douglas–Peucker on each of
// the two halves between the farthest-apart vertices).
void Thin(const Ring& ring, std::size_t first, std::size_t last, double error_mm, Ring& out) {
  const Vec2 &a = ring[first], &b = ring[last % ring.size()];
  double worst = 0.0;
  std::size_t at = first;
  for (std::size_t i = first + 1; i < last; ++i) {
    const double d = (ring[i] - NearestOnSegment(ring[i], a, b)).norm();
    if (d > worst) {
      worst = d;
      at = i;
    }
  }
  if (worst <= error_mm) {
    out.push_back(a);
    return;
  }
  Thin(ring, first, at, error_mm, out);
  Thin(ring, at, last, error_mm, out);
}

}  // namespace

std::vector<Ring> Thinned(const std::vector<Ring>& rings, double error_mm) {
  std::vector<Ring> thinned;
  for (const Ring& ring : rings) {
    std::size_t far = 0;
    for (std::size_t i = 1; i < ring.size(); ++i) {
      if ((ring[i] - ring[0]).norm() > (ring[far] - ring[0]).norm()) far = i;
    }
    Ring out;
    Thin(ring, 0, far, error_mm, out);
    Thin(ring, far, ring.size(), error_mm, out);
    if (out.size() >= 3) thinned.push_back(std::move(out));
  }
  return thinned;
}

std::vector<Vec2> PointsAlong(const std::vector<Ring>& rings, double step_mm) {
  std::vector<Vec2> points;
  for (const Ring& ring : rings) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
      const int pieces = std::max(1, static_cast<int>(std::ceil((b - a).norm() / step_mm)));
      for (int k = 0; k < pieces; ++k) points.push_back(a + (b - a) * k / pieces);
    }
  }
  return points;
}

}  // namespace lidwright
