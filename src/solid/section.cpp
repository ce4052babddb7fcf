// SPDX-License-Identifier: Apache-2.0
#include "lidwright/solid/section.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"

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

}  // namespace lidwright
