// SPDX-License-Identifier: Apache-2.0
// The certified swing against the plain way: a general polygon library asked at every 0.1 degree.
#include <geos_c.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <vector>

#include "certify/verdicts.h"
#include "clock.h"
#include "lidwright/synthesis/box_assembly.h"

using namespace lidwright;

namespace {

GEOSGeometry* Polygon(GEOSContextHandle_t geos, const Ring& ring, const Pose& pose) {
  const auto n = static_cast<unsigned>(ring.size());
  GEOSCoordSequence* points = GEOSCoordSeq_create_r(geos, n + 1, 2);
  for (unsigned i = 0; i <= n; ++i) {
    const Vec2 p = pose * ring[i % n];
    GEOSCoordSeq_setXY_r(geos, points, i, p.x(), p.y());
  }
  return GEOSGeom_createPolygon_r(geos, GEOSGeom_createLinearRing_r(geos, points), nullptr, 0);
}

// Least distance of lid and case over all stations at steps of `step` from `from` to `to`.
double Plainly(const Solid& solid, const LidMotion& motion, double from, double to, double step) {
  GEOSContextHandle_t geos = GEOS_init_r();
  double least = 1e300;
  for (const Station& station : solid.stations) {
    GEOSGeometry* box = Polygon(geos, station.case_rings[0], Pose{});
    const GEOSPreparedGeometry* prepared = GEOSPrepare_r(geos, box);
    for (double theta = from; theta <= to; theta += step) {
      GEOSGeometry* lid = Polygon(geos, station.lid_rings[0], motion.At(theta).X_CL);
      double distance = 0.0;
      GEOSPreparedDistance_r(geos, prepared, lid, &distance);
      least = std::min(least, distance);
      GEOSGeom_destroy_r(geos, lid);
    }
    GEOSPreparedGeom_destroy_r(geos, prepared);
    GEOSGeom_destroy_r(geos, box);
  }
  GEOS_finish_r(geos);
  return least;
}

}  // namespace

int main(int argc, char** argv) {
  const Job job = bench::JobFrom(argc, argv);
  const Solid solid = MakeSolid(job);
  const Assembly parts_box = BoxAssembly(job, solid);
  const lidwright::testing::Slabs parts(parts_box);
  const std::optional<LidMotion> motion =
      LidMotion::Make({{53.5, -44.5}, {28, -20}, {94.5, -46.5}, {68, 1.5}});
  const double from = job.swing.gap_from_rad, to = job.swing.open_rad;
  if (!motion || motion->Range().high_rad <= to) {
    std::fprintf(stderr, "the benchmark's linkage does not open this job's lid far enough\n");
    return 1;
  }
  std::printf("%zu stations%s, %zu vertices in a lid outline, %.0f deg\n", solid.stations.size(),
              solid.mirrored ? " (half the width, the rest its mirror image)" : "",
              solid.stations[0].lid_rings[0].size(), to * kDegPerRad);

  constexpr int kPoses = 1'000'000;
  double sum = 0.0;
  const double pose = bench::Best(5, [&] {
    for (int i = 0; i < kPoses; ++i) sum += motion->At(to * i / kPoses).X_CL.origin.x();
  });
  std::printf("pose of the linkage        %8.1f ns   (%g)\n", pose / kPoses * 1e9, sum);

  const auto lid_case = PairsBetween(parts.lid_slabs, parts.case_slabs);
  auto around = PairsBetween(parts.lid_slabs, parts.limits);
  const auto bench_pairs = PairsBetween(parts.lid_slabs, parts.bench);
  around.insert(around.end(), bench_pairs.begin(), bench_pairs.end());
  GapReport report;
  const double gap = bench::Best(9, [&] { report = LeastGap(Swing(*motion, from, to), lid_case); });
  const double shut = bench::Best(9, [&] { ShutPair(lid_case.at(0), job.swing.gap_mm); });
  const ShutPair closed(lid_case.at(0), job.swing.gap_mm);
  const double first = bench::Best(9, [&] { KeepsClosedGap(Swing(*motion, 0.0, from), closed); });
  const double rest = bench::Best(9, [&] { LeastGap(Swing(*motion, 0.0, to), around); });
  std::printf("certified gap, lid to case %8.3f ms   bound %.4f mm, nearest %.4f mm\n", gap * 1e3,
              *report.bound_mm, report.nearest->gap_mm);
  std::printf("how lid and case stand shut%8.3f ms   once for a box\n", shut * 1e3);
  std::printf("certified first motion     %8.3f ms\n", first * 1e3);
  std::printf("certified surroundings     %8.3f ms\n", rest * 1e3);
  std::printf("certified swing, all pairs %8.3f ms\n", (gap + first + rest) * 1e3);

  constexpr double kStep_rad = 0.1 * kRadPerDeg;
  double least = 0.0;
  const double plain =
      bench::Best(3, [&] { least = Plainly(solid, *motion, from, to, kStep_rad); });
  // How fine the samples would have to be for 0.01 mm: half a step times the fastest point.
  double fastest = 0.0;
  for (double theta = from; theta <= to; theta += kStep_rad) {
    const LidState state = motion->At(theta);
    const Vec2 centre = motion->InstantCentre(state);
    for (const Vec2& p : solid.stations[0].lid_rings[0]) {
      fastest = std::max(fastest, (state.X_CL * p - centre).norm());
    }
  }
  const double needed_rad = 2.0 * kGapTolerance_mm / fastest;
  const double same = plain * kStep_rad / needed_rad;
  std::printf("plain, 0.1 deg steps       %8.1f ms   least seen %.4f mm, good to %.3f mm only\n",
              plain * 1e3, least, kStep_rad / 2.0 * fastest);
  std::printf("plain, good to 0.01 mm     %8.0f ms   (%.4f deg steps, scaled)\n", same * 1e3,
              needed_rad * kDegPerRad);
  std::printf("ratio at 0.1 deg           %8.0f x\n", plain / gap);
  std::printf("ratio at the same accuracy %8.0f x\n", same / gap);
  return 0;
}
