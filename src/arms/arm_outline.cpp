// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/arm_outline.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

// [mm] An eye that is wider than the arm by less than this gets no fillet.
constexpr double kSameWidth_mm = 1e-6;
// [mm] Arcs nearer than this along the centre line meet.
constexpr double kTouching_mm = 1e-6;
// [rad] Corners turning less than this are left as they are.
constexpr double kStraight_rad = 1e-4;

// Adds the way round an eye: the arm comes in along `heading` on its right side and leaves on its
// left side going back.
void AddEye(const Vec2& pivot, const Vec2& heading, const ArmShape& shape, double fillet,
            Outline& outline) {
  const Vec2 left = Perp(heading);
  const double half = shape.width_mm / 2.0, eye = shape.eye_mm / 2.0;
  if (eye - half < kSameWidth_mm) {
    // A half turn in two quarters: P − half·left, P + half·heading, P + half·left.
    outline.vertices.push_back({pivot - half * left, BulgeOf(kPi / 2.0)});
    outline.vertices.push_back({pivot + half * heading, BulgeOf(kPi / 2.0)});
    outline.vertices.push_back({pivot + half * left, 0.0});
    return;
  }
  const double neck = NeckLength_mm(shape, fillet);
  const double turn = std::acos((half + fillet) / (eye + fillet));  // along each fillet
  const double beside = std::atan2(half + fillet, neck);  // fillet centre seen from the pivot
  const auto on_eye = [&](double side) -> Vec2 {
    const Vec2 to = -neck * heading + side * (half + fillet) * left;
    return pivot + eye / (eye + fillet) * to;
  };
  outline.vertices.push_back({pivot - neck * heading - half * left, -BulgeOf(turn)});
  outline.vertices.push_back({on_eye(-1.0), BulgeOf(kPi - beside)});
  outline.vertices.push_back({pivot + eye * heading, BulgeOf(kPi - beside)});
  outline.vertices.push_back({on_eye(1.0), -BulgeOf(turn)});
  outline.vertices.push_back({pivot - neck * heading + half * left, 0.0});
}

// The side of the band at distance `offset` to the left of the centre line, without its ends:
// one vertex for each end of an arc.
std::vector<OutlineVertex> Side(const Centreline& line, double offset) {
  std::vector<OutlineVertex> side;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    if (line[i].bulge == 0.0) continue;
    const Arc arc = ArcOf(line[i].point, line[i + 1].point, line[i].bulge);
    // To the left of an arc that turns left is its centre.
    const double scale = 1.0 - std::copysign(1.0, line[i].bulge) * offset / arc.radius_mm;
    const Vec2 from = arc.centre + scale * (line[i].point - arc.centre);
    if (!side.empty() && i > 0 && line[i - 1].bulge != 0.0) side.pop_back();
    side.push_back({from, line[i].bulge});
    side.push_back({arc.centre + scale * (line[i + 1].point - arc.centre), 0.0});
  }
  return side;
}

}  // namespace

double NeckLength_mm(const ArmShape& shape, double fillet_mm) {
  const double outer = shape.eye_mm / 2.0 + fillet_mm, inner = shape.width_mm / 2.0 + fillet_mm;
  if (outer - inner < kSameWidth_mm) return 0.0;
  return std::sqrt(outer * outer - inner * inner);
}

double NeckFillet_mm(const ArmShape& shape) {
  return std::max(shape.inside_mm, shape.eye_mm / 4.0);
}

std::optional<Centreline> RoundedCentreline(const std::vector<Vec2>& points, double least_mm,
                                            double largest_mm, double neck_mm) {
  LW_REQUIRE(points.size() >= 2, "points=" << points.size());
  const std::size_t n = points.size();
  Centreline line{{points[0], 0.0}};
  for (std::size_t i = 1; i + 1 < n; ++i) {
    const Vec2 in = points[i] - points[i - 1], out = points[i + 1] - points[i];
    const double li = in.norm(), lo = out.norm();
    if (li < 1e-6 || lo < 1e-6) return std::nullopt;
    const double turn = std::atan2(Cross(in, out), in.dot(out));
    if (std::abs(turn) < kStraight_rad) continue;
    const double room_in = i == 1 ? li - neck_mm : li / 2.0;
    const double room_out = i + 2 == n ? lo - neck_mm : lo / 2.0;
    const double per_radius = std::tan(std::abs(turn) / 2.0);
    const double radius = std::min(largest_mm, std::min(room_in, room_out) / per_radius);
    if (radius < least_mm || std::abs(turn) > 0.95 * kPi) return std::nullopt;
    const double tangent = radius * per_radius;
    const Vec2 from = points[i] - tangent / li * in;
    // Where two corners use up the stretch between them, one arc starts where the other ends.
    if ((line.back().point - from).norm() < kTouching_mm) line.pop_back();
    line.push_back({from, BulgeOf(turn)});
    line.push_back({points[i] + tangent / lo * out, 0.0});
  }
  line.push_back({points[n - 1], 0.0});
  return line;
}

std::vector<Vec2> PointsAlong(const Centreline& line, double step_mm) {
  std::vector<Vec2> points;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    const Vec2 &a = line[i].point, &b = line[i + 1].point;
    if (line[i].bulge == 0.0) {
      const int pieces = std::max(1, static_cast<int>(std::ceil((b - a).norm() / step_mm)));
      for (int k = 0; k < pieces; ++k) points.push_back(a + (b - a) * k / pieces);
      continue;
    }
    const Arc arc = ArcOf(a, b, line[i].bulge);
    const double length = arc.radius_mm * std::abs(arc.sweep_rad);
    const int pieces = std::max(1, static_cast<int>(std::ceil(length / step_mm)));
    for (int k = 0; k < pieces; ++k) {
      const double angle = arc.start_rad + arc.sweep_rad * k / pieces;
      points.push_back(arc.centre + arc.radius_mm * Vec2(std::cos(angle), std::sin(angle)));
    }
  }
  points.push_back(line.back().point);
  return points;
}

Outline ArmOutline(const Centreline& line, const ArmShape& shape) {
  LW_REQUIRE(line.size() >= 2, "centre line with " << line.size() << " points");
  LW_REQUIRE(shape.eye_mm >= shape.width_mm, "eye " << shape.eye_mm << " width " << shape.width_mm);
  const double fillet = NeckFillet_mm(shape);
  const Vec2 start = (line[1].point - line[0].point).normalized();
  const Vec2 end = (line.back().point - line[line.size() - 2].point).normalized();
  Outline outline;
  const auto right = Side(line, -shape.width_mm / 2.0);
  outline.vertices.insert(outline.vertices.end(), right.begin(), right.end());
  AddEye(line.back().point, end, shape, fillet, outline);
  const auto left = Side(line, shape.width_mm / 2.0);
  for (std::size_t i = left.size(); i-- > 0;) {
    // Walked backwards, each edge takes its bulge from the vertex it came from, turned round.
    outline.vertices.push_back({left[i].point, i > 0 ? -left[i - 1].bulge : 0.0});
  }
  AddEye(line.front().point, -start, shape, fillet, outline);
  return outline;
}

}  // namespace lidwright
