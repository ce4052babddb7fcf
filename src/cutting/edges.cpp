// SPDX-License-Identifier: Apache-2.0
#include "cutting/edges.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"

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

double Turn_rad(const Edge& edge, const Edge& next) {
  const auto heading = [](const Edge& e, double side) {
    const Vec2 chord = e.to - e.from;
    const double lean = e.Straight() ? 0.0 : 2.0 * std::atan(e.bulge);
    return std::atan2(chord.y(), chord.x()) + side * lean;
  };
  return std::remainder(heading(next, -1.0) - heading(edge, 1.0), 2.0 * kPi);
}

double Length(const Edge& edge) {
  const double chord = (edge.to - edge.from).norm(), b = edge.bulge;
  return edge.Straight() ? chord : chord * (1.0 + b * b) * std::atan(b) / b;
}

std::vector<OpenRun> RunsBetweenTabs(const CutPart& part) {
  LW_REQUIRE(!part.tabs.empty(), part.name << " has no tabs");
  const std::size_t n = part.outline.vertices.size();
  std::vector<double> start{0.0};
  for (std::size_t i = 0; i < n; ++i) start.push_back(start[i] + Length(EdgeOf(part.outline, i)));
  const double around = start[n];
  std::vector<OpenRun> runs;
  for (std::size_t t = 0; t < part.tabs.size(); ++t) {
    const double from = part.tabs[t].at_mm + part.tabs[t].width_mm;
    const bool last = t + 1 == part.tabs.size();
    const double to = last ? part.tabs[0].at_mm + around : part.tabs[t + 1].at_mm;
    OpenRun run;
    for (std::size_t k = 0; k < 2 * n; ++k) {  // a run may go past the first vertex
      const double shift = k < n ? 0.0 : around;
      const std::size_t i = k % n;
      const double low = std::max(from, start[i] + shift);
      const double high = std::min(to, start[i + 1] + shift);
      if (high - low <= kSamePoint_mm) continue;
      const Edge edge = EdgeOf(part.outline, i);
      const double length = start[i + 1] - start[i];
      const double t0 = (low - shift - start[i]) / length, t1 = (high - shift - start[i]) / length;
      const double bulge = edge.Straight() ? 0.0 : std::tan((t1 - t0) * std::atan(edge.bulge));
      if (!run.empty()) run.pop_back();  // the end that the last edge left
      run.push_back({PointAt(edge, t0), bulge});
      run.push_back({PointAt(edge, t1), 0.0});
    }
    if (!run.empty()) runs.push_back(run);
  }
  return runs;
}

std::optional<Circle> AsCircle(const Outline& outline) {
  if (outline.vertices.size() != 2) return std::nullopt;
  const OutlineVertex &a = outline.vertices[0], &b = outline.vertices[1];
  if (std::abs(a.bulge - 1.0) > 1e-12 || std::abs(b.bulge - 1.0) > 1e-12) return std::nullopt;
  return Circle{(a.point + b.point) / 2.0, (b.point - a.point).norm() / 2.0};
}

}  // namespace lidwright
