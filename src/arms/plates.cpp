// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/plates.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/hull.h"
#include "lidwright/geometry/ring.h"

namespace lidwright {
namespace {

// [rad] Corners turning less than this are left as they are.
constexpr double kStraight_rad = 1e-6;
// [mm] Inside corners of strips get at least this radius, whatever the cutter: they do not tear.
constexpr double kLeastInside_mm = 1.0;
// [mm] Kept under the rim by what lies on the case's end wall.
constexpr double kUnderRim_mm = 0.5;
// [mm] Between what lies there and the case's walls, floor and contents, to let it in.
constexpr double kFit_mm = 0.3;
constexpr double kAngleStep_rad = 2.5 * kRadPerDeg;
// [mm] From a sunk head to the edge of its plate, and between head and a pin's hole.
constexpr double kHeadWeb_mm = 0.6;
// [1] Wood screws with pilots stay this many diameters from the wood's edges (common practice).
constexpr double kWoodEdge = 1.5;

// The closed walk round the tree with the outside on the right: at each point the rightmost line.
std::vector<Vec2> WalkRound(const StripTree& tree) {
  std::vector<std::vector<std::size_t>> next(tree.points.size());
  for (const auto& [a, b] : tree.lines) {
    next[a].push_back(b);
    next[b].push_back(a);
  }
  const auto angle = [&](std::size_t from, std::size_t to) {
    const Vec2 d = tree.points[to] - tree.points[from];
    return std::atan2(d.y(), d.x());
  };
  std::vector<Vec2> walk;
  const auto [start, second] = tree.lines.front();
  std::size_t from = start, at = second;
  do {
    walk.push_back(tree.points[from]);
    const double back = angle(at, from);
    std::size_t best = from;
    double least = 2.0 * kPi;
    for (const std::size_t to : next[at]) {
      if (to == from) continue;
      double turn = angle(at, to) - back;  // counter-clockwise from where it came
      while (turn <= 0.0) turn += 2.0 * kPi;
      while (turn > 2.0 * kPi) turn -= 2.0 * kPi;
      if (turn < least) {
        least = turn;
        best = to;
      }
    }
    from = at;
    at = best;
  } while (from != start || at != second);
  return walk;
}

// The closed walk moved outwards (to its right) by half_mm.
std::optional<Outline> Grown(const std::vector<Vec2>& walk, double half, double inside) {
  const std::size_t n = walk.size();
  std::vector<Vec2> along(n);
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 d = walk[(i + 1) % n] - walk[i];
    if (d.norm() < kSamePoint_mm) return std::nullopt;
    along[i] = d.normalized();
  }
  std::vector<double> turn(n), eaten(n, 0.0);  // eaten: of the lines at an inside corner
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 &in = along[(i + n - 1) % n], &out = along[i];
    turn[i] = std::atan2(Cross(in, out), in.dot(out));
    if (turn[i] < -kPi + 1e-9) turn[i] = kPi;  // the tip of a strip
    if (turn[i] < -kStraight_rad) {
      eaten[i] = (half + inside) * std::tan(-turn[i] / 2.0);
    }
  }
  Outline outline;
  for (std::size_t i = 0; i < n; ++i) {
    const Vec2 &in = along[(i + n - 1) % n], &out = along[i];
    const double length = (walk[(i + 1) % n] - walk[i]).norm();
    if (eaten[i] + eaten[(i + 1) % n] > length - kSamePoint_mm &&
        eaten[i] + eaten[(i + 1) % n] > 0.0) {
      return std::nullopt;
    }
    const Vec2 from = walk[i] - half * Perp(in), to = walk[i] - half * Perp(out);
    if (std::abs(turn[i]) <= kStraight_rad) continue;
    if (turn[i] > 0.0) {
      outline.vertices.push_back({from, BulgeOf(turn[i])});
      outline.vertices.push_back({to, 0.0});
    } else {
      outline.vertices.push_back({from - eaten[i] * in, BulgeOf(turn[i])});
      outline.vertices.push_back({to + eaten[i] * out, 0.0});
    }
  }
  if (outline.vertices.size() < 2) return std::nullopt;
  const Ring ring = Flatten(outline, kChordError_mm);
  if (FaultOf(ring) || SignedArea(ring) <= 0.0) return std::nullopt;
  if (SmallestInsideRadius(outline) < inside * (1.0 - 1e-9)) return std::nullopt;
  return outline;
}

}  // namespace

