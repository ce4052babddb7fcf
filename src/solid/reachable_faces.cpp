// SPDX-License-Identifier: Apache-2.0
#include "lidwright/solid/reachable_faces.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/solid/section.h"

namespace lidwright {
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
  const double wall = std::isnan(job.lid.wall_mm) ? job.box.back_wall_mm : job.lid.wall_mm;
  return FacesOf(SectionAt(solid, solid.bay.z_max_mm).lid_rings, -1.0, wall);
}

}  // namespace lidwright
