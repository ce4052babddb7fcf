// SPDX-License-Identifier: Apache-2.0
#include "radii.h"

#include <algorithm>
#include <cmath>

namespace lidwright {
namespace {

constexpr std::size_t kMostRadii = 6;
constexpr double kAlongArc = 0.35;  // where on an arc its radius is pointed at

}  // namespace

std::vector<Radius> RadiiOf(const Outline& outline) {
  struct Found {
    Radius radius;
    double length;
  };
  std::vector<Found> found;
  const auto& vertices = outline.vertices;
  for (std::size_t i = 0; i < vertices.size(); ++i) {
    const Vec2 &a = vertices[i].point, &b = vertices[(i + 1) % vertices.size()].point;
    if (vertices[i].bulge == 0.0 || a == b) continue;
    const Arc arc = ArcOf(a, b, vertices[i].bulge);
    const double angle = arc.start_rad + kAlongArc * arc.sweep_rad;
    const Vec2 out(std::cos(angle), std::sin(angle));
    const Found one{{arc.radius_mm, arc.centre + arc.radius_mm * out, out, arc.sweep_rad < 0.0},
                    std::abs(arc.sweep_rad) * arc.radius_mm};
    const auto same = std::find_if(found.begin(), found.end(), [&](const Found& f) {
      return std::abs(f.radius.radius_mm - arc.radius_mm) < 0.02 &&
             f.radius.inside == one.radius.inside;
    });
    if (same == found.end()) {
      found.push_back(one);
    } else if (same->length < one.length) {
      *same = one;
    }
  }
  std::stable_sort(found.begin(), found.end(), [](const Found& a, const Found& b) {
    return a.radius.inside != b.radius.inside ? a.radius.inside : a.length > b.length;
  });
  std::vector<Radius> radii;
  for (const Found& f : found) {
    if (radii.size() < kMostRadii) radii.push_back(f.radius);
  }
  return radii;
}

}  // namespace lidwright