std::optional<Outline> StripOutline(const StripTree& tree, double half_mm, double inside_mm) {
  LW_REQUIRE(!tree.lines.empty() && half_mm > 0.0, "lines=" << tree.lines.size());
  return Grown(WalkRound(tree), half_mm, std::max(inside_mm, kLeastInside_mm));
}

std::optional<Outline> HullOutline(const std::vector<Vec2>& points, double half_mm) {
  LW_REQUIRE(half_mm > 0.0, "half=" << half_mm);
  const Ring hull = ConvexHull(points);
  if (hull.size() < 2) return std::nullopt;
  return Grown(hull, half_mm, 0.0);
}

PlateNeeds NeedsOf(const Job& job, const Hardware& hardware) {
  PlateNeeds needs;
  const double pin = hardware.bushing.pin_mm, head = hardware.screw.head_mm;
  needs.pin_edge_mm = pin * (0.5 + hardware.plate_fit.web_per_diameter);
  needs.screw_edge_mm = head / 2.0 + kHeadWeb_mm;
  needs.screw_pin_mm = hardware.spacer_out_mm / 2.0 + head / 2.0 + kHeadWeb_mm;
  needs.screw_wood_mm = kWoodEdge * hardware.screw.diameter_mm;
  needs.packing_edge_mm = hardware.screw.clearance_mm / 2.0 + job.shop.web_mm + kChordError_mm;
  needs.inside_mm = job.shop.cutter_mm / 2.0;
  return needs;
}

double EndWallBeside_mm(const Solid& solid) {
  double z = 1e300;
  for (const Station& station : solid.stations) {
    if (station.end_wall && station.z_mm > solid.bay.z_max_mm - 1e-6) z = std::min(z, station.z_mm);
  }
  LW_REQUIRE(z < 1e299, "no end wall beside the bay");
  return z;
}

double RimAtEndWall_mm(const Solid& solid) {
  double rim = 1e300;
  const double beside = EndWallBeside_mm(solid);
  for (const Station& station : solid.stations) {
    if (!station.end_wall || std::abs(station.z_mm - beside) > 1e-6) continue;
    for (const Ring& ring : station.case_rings) rim = std::min(rim, Bounds(ring).high.y());
  }
  LW_REQUIRE(rim < 1e299, "no end wall beside the bay");
  return rim;
}

CaseRoom::CaseRoom(const ArmsTask& task, const LidMotion& motion) : obstacles_(task.obstacles) {
  const double beside = EndWallBeside_mm(task.solid);
  for (const Station& station : task.solid.stations) {
    if (station.end_wall && std::abs(station.z_mm - beside) < 1e-6) {
      end_wall_ = &station.case_rings;
    }
  }
  const double open = task.job.swing.open_rad;
  const int steps = std::max(2, static_cast<int>(std::ceil(open / kAngleStep_rad)));
  for (int i = 0; i <= steps; ++i) {
    X_LC_.push_back(motion.At(open * i / steps).X_CL.Inverse());
  }
}

double CaseRoom::At(const Vec2& p) const {
  // All but the rim lies nearer than the end wall's own edges.
  double least = -SignedDistance(*end_wall_, p) - kUnderRim_mm;
  if (least < 0.0) return least;
  least = std::min(least, obstacles_.in_case.At(p) - kFit_mm);
  for (const Pose& X_LC : X_LC_) {
    if (least < 0.0) break;
    least = std::min(least, obstacles_.in_lid.At(X_LC * p));
    if (obstacles_.end_lip) least = std::min(least, obstacles_.end_lip->At(X_LC * p));
  }
  return least;
}

}  // namespace lidwright
