// SPDX-License-Identifier: Apache-2.0
#include "lidwright/solid/solid.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "lidwright/base/check.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "measured_form.h"
#include "own_stations.h"

namespace lidwright {
namespace {

double Deviation(const std::vector<Ring>& a, const std::vector<Ring>& b, double share,
                 const std::vector<Ring>& truth) {
  double worst = 0.0;
  for (std::size_t r = 0; r < truth.size(); ++r) {
    for (std::size_t i = 0; i < truth[r].size(); ++i) {
      const Vec2 blend = (1.0 - share) * a[r][i] + share * b[r][i];
      worst = std::max(worst, (blend - truth[r][i]).norm());
    }
  }
  return worst;
}

// Stations from `from` to `to` until the form's deviation from the blend is within `error_mm`.
void AddStretch(const MeasuredForm& form, double from, double to, bool end_wall, double error_mm,
                Solid& solid) {
  std::vector<Station> stretch{form.At(from, end_wall), form.At(to, end_wall)};
  for (std::size_t i = 0; i + 1 < stretch.size();) {
    const Station &a = stretch[i], &b = stretch[i + 1];
    double worst = 0.0;
    for (const double share : {0.25, 0.5, 0.75}) {
      const Station truth = form.At(a.z_mm + share * (b.z_mm - a.z_mm), end_wall);
      worst = std::max({worst, Deviation(a.case_rings, b.case_rings, share, truth.case_rings),
                        Deviation(a.lid_rings, b.lid_rings, share, truth.lid_rings)});
    }
    if (worst > error_mm) {
      stretch.insert(stretch.begin() + static_cast<std::ptrdiff_t>(i) + 1,
                     form.At((a.z_mm + b.z_mm) / 2.0, end_wall));
    } else {
      solid.blend_error_mm = std::max(solid.blend_error_mm, worst);
      ++i;
    }
  }
  for (Station& station : stretch) solid.stations.push_back(std::move(station));
}

void MeasuredStations(const Job& job, Solid& solid) {
  const MeasuredForm form(job);
  const double half = job.box.width_mm / 2.0;
  const double inner = half - job.box.end_wall_mm, lid_inner = half - job.lid.wall_mm;
  const double error = kBlendError_mm - kChordError_mm;
  // Case and lid become solid at their own end wall's inner face; between the two faces one is
  // solid and the other hollow, and taking both as solid keeps the section on the safe side.
  const double face = std::min(inner, lid_inner);
  AddStretch(form, 0.0, face, false, error, solid);
  AddStretch(form, face, half, true, error, solid);
  solid.mirrored = true;
  solid.chord_error_mm = kChordError_mm;
}

// The part of the bay where pivots may lie: inside the narrowest section of the case there.
void MakeBay(const Job& job, Solid& solid) {
  const double half = job.box.width_mm / 2.0;
  BayRoom& bay = solid.bay;
  bay.z_max_mm = half - std::max(job.box.end_wall_mm, job.lid.wall_mm);
  bay.z_min_mm = bay.z_max_mm - job.bay.width_mm;
  double back = -1e300, front = 1e300, floor = -1e300, rim = 1e300, top = -1e300;
  for (const Station& station : solid.stations) {
    if (station.end_wall) continue;
    const double z = std::abs(station.z_mm);
    const bool in_bay = z >= bay.z_min_mm - 1e-9;
    Box2 outer, lid;
    for (const Ring& ring : station.case_rings) {
      for (const Vec2& p : ring) outer.Add(p);
    }
    for (const Ring& ring : station.lid_rings) {
      for (const Vec2& p : ring) lid.Add(p);
    }
    if (!in_bay) continue;
    back = std::max(back, outer.low.x() + job.box.back_wall_mm);
    front = std::min(front, outer.high.x() - job.box.front_wall_mm);
    floor = std::max(floor, outer.low.y() + job.box.floor_mm);
    rim = std::min(rim, outer.high.y());
    top = std::max(top, lid.high.y() - job.lid.top_mm);
  }
  LW_REQUIRE(back < front, "no station in the bay");
  const double edge = job.bay.edge_mm;
  bay.ground = {{back + edge, floor + edge}, {front - edge, rim - edge}};
  bay.lid = {{back + edge, rim - job.bay.lid_drop_mm}, {front - edge, top - edge}};
  bay.lid.low.y() = std::max(bay.lid.low.y(), floor + edge);
  if (job.pivots.ground_zone) bay.ground = *job.pivots.ground_zone;
  if (job.pivots.lid_zone) bay.lid = *job.pivots.lid_zone;
}

}  // namespace

Solid MakeSolid(const Job& job) {
  Solid solid;
  if (job.stations.empty()) {
    MeasuredStations(job, solid);
  } else {
    OwnStations(job, solid);
  }
  solid.mouth_back_mm = -1e300;
  solid.mouth_front_mm = 1e300;
  for (const Station& station : solid.stations) {
    Box2 outer;
    for (const Ring& ring : station.case_rings) {
      for (const Vec2& p : ring) {
        solid.bounds.Add(p);
        outer.Add(p);
      }
    }
    for (const Ring& ring : station.lid_rings) {
      for (const Vec2& p : ring) solid.bounds.Add(p);
    }
    solid.mouth_back_mm = std::max(solid.mouth_back_mm, outer.low.x() + job.box.back_wall_mm);
    solid.mouth_front_mm = std::min(solid.mouth_front_mm, outer.high.x() - job.box.front_wall_mm);
  }
  solid.bench_mm = solid.bounds.low.y();
  MakeBay(job, solid);
  return solid;
}

Problems FaultsOf(const Job& job, const Solid& solid) {
  Problems problems;
  const auto zone = [&](const Zone& z, const std::string& whose, const std::string& between) {
    const Vec2 size = z.high - z.low;
    if (size.x() >= 0.0 && size.y() >= 0.0) return;
    const bool across = size.x() < 0.0;
    problems.push_back(
        {"", 0, "bay", "",
         "there is no room for the " + whose + " pivots: " + (across ? "front to back" : between) +
             " " + LengthText_mm(across ? -size.x() : -size.y(), job.inches) + " are lacking",
         "a smaller bay.edge or arms.eye, thinner walls or a higher box would help"});
  };
  zone(solid.bay.ground, "case's", "between floor and rim");
  zone(solid.bay.lid, "lid's", "under the lid");
  for (std::size_t i = 0; i < solid.stations.size(); ++i) {
    const Station& s = solid.stations[i];
    double deepest = 0.0;
    const auto look = [&](const std::vector<Ring>& movers, const std::vector<Ring>& others) {
      for (const Ring& ring : movers) {
        for (std::size_t k = 0; k < ring.size(); ++k) {
          // Corners may lie on the other outline, so the middles of the edges are asked as well.
          const Vec2 middle = (ring[k] + ring[(k + 1) % ring.size()]) / 2.0;
          deepest =
              std::min({deepest, SignedDistance(others, ring[k]), SignedDistance(others, middle)});
        }
      }
    };
    look(s.lid_rings, s.case_rings);
    look(s.case_rings, s.lid_rings);
    if (deepest >= -kBlendError_mm) continue;
    problems.push_back({"", 0, "stations", "",
                        "at z = " + LengthText_mm(s.z_mm, job.inches) +
                            " lid and case overlap when shut by " +
                            LengthText_mm(-deepest, job.inches),
                        "move the lid's outline up or correct the rim"});
    break;
  }
  return problems;
}

double LidVolume_mm3(const Solid& solid) {
  // Between matching sections the area is quadratic in z: Simpson's rule is exact.
  double volume = 0.0;
  for (std::size_t i = 0; i + 1 < solid.stations.size(); ++i) {
    const Station &a = solid.stations[i], &b = solid.stations[i + 1];
    for (std::size_t r = 0; r < std::min(a.lid_rings.size(), b.lid_rings.size()); ++r) {
      if (a.z_mm == b.z_mm) continue;
      const auto [p, q] = MatchRings(a.lid_rings[r], b.lid_rings[r]);
      Ring middle(p.size());
      for (std::size_t k = 0; k < p.size(); ++k) middle[k] = (p[k] + q[k]) / 2.0;
      volume +=
          (b.z_mm - a.z_mm) / 6.0 * (SignedArea(p) + 4.0 * SignedArea(middle) + SignedArea(q));
    }
  }
  return solid.mirrored ? 2.0 * volume : volume;
}

}  // namespace lidwright
