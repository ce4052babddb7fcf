// SPDX-License-Identifier: Apache-2.0
#include "lidwright/synthesis/box_assembly.h"

#include <algorithm>
#include <cmath>
#include <string>

namespace lidwright {
namespace {

// [mm] Thickness of the slabs that stand for walls and bench: more than any lid dips into them
// before it is found out.
constexpr double kFar_mm = 2000.0;

Ring Rectangle(double x0, double y0, double x1, double y1) {
  return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
}

Part Slab(std::string name, Body body, const Station& a, const Station& b,
          const std::vector<Ring>& at_a, const std::vector<Ring>& at_b, double error_mm) {
  Part part{std::move(name), body, a.z_mm, b.z_mm, {}, {}, error_mm, a.end_wall};
  for (std::size_t r = 0; r < at_a.size(); ++r) {
    auto [p, q] = MatchRings(at_a[r], at_b[r]);
    part.at_z_min.push_back(std::move(p));
    part.at_z_max.push_back(std::move(q));
  }
  return part;
}

}  // namespace

Assembly BoxAssembly(const Job& job, const Solid& solid) {
  Assembly box;
  std::vector<Part> case_slabs, lid_slabs;
  for (std::size_t i = 0; i + 1 < solid.stations.size(); ++i) {
    const Station &a = solid.stations[i], &b = solid.stations[i + 1];
    if (a.z_mm == b.z_mm) continue;
    const std::string where = a.end_wall ? " end wall" : "";
    if (!a.beyond_bay || !a.case_rings.empty()) {  // a collar goes on where the case has ended
      case_slabs.push_back(Slab("case" + where, Body::kCase, a, b, a.case_rings, b.case_rings,
                                solid.blend_error_mm + solid.case_chord_error_mm));
    }
    lid_slabs.push_back(Slab("lid" + where, Body::kLid, a, b, a.lid_rings, b.lid_rings,
                             solid.blend_error_mm + solid.chord_error_mm));
  }
  box.Add(PartKind::kCase, Member::kCase, std::move(case_slabs));
  box.Add(PartKind::kLid, Member::kLid, std::move(lid_slabs));
  box.LookAtShut(job.swing.gap_mm);
  const double half = LidEnd_mm(job, solid) + 1.0;
  const auto around = [&](PartKind kind, const std::string& name, const Ring& ring) {
    box.Add(kind, Member::kAround, MakePrism(name, Body::kCase, -half, half, {ring}));
  };
  const double bench = solid.bench_mm;
  if (std::isfinite(job.room.behind_mm)) {
    const double wall = -job.room.behind_mm;
    around(PartKind::kWall, "wall behind",
           Rectangle(wall - kFar_mm, bench - kFar_mm, wall, kFar_mm));
  }
  if (std::isfinite(job.room.above_mm)) {
    around(PartKind::kWall, "ceiling",
           Rectangle(-kFar_mm, job.room.above_mm, kFar_mm, job.room.above_mm + kFar_mm));
  }
  if (job.room.bench_below) {
    around(PartKind::kBench, "bench", Rectangle(-kFar_mm, bench - kFar_mm, kFar_mm, bench));
  }
  // All of one tree, so that what is far enough from all of them is told at once.
  std::vector<Part> contents;
  for (std::size_t i = 0; i < job.contents.size(); ++i) {
    const Contents& c = job.contents[i];
    const double low = solid.mirrored ? std::min(c.z_min_mm, -c.z_max_mm) : c.z_min_mm;
    const double high = solid.mirrored ? std::max(c.z_max_mm, -c.z_min_mm) : c.z_max_mm;
    contents.push_back(
        MakePrism("contents " + std::to_string(i + 1), Body::kCase, low, high, c.rings));
  }
  if (!contents.empty()) box.Add(PartKind::kContents, Member::kAround, std::move(contents));
  return box;
}

Limits LimitsOf(const Job& job, const Solid& solid) {
  Limits limits;
  limits.open_rad = job.swing.open_rad;
  limits.gap_from_rad = job.swing.gap_from_rad;
  limits.swing_gap_mm = limits.bench_gap_mm = job.swing.gap_mm;
  limits.arms_gap_mm = job.arms.gap_mm;
  for (const PoseWish& pose : job.poses) {
    limits.poses.push_back({pose.angle_rad, pose.at, pose.point, pose.within_mm});
  }
  limits.open_behind_x_mm = job.room.open_behind_x_mm;
  limits.mouth_free = job.room.mouth_free;
  limits.mouth_back_mm = solid.mouth_back_mm;
  limits.mouth_front_mm = solid.mouth_front_mm;
  return limits;
}

}  // namespace lidwright
