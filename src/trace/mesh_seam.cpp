// SPDX-License-Identifier: Apache-2.0
#include "trace/mesh_seam.h"

#include <algorithm>
#include <cmath>

#include "lidwright/geometry/ring.h"

namespace lidwright {
namespace {

constexpr double kGrid_mm = 1e-4;
constexpr double kFineGrid_mm = 1e-6;
constexpr double kSmall_mm = 5.0;

double Rounded(double value, double grid) {
  const double steps = std::round(value / grid);
  return steps / std::round(1.0 / grid);  // the double nearest to the decimal
}

// Corners and edge middles of `movers` that lie in `others`.
void AddOverlap(const std::vector<Ring>& movers, const std::vector<Ring>& others, double z_mm,
                MeshSeam* seam) {
  const Rect2 box = Bounds(others);
  const auto ask = [&](const Vec2& p) {
    if ((p.array() < box.low.array()).any() || (p.array() > box.high.array()).any()) return;
    if (!Contains(others, p)) return;
    const double depth = -SignedDistance(others, p);
    if (depth <= seam->overlap_mm) return;
    seam->overlap_mm = depth;
    seam->overlap_at = p;
    seam->overlap_z_mm = z_mm;
  };
  for (const Ring& ring : movers) {
    for (std::size_t k = 0; k < ring.size(); ++k) {
      ask(ring[k]);
      ask((ring[k] + ring[(k + 1) % ring.size()]) / 2.0);
    }
  }
}

void AddGap(const std::vector<Ring>& corners, const std::vector<Ring>& edges, double z_mm,
            MeshSeam* seam) {
  for (const Ring& ring : corners) {
    for (const Vec2& p : ring) {
      for (const Ring& other : edges) {
        for (std::size_t i = 0; i < other.size(); ++i) {
          const Vec2 &a = other[i], &b = other[(i + 1) % other.size()];
          if (p.y() - seam->gap_mm > std::max(a.y(), b.y()) ||
              p.y() + seam->gap_mm < std::min(a.y(), b.y())) {
            continue;
          }
          const double d = (p - NearestOnSegment(p, a, b)).norm();
          if (d >= seam->gap_mm) continue;
          seam->gap_mm = d;
          seam->gap_z_mm = z_mm;
        }
      }
    }
  }
}

}  // namespace

MeshSeam SeamOfStations(const std::vector<StationOutline>& stations) {
  MeshSeam seam;
  seam.gap_mm = 1e300;
  for (const StationOutline& s : stations) {
    AddOverlap(s.lid_rings, s.case_rings, s.z_mm, &seam);
    AddOverlap(s.case_rings, s.lid_rings, s.z_mm, &seam);
    if (seam.gap_mm > 0.0) AddGap(s.lid_rings, s.case_rings, s.z_mm, &seam);
    if (seam.gap_mm > 0.0) AddGap(s.case_rings, s.lid_rings, s.z_mm, &seam);
  }
  if (seam.overlap_mm > 0.0) seam.gap_mm = 0.0;
  return seam;
}

LidReach ReachOfLid(const std::vector<StationOutline>& stations, double face_mm) {
  MeshSeam to_part[2];
  for (MeshSeam& seam : to_part) seam.gap_mm = 1e300;
  for (const StationOutline& s : stations) {
    if (std::abs(s.z_mm) > face_mm - 0.01) continue;
    const Rect2 box = Bounds(s.case_rings);
    const double middle = (box.low.x() + box.high.x()) / 2.0;
    for (const bool front : {false, true}) {
      std::vector<Ring> part;
      for (const Ring& ring : s.case_rings) {
        part.emplace_back();
        for (const Vec2& p : ring) {
          if ((p.x() > middle) == front) part.back().push_back(p);
        }
      }
      AddGap(s.lid_rings, part, s.z_mm, &to_part[front]);
      AddGap(part, s.lid_rings, s.z_mm, &to_part[front]);
    }
  }
  return {to_part[0].gap_mm, to_part[1].gap_mm};
}

void RoundStation(StationOutline* station) {
  std::vector<double*> heights;
  for (std::vector<Ring>* rings : {&station->case_rings, &station->lid_rings}) {
    for (Ring& ring : *rings) {
      for (Vec2& p : ring) heights.push_back(&p.y());
    }
  }
  std::sort(heights.begin(), heights.end(),
            [](const double* a, const double* b) { return *a < *b; });
  for (std::size_t i = 0; i < heights.size();) {
    std::size_t j = i;
    const double low = *heights[i];
    while (j < heights.size() && *heights[j] - low <= kRounding_mm / 2.0) ++j;
    const double level = (low + *heights[j - 1]) / 2.0;
    for (; i < j; ++i) *heights[i] = level;
  }
  for (std::vector<Ring>* rings : {&station->case_rings, &station->lid_rings}) {
    for (Ring& ring : *rings) {
      const Rect2 box = Bounds(ring);
      const double grid = (box.high - box.low).maxCoeff() < kSmall_mm ? kFineGrid_mm : kGrid_mm;
      for (Vec2& p : ring) p = {Rounded(p.x(), grid), Rounded(p.y(), grid)};
    }
  }
}

std::optional<std::string> FaultOfOutlines(const std::vector<Ring>& rings) {
  for (const Ring& ring : rings) {
    if (const auto fault = FaultOf(ring)) return fault->what;
  }
  for (std::size_t i = 0; i < rings.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      const Rect2 a = Bounds(rings[i]), b = Bounds(rings[j]);
      if ((a.low.array() > b.high.array()).any() || (b.low.array() > a.high.array()).any())
        continue;
      for (std::size_t k = 0; k < rings[i].size(); ++k) {
        for (std::size_t m = 0; m < rings[j].size(); ++m) {
          if (SegmentsMeet(rings[i][k], rings[i][(k + 1) % rings[i].size()], rings[j][m],
                           rings[j][(m + 1) % rings[j].size()])) {
            return "two outlines of one section meet";
          }
        }
      }
    }
  }
  return std::nullopt;
}

}  // namespace lidwright
