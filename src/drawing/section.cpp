// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>

#include "bodies.h"
#include "lidwright/base/check.h"
#include "lidwright/drawing/overlay.h"

namespace lidwright {
namespace {

std::vector<Ring> Blend(const std::vector<Ring>& a, const std::vector<Ring>& b, double share) {
  std::vector<Ring> blend;
  for (std::size_t r = 0; r < std::min(a.size(), b.size()); ++r) {
    auto [p, q] = MatchRings(a[r], b[r]);
    for (std::size_t i = 0; i < p.size(); ++i) p[i] = (1.0 - share) * p[i] + share * q[i];
    blend.push_back(std::move(p));
  }
  return blend;
}

}  // namespace

Section SectionAt(const Solid& solid, double z_mm) {
  LW_REQUIRE(!solid.stations.empty(), "no stations");
  const double z = solid.mirrored ? std::abs(z_mm) : z_mm;
  const std::vector<Station>& all = solid.stations;
  if (z <= all.front().z_mm) return {all.front().case_rings, all.front().lid_rings};
  const Station* found = nullptr;  // the station at this very z that is nearest to the middle
  for (const Station& station : all) {
    if (station.z_mm != z) continue;
    if (!found || z < 0.0) found = &station;
  }
  if (found) return {found->case_rings, found->lid_rings};
  for (std::size_t i = 0; i + 1 < all.size(); ++i) {
    const Station &a = all[i], &b = all[i + 1];
    if (z > b.z_mm || a.z_mm == b.z_mm) continue;
    const double share = (z - a.z_mm) / (b.z_mm - a.z_mm);
    return {Blend(a.case_rings, b.case_rings, share), Blend(a.lid_rings, b.lid_rings, share)};
  }
  return {all.back().case_rings, all.back().lid_rings};
}

Section EndWallSection(const Solid& solid) {
  for (const Station& station : solid.stations) {
    if (station.end_wall && station.z_mm > 0.0) return {station.case_rings, station.lid_rings};
  }
  return {};
}

double HingeSection_mm(const Solid& solid, const Hinge& hinge) {
  double low = 1e300, high = -1e300;
  for (const auto& arm : {hinge.arm_a, hinge.arm_b}) {
    if (!arm || !(arm->z_max_mm > arm->z_min_mm)) continue;
    low = std::min(low, arm->z_min_mm);
    high = std::max(high, arm->z_max_mm);
  }
  if (low > high) return (solid.bay.z_min_mm + solid.bay.z_max_mm) / 2.0;
  return (low + high) / 2.0;
}

namespace {

// The faces of hollow rings whose opening is up (`side` 1, a case) or down (−1, a lid).
ReachableFaces FacesOf(const std::vector<Ring>& rings, double side, double wall_mm) {
  Box2 box;
  for (const Ring& ring : rings) {
    for (const Vec2& p : ring) box.Add(p);
  }
  LW_REQUIRE(!box.Empty(), "no wood at the end wall");
  ReachableFaces faces{box.low.x() + wall_mm, side > 0.0 ? box.high.y() : box.low.y()};
  // The true face where the section shows it: a level line just within the back wall's rim enters
  // the wall and leaves it again. The rim is the outermost point of the back half.
  double rim = -1e300;
  for (const Ring& ring : rings) {
    for (const Vec2& p : ring) {
      if (p.x() < (box.low.x() + box.high.x()) / 2.0) rim = std::max(rim, side * p.y());
    }
  }
  if (rim > -1e300) faces.rim_y_mm = side * rim;
  std::vector<double> crossings;
  const double level = faces.rim_y_mm - side * 1e-3;
  for (const Ring& ring : rings) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
      if ((a.y() > level) == (b.y() > level)) continue;
      crossings.push_back(a.x() + (b.x() - a.x()) * (level - a.y()) / (b.y() - a.y()));
    }
  }
  std::sort(crossings.begin(), crossings.end());
  if (crossings.size() >= 4) faces.back_x_mm = crossings[1];
  return faces;
}

}  // namespace

ReachableFaces FacesAtEnd(const Job& job, const Solid& solid) {
  return FacesOf(SectionAt(solid, solid.bay.z_max_mm).case_rings, 1.0, job.box.back_wall_mm);
}

ReachableFaces LidFacesAtEnd(const Job& job, const Solid& solid) {
  return FacesOf(SectionAt(solid, solid.bay.z_max_mm).lid_rings, -1.0, job.lid.wall_mm);
}

}  // namespace lidwright
