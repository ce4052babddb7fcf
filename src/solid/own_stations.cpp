// SPDX-License-Identifier: Apache-2.0
#include "own_stations.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/hull.h"

namespace lidwright {
namespace {

// Fills the mouth of an outline, counter-clockwise, that opens upwards: the pocket of its convex
// hull that faces up, from the inner edge of one rim to that of the other. Rims, and hollows
// anywhere else, stay as they are. An outline without such a pocket comes back unchanged.
Ring MouthFilled(const Ring& ring) {
  const Ring hull = ConvexHull(ring);
  const std::size_t n = ring.size();
  const auto on_hull = [&](const Vec2& p) {
    return std::find(hull.begin(), hull.end(), p) != hull.end();
  };
  // The pocket: between two corners of the hull, from the front to the back, the deepest one.
  std::size_t first = n, count = 0;
  double deepest = kBlendError_mm;
  for (std::size_t i = 0; i < n; ++i) {
    if (!on_hull(ring[i])) continue;
    std::size_t k = 1;
    double low = ring[i].y();
    while (k < n && !on_hull(ring[(i + k) % n])) low = std::min(low, ring[(i + k++) % n].y());
    const Vec2 along = ring[(i + k) % n] - ring[i];
    const double depth = std::min(ring[i].y(), ring[(i + k) % n].y()) - low;
    if (k == 1 || -along.x() < std::abs(along.y()) || depth <= deepest) continue;
    deepest = depth;
    first = i;
    count = k;
  }
  if (first == n) return ring;
  // From either side the rim ends where the outline first goes down more steeply than 45°.
  const auto at = [&](std::size_t k) -> const Vec2& { return ring[(first + k) % n]; };
  const auto falls = [](const Vec2& from, const Vec2& to) {
    return from.y() - to.y() > std::abs(from.x() - to.x());
  };
  std::size_t from = 0, to = count;
  while (from + 1 < count && !falls(at(from), at(from + 1))) ++from;
  while (to > from + 1 && !falls(at(to), at(to - 1))) --to;
  if (from + 1 == count || to == from + 1) from = 0, to = count;  // a dish without walls
  Ring filled;
  for (std::size_t k = to; k <= n + from; ++k) filled.push_back(at(k));
  return filled;
}

std::vector<Ring> Filled(const std::vector<Ring>& rings, bool opens_up) {
  std::vector<Ring> filled;
  for (Ring ring : rings) {
    if (SignedArea(ring) < 0.0) continue;  // a hole
    const auto turn = [&ring] {            // by half a turn, which keeps the sense
      for (Vec2& p : ring) p = -p;
    };
    if (!opens_up) turn();
    ring = MouthFilled(ring);
    if (!opens_up) turn();
    filled.push_back(std::move(ring));
  }
  return filled;
}

std::vector<Ring> Blend(const std::vector<Ring>& a, const std::vector<Ring>& b, double share) {
  std::vector<Ring> blend;
  for (std::size_t r = 0; r < a.size(); ++r) {
    auto [p, q] = MatchRings(a[r], b[r]);
    for (std::size_t i = 0; i < p.size(); ++i) p[i] = (1.0 - share) * p[i] + share * q[i];
    blend.push_back(std::move(p));
  }
  return blend;
}

// The section at z between the stations, or the nearest one beyond them; at a step the one before
// it, or with `beyond` the one after it.
Station SectionAt(const std::vector<Station>& stations, double z, bool beyond = false) {
  if (z <= stations.front().z_mm) {
    Station first = stations.front();
    first.z_mm = z;
    return first;
  }
  for (std::size_t i = 0; i + 1 < stations.size(); ++i) {
    const Station &a = stations[i], &b = stations[i + 1];
    const bool step_here = beyond && i + 2 < stations.size() && stations[i + 2].z_mm == z;
    if (z > b.z_mm || a.z_mm == b.z_mm || step_here) continue;
    const double share = (z - a.z_mm) / (b.z_mm - a.z_mm);
    return {z, false, Blend(a.case_rings, b.case_rings, share),
            Blend(a.lid_rings, b.lid_rings, share)};
  }
  Station last = stations.back();
  last.z_mm = z;
  return last;
}

Station Filled(Station station) {
  station.end_wall = true;
  station.case_rings = Filled(station.case_rings, true);
  station.lid_rings = Filled(station.lid_rings, false);
  return station;
}

}  // namespace

std::pair<Ring, Ring> MatchRings(const Ring& a, const Ring& b) {
  if (a.size() == b.size()) return {a, b};
  const auto turned = [](const Ring& ring) {  // to start at its lower back corner
    const auto first = std::min_element(ring.begin(), ring.end(), [](const Vec2& p, const Vec2& q) {
      return p.x() + p.y() < q.x() + q.y();
    });
    Ring out(first, ring.end());
    out.insert(out.end(), ring.begin(), first);
    return out;
  };
  const Ring p = turned(a), q = turned(b);
  const auto shares = [](const Ring& ring) {
    std::vector<double> share{0.0};
    for (std::size_t i = 0; i < ring.size(); ++i) {
      share.push_back(share.back() + (ring[(i + 1) % ring.size()] - ring[i]).norm());
    }
    for (double& s : share) s /= share.back();
    share.back() = 1.0;
    return share;
  };
  const std::vector<double> sp = shares(p), sq = shares(q);
  std::set<double> cuts(sp.begin(), sp.end());
  cuts.insert(sq.begin(), sq.end());
  cuts.erase(1.0);
  const auto at = [](const Ring& ring, const std::vector<double>& share, double s) -> Vec2 {
    const auto above = std::upper_bound(share.begin(), share.end() - 1, s);
    const auto i = static_cast<std::size_t>(above - share.begin()) - 1;
    const double width = share[i + 1] - share[i];
    const double t = width > 0.0 ? (s - share[i]) / width : 0.0;
    const Vec2 &from = ring[i], &to = ring[(i + 1) % ring.size()];
    return from + t * (to - from);
  };
  std::pair<Ring, Ring> matched;
  for (const double s : cuts) {
    matched.first.push_back(at(p, sp, s));
    matched.second.push_back(at(q, sq, s));
  }
  return matched;
}

void OwnStations(const Job& job, Solid& solid) {
  std::vector<Station> given;
  for (const StationOutline& s : job.stations) {
    given.push_back({s.z_mm, false, s.case_rings, s.lid_rings});
  }
  LW_REQUIRE(given.size() >= 2, "stations=" << given.size());
  solid.blend_error_mm = job.stations_error_mm;
  const double half = job.case_form.width_mm / 2.0;
  const double face = half - std::max(job.case_form.end_wall_mm, job.lid.wall_mm);
  solid.mirrored = given.front().z_mm >= 0.0;
  const auto end = [&](double from, double to) {
    solid.stations.push_back(Filled(SectionAt(given, from, true)));
    for (const Station& station : given) {
      if (station.z_mm > from && station.z_mm < to) solid.stations.push_back(Filled(station));
    }
    solid.stations.push_back(Filled(SectionAt(given, to)));
  };
  if (!solid.mirrored) end(-half, -face);
  const double start = solid.mirrored ? 0.0 : -face;
  solid.stations.push_back(SectionAt(given, start, true));
  const double bay = face - job.bay.width_mm;  // the bay's inner limit gets a station of its own
  std::vector<double> extra{bay};
  if (!solid.mirrored) extra.insert(extra.begin(), -bay);
  std::size_t next = 0;
  for (const Station& station : given) {
    while (next < extra.size() && extra[next] < station.z_mm) {
      if (extra[next] > solid.stations.back().z_mm) {
        solid.stations.push_back(SectionAt(given, extra[next]));
      }
      ++next;
    }
    if (station.z_mm > start && station.z_mm < face) solid.stations.push_back(station);
  }
  solid.stations.push_back(SectionAt(given, face));
  end(face, half);
}

}  // namespace lidwright
