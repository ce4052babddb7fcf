// SPDX-License-Identifier: Apache-2.0
#include "lidwright/solid/reachable_faces.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "lidwright/base/check.h"
#include "lidwright/geometry/ring.h"
#include "lidwright/solid/section.h"

namespace lidwright {
namespace {

// [mm] Levels are looked at from the rim inwards in these steps, this far: past a lip or a collar.
constexpr double kLevel_mm = 0.05;
constexpr double kDeepest_mm = 60.0;
// [1] A level that cuts this share of the wall shows its true inner face.
constexpr double kWhole = 0.995;
// [mm] So far within the end wall its own section is, and beside a face what stands next to it.
constexpr double kWithin_mm = 0.01;
// [mm] A lip reaches farther than this.
constexpr double kLip_mm = 0.2;
// [mm] A face's corner lies this near to where the level met the face.
constexpr double kCorner_mm = 0.3;

// Where a level line enters and leaves the rings, from the back.
std::vector<double> Crossings(const std::vector<Ring>& rings, double level) {
  std::vector<double> crossings;
  for (const Ring& ring : rings) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
      if ((a.y() > level) == (b.y() > level)) continue;
      crossings.push_back(a.x() + (b.x() - a.x()) * (level - a.y()) / (b.y() - a.y()));
    }
  }
  std::sort(crossings.begin(), crossings.end());
  return crossings;
}

// The lowest wood over a place; infinity where there is none.
double LowestAt(const std::vector<Ring>& rings, double x) {
  double lowest = std::numeric_limits<double>::infinity();
  for (const Ring& ring : rings) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
      if ((a.x() > x) == (b.x() > x)) continue;
      lowest = std::min(lowest, a.y() + (b.y() - a.y()) * (x - a.x()) / (b.x() - a.x()));
    }
  }
  return lowest;
}

// The faces of hollow rings whose opening is up (`side` 1, a case) or down (−1, a lid). `wall_mm`:
// the level thickness of what is cut at the back, NaN where only the section knows.
ReachableFaces FacesOf(const std::vector<Ring>& rings, double side, double wall_mm,
                       double usual_mm) {
  const Rect2 box = Bounds(rings);
  LW_REQUIRE(!box.Empty(), "no wood at the end wall");
  ReachableFaces faces{box.low.x() + usual_mm, side > 0.0 ? box.high.y() : box.low.y()};
  // The rim is the outermost point of the back half.
  double rim = -1e300;
  for (const Ring& ring : rings) {
    for (const Vec2& p : ring) {
      if (p.x() < (box.low.x() + box.high.x()) / 2.0) rim = std::max(rim, side * p.y());
    }
  }
  if (rim > -1e300) faces.rim_y_mm = side * rim;
  // The true face where the section shows it: a level line within the back wall enters the wall and
  // leaves it again. Just within a rim that slopes it leaves at once, and within a lip it meets
  // only that: it goes on inwards until it cuts the whole wall.
  const auto at = [&](double deep) {
    return Crossings(rings, faces.rim_y_mm - side * std::max(deep, 1e-3));
  };
  std::vector<double> crossings = at(0.0);
  const auto whole = [&](const std::vector<double>& cut) {
    return cut.size() >= 4 && !(cut[1] - cut[0] < kWhole * wall_mm);
  };
  double met_y = faces.rim_y_mm;
  for (double deep = kLevel_mm; !whole(crossings) && deep < kDeepest_mm; deep += kLevel_mm) {
    const std::vector<double> cut = at(deep);
    if (!whole(cut)) continue;
    crossings = cut;
    met_y = faces.rim_y_mm - side * deep;
  }
  if (crossings.size() < 4) return faces;
  faces.back_x_mm = crossings[1];
  // The face's own corner, where a paper's two edges come to lie.
  if (!whole(crossings) || met_y == faces.rim_y_mm) return faces;
  const double face = faces.back_x_mm;
  double corner = -1e300;
  for (const Ring& ring : rings) {
    for (const Vec2& p : ring) {
      if (std::abs(p.x() - face) > kCorner_mm || side * p.y() <= corner) continue;
      corner = side * p.y();
      faces.back_x_mm = p.x();
    }
  }
  faces.rim_y_mm = corner > -1e300 ? side * corner : met_y;
  return faces;
}

}  // namespace

ReachableFaces FacesAtEnd(const Job& job, const Solid& solid) {
  return FacesOf(SectionAt(solid, solid.bay.z_max_mm).case_rings, 1.0, job.case_form.back_wall_mm,
                 job.case_form.back_wall_mm);
}

ReachableFaces LidFacesAtEnd(const Job& job, const Solid& solid) {
  const LidMeasures& lid = job.lid;
  const double wall = std::isnan(lid.wall_mm) ? job.case_form.back_wall_mm : lid.wall_mm;
  // With a collar a level line cuts that as well.
  const bool collar = lid.lip_mm > 0.0 && lid.lip_side == "outside";
  const double cut = lid.wall_mm + (collar ? lid.lip_play_mm + lid.lip_wall_mm : 0.0);
  const auto hollow = SectionAt(solid, solid.bay.z_max_mm).lid_rings;
  ReachableFaces faces = FacesOf(hollow, -1.0, cut, wall);
  // A lip at the back alone reaches below the end wall that a paper lies on.
  const auto filled = SectionAt(solid, solid.bay.z_max_mm + kWithin_mm).lid_rings;
  const double x = faces.back_x_mm + kWithin_mm, edge = LowestAt(filled, x);
  if (edge > faces.rim_y_mm + kLip_mm && edge < LowestAt(hollow, x)) faces.rim_y_mm = edge;
  return faces;
}

}  // namespace lidwright
