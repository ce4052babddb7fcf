// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/arm_route.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace lidwright {
namespace {

// [mm] Clearance beyond the need that is still worth a detour.
constexpr double kComfort_mm = 2.5;
constexpr double kSampling_mm = 2.0;
constexpr double kLargestRadius_mm = 80.0;
// [–] Millimetres of clearance that a millimetre of length is worth.
constexpr double kLengthPrice = 0.04;
constexpr int kMostCorners = 4;
// [mm] An arm leaves its eyes straight for at least this long.
constexpr double kLeastNeck_mm = 2.0;

class Route {
 public:
  Route(const ArmRoom& room, const ArmShape& shape, double need_mm)
      : room_(room), need_(shape.width_mm / 2.0 + need_mm) {
    neck_ = std::max(kLeastNeck_mm, NeckLength_mm(shape, NeckFillet_mm(shape)));
    least_ = shape.width_mm / 2.0 + std::max(shape.inside_mm, 0.5);
  }

  double need() const { return need_; }

  // Least clearance beyond the need along the rounded line; −infinity if it cannot be rounded.
  double Slack(const std::vector<Vec2>& points) const {
    const auto line = RoundedCentreline(points, least_, kLargestRadius_mm, neck_);
    if (!line) return -std::numeric_limits<double>::infinity();
    double slack = std::numeric_limits<double>::infinity();
    for (const Vec2& p : PointsAlong(*line, kSampling_mm)) {
      slack = std::min(slack, room_.At(p) - need());
    }
    return slack;
  }

  double Worth(const std::vector<Vec2>& points) const {
    const double slack = Slack(points);
    if (!std::isfinite(slack)) return slack;
    double length = 0.0;
    for (std::size_t i = 0; i + 1 < points.size(); ++i)
      length += (points[i + 1] - points[i]).norm();
    return std::min(slack, kComfort_mm) + 3.0 * std::min(slack, 0.0) - kLengthPrice * length;
  }

  bool Sees(const Vec2& a, const Vec2& b) const {
    const int pieces = std::max(1, static_cast<int>(std::ceil((b - a).norm() / kSampling_mm)));
    for (int k = 0; k <= pieces; ++k) {
      if (room_.At(a + (b - a) * k / pieces) < need() - 0.5) return false;
    }
    return true;
  }

  std::vector<Vec2> Taut(const std::vector<Vec2>& way) const {
    std::vector<Vec2> taut{way.front()};
    for (std::size_t at = 0; at + 1 < way.size();) {
      std::size_t next = way.size() - 1;
      while (next > at + 1 && !Sees(way[at], way[next])) --next;
      taut.push_back(way[next]);
      at = next;
    }
    return taut;
  }

  // Moves each inner corner about, in steps that shrink, as long as the line gets better.
  void Improve(std::vector<Vec2>& points) const {
    double worth = Worth(points);
    for (double step = 8.0; step >= 0.5; step /= 2.0) {
      bool better = true;
      for (int round = 0; better && round < 12; ++round) {
        better = false;
        for (std::size_t i = 1; i + 1 < points.size(); ++i) {
          for (const Vec2& to : {Vec2(1, 0), Vec2(-1, 0), Vec2(0, 1), Vec2(0, -1), Vec2(1, 1),
                                 Vec2(-1, 1), Vec2(1, -1), Vec2(-1, -1)}) {
            const Vec2 kept = points[i];
            points[i] += step * to;
            const double now = Worth(points);
            if (now > worth) {
              worth = now;
              better = true;
            } else {
              points[i] = kept;
            }
          }
        }
      }
    }
  }

  std::optional<Centreline> Rounded(const std::vector<Vec2>& points) const {
    return RoundedCentreline(points, least_, kLargestRadius_mm, neck_);
  }

 private:
  const ArmRoom& room_;
  double need_, neck_ = 0.0, least_ = 0.0;
};

}  // namespace

std::optional<Centreline> RouteArm(const ArmRoom& room, const ArmShape& shape, double need_mm) {
  const Route route(room, shape, need_mm);
  const std::vector<Vec2> straight{room.case_pivot(), room.lid_pivot()};
  if (route.Slack(straight) >= 0.0) return route.Rounded(straight);
  const std::vector<Vec2> way = room.ShortestWay(route.need() - 0.3, kComfort_mm);
  if (way.empty()) return std::nullopt;
  std::vector<Vec2> points = route.Taut(way);
  if (points.size() == 2) points.insert(points.begin() + 1, (points[0] + points[1]) / 2.0);
  // The fewest corners that do: drop each in turn while a clear line is left.
  route.Improve(points);
  for (bool dropped = true; dropped && points.size() > 3;) {
    dropped = false;
    for (std::size_t i = 1; i + 1 < points.size() && !dropped; ++i) {
      std::vector<Vec2> fewer = points;
      fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
      route.Improve(fewer);
      if (route.Slack(fewer) >= std::min(0.0, route.Slack(points))) {
        points = fewer;
        dropped = true;
      }
    }
  }
  if (points.size() > kMostCorners + 2 || route.Slack(points) < -0.2) return std::nullopt;
  return route.Rounded(points);
}

}  // namespace lidwright
