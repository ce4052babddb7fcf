// SPDX-License-Identifier: Apache-2.0
// Ten thousand trial builds, the gap looked at again for each, against certifying every one.
#include <cstdio>
#include <cstdlib>

#include "certify/verdicts.h"
#include "clock.h"
#include "lidwright/accuracy/builds.h"
#include "lidwright/synthesis/box_assembly.h"

using namespace lidwright;

int main(int argc, char** argv) {
  const Job job = bench::JobFrom(argc, argv);
  const Solid solid = MakeSolid(job);
  const Assembly parts_box = BoxAssembly(job, solid);
  const lidwright::testing::Slabs parts(parts_box);
  const std::optional<LidMotion> motion =
      LidMotion::Make({{53.5, -44.5}, {28, -20}, {94.5, -46.5}, {68, 1.5}});
  if (!motion || motion->Range().high_rad <= job.swing.open_rad) {
    std::fprintf(stderr, "the benchmark's linkage does not open this job's lid far enough\n");
    return 1;
  }
  BuildOptions options;
  double two = 0.0;
  for (const int threads : {1, 2}) {
    options.threads = threads;
    two =
        bench::Best(3, [&] { AccuracyOf(job, parts_box, LimitsOf(job, solid), *motion, options); });
    std::printf("%d builds, %d thread%s    %8.0f ms\n", options.builds, threads,
                threads == 1 ? " " : "s", two * 1e3);
  }
  const auto pairs = PairsBetween(parts.lid_slabs, parts.case_slabs);
  const double one = bench::Best(
      9, [&] { LeastGap(Swing(*motion, job.swing.gap_from_rad, job.swing.open_rad), pairs); });
  std::printf("certifying each, 2 threads %8.0f ms   (scaled from one)\n",
              one * options.builds / 2.0 * 1e3);
  std::printf("ratio                      %8.1f x\n", one * options.builds / 2.0 / two);
  return 0;
}
