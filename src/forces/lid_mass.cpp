// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/lid_mass.h"

#include <cmath>

#include "lidwright/base/check.h"

namespace lidwright {
namespace {

constexpr double kMm3PerM3 = 1e9;

// Area, first moments and polar second moment about the origin of a ring (Green's theorem).
struct Moments {
  double area = 0.0;
  Vec2 first = Vec2::Zero();
  double second = 0.0;

  void Add(const Moments& other, double weight) {
    area += weight * other.area;
    first += weight * other.first;
    second += weight * other.second;
  }
};

Moments MomentsOf(const Ring& ring) {
  Moments m;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Vec2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
    const double cross = Cross(a, b);
    m.area += cross / 2.0;
    m.first += cross / 6.0 * (a + b);
    m.second += cross / 12.0 * (a.dot(a) + a.dot(b) + b.dot(b));
  }
  return m;
}

MassProperties From(const Solid& solid, std::vector<Ring> Station::*rings, double density_kg_m3) {
  Moments total;
  const std::vector<Station>& stations = WoodOf(solid);
  for (std::size_t i = 0; i + 1 < stations.size(); ++i) {
    const Station &a = stations[i], &b = stations[i + 1];
    if (a.z_mm == b.z_mm) continue;
    LW_REQUIRE((a.*rings).size() == (b.*rings).size(), "stations " << i << " do not match");
    for (std::size_t r = 0; r < (a.*rings).size(); ++r) {
      const auto [p, q] = MatchRings((a.*rings)[r], (b.*rings)[r]);
      Ring middle = p;
      for (std::size_t k = 0; k < p.size(); ++k) middle[k] = (p[k] + q[k]) / 2.0;
      const double sixth = (b.z_mm - a.z_mm) / 6.0;
      total.Add(MomentsOf(p), sixth);
      total.Add(MomentsOf(middle), 4.0 * sixth);
      total.Add(MomentsOf(q), sixth);
    }
  }
  if (solid.mirrored) total.Add(Moments(total), 1.0);
  LW_REQUIRE(total.area > 0.0, "a body without volume");
  MassProperties body;
  body.mass_kg = total.area * density_kg_m3 / kMm3PerM3;
  body.centre = total.first / total.area;
  body.inertia_kg_mm2 = body.mass_kg * (total.second / total.area - body.centre.squaredNorm());
  return body;
}

}  // namespace

MassProperties MassOfLid(const Job& job, const Solid& solid) {
  MassProperties lid = From(solid, &Station::lid_rings, job.loads.density_kg_m3);
  if (!std::isnan(job.loads.lid_mass_kg)) {
    lid.inertia_kg_mm2 *= job.loads.lid_mass_kg / lid.mass_kg;
    lid.mass_kg = job.loads.lid_mass_kg;
  }
  return lid;
}

MassProperties MassOfCase(const Job& job, const Solid& solid) {
  return From(solid, &Station::case_rings, job.loads.density_kg_m3);
}

}  // namespace lidwright
