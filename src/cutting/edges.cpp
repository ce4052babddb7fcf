// SPDX-License-Identifier: Apache-2.0
#include "cutting/edges.h"

#include <cmath>

#include "lidwright/base/tolerances.h"

namespace lidwright {

bool Edge::Straight() const {
  return std::abs(bulge) * (to - from).norm() / 2.0 < kFlatArc_mm;
}

Edge EdgeOf(const Outline& outline, std::size_t i) {
  const OutlineVertex& from = outline.vertices[i];
  return {from.point, outline.vertices[(i + 1) % outline.vertices.size()].point, from.bulge};
}

Vec2 PointAt(const Edge& edge, double t) {
  const Vec2 chord = edge.to - edge.from;
  if (edge.Straight()) return edge.from + t * chord;
  const double half = 2.0 * std::atan(edge.bulge);
  const double scale = std::sin(t * half) / std::sin(half);
  return edge.from + scale * Pose::Make((t - 1.0) * half, Vec2::Zero()).Turn(chord);
}

std::optional<Circle> AsCircle(const Outline& outline) {
  if (outline.vertices.size() != 2) return std::nullopt;
  const OutlineVertex &a = outline.vertices[0], &b = outline.vertices[1];
  if (std::abs(a.bulge - 1.0) > 1e-12 || std::abs(b.bulge - 1.0) > 1e-12) return std::nullopt;
  return Circle{(a.point + b.point) / 2.0, (b.point - a.point).norm() / 2.0};
}

}  // namespace lidwright
