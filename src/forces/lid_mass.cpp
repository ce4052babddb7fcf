// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/lid_mass.h"

#include <cmath>

#include "lidwright/base/check.h"

namespace lidwright {
namespace {

constexpr double kMm3PerM3 = 1e9;
// [mm] Arcs of a flat piece become chords this near for its mass: a ten-thousandth of it at most.
constexpr double kPieceChord_mm = 1e-4;

// Area, first moments and polar second moment about the origin of a ring (Green's theorem).
struct Moments {
  double area = 0.0;
  Vec2 first = Vec2::Zero();
  double z_first = 0.0;
  double second = 0.0;

  void Add(const Moments& other, double weight, double z_mm) {
    area += weight * other.area;
    first += weight * other.first;
    z_first += weight * other.area * z_mm;
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

MassProperties From(const Moments& total, double density_kg_m3) {
  LW_REQUIRE(total.area > 0.0, "a body without volume");
  MassProperties body;
  body.mass_kg = total.area * density_kg_m3 / kMm3PerM3;
  body.centre = total.first / total.area;
  body.z_mm = total.z_first / total.area;
  body.inertia_kg_mm2 = body.mass_kg * (total.second / total.area - body.centre.squaredNorm());
  return body;
}

MassProperties From(const Solid& solid, std::vector<Ring> Station::*rings, double density_kg_m3) {
  Moments total;
  const std::vector<Station>& stations = TrueStations(solid);
  for (std::size_t i = 0; i + 1 < stations.size(); ++i) {
    const Station &a = stations[i], &b = stations[i + 1];
    if (a.z_mm == b.z_mm) continue;
    LW_REQUIRE((a.*rings).size() == (b.*rings).size(), "stations " << i << " do not match");
    for (std::size_t r = 0; r < (a.*rings).size(); ++r) {
      const auto [p, q] = MatchRings((a.*rings)[r], (b.*rings)[r]);
      Ring middle = p;
      for (std::size_t k = 0; k < p.size(); ++k) middle[k] = (p[k] + q[k]) / 2.0;
      const double sixth = (b.z_mm - a.z_mm) / 6.0;
      total.Add(MomentsOf(p), sixth, a.z_mm);
      total.Add(MomentsOf(middle), 4.0 * sixth, (a.z_mm + b.z_mm) / 2.0);
      total.Add(MomentsOf(q), sixth, b.z_mm);
    }
  }
  if (solid.mirrored) {
    total.area *= 2.0;
    total.first *= 2.0;
    total.second *= 2.0;
    total.z_first = 0.0;
  }
  return From(total, density_kg_m3);
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

MassProperties MassOfPair(const Outline& outline, const std::vector<Circle>& holes,
                          double thickness_mm, double density_kg_m3) {
  LW_REQUIRE(thickness_mm > 0.0, "thickness=" << thickness_mm);
  Moments total;
  total.Add(MomentsOf(Flatten(outline, kPieceChord_mm)), 2.0 * thickness_mm, 0.0);
  for (const Circle& hole : holes) {
    total.Add(MomentsOf(Flatten(hole, kPieceChord_mm)), -2.0 * thickness_mm, 0.0);
  }
  return From(total, density_kg_m3);
}

MassProperties MassOfArms(const Arm& arm, double density_kg_m3) {
  return MassOfPair(arm.outline, {arm.case_hole, arm.lid_hole}, arm.z_max_mm - arm.z_min_mm,
                    density_kg_m3);
}

MassProperties Together(const MassProperties& p, const MassProperties& q) {
  if (!(q.mass_kg > 0.0)) return p;
  if (!(p.mass_kg > 0.0)) return q;
  MassProperties both;
  both.mass_kg = p.mass_kg + q.mass_kg;
  both.centre = (p.mass_kg * p.centre + q.mass_kg * q.centre) / both.mass_kg;
  both.z_mm = (p.mass_kg * p.z_mm + q.mass_kg * q.z_mm) / both.mass_kg;
  both.inertia_kg_mm2 = p.inertia_kg_mm2 + q.inertia_kg_mm2 +
                        p.mass_kg * (p.centre - both.centre).squaredNorm() +
                        q.mass_kg * (q.centre - both.centre).squaredNorm();
  return both;
}

}  // namespace lidwright
