// SPDX-License-Identifier: Apache-2.0
// What one hinge costs, stage by stage, on one core: for each hinge that a job's design shows.
#include <cstdio>

#include "clock.h"
#include "lidwright/arms/straight_pins.h"
#include "lidwright/design/make_design.h"

using namespace lidwright;

namespace {

constexpr int kRuns = 7;
constexpr int kTrialBuilds = 3000;

// Prints the best of some runs [ms] and what it is of, and returns its seconds.
template <typename Work>
double Stage(const char* what, const Work& work) {
  const double best = bench::Best(kRuns, work);
  std::printf("  %-38s %8.2f ms\n", what, best * 1e3);
  return best;
}

// Returns the seconds of everything but the trial of builds.
double PrintStages(const BoxModel& box, const Hinge& hinge) {
  const Pivots& pivots = hinge.pivots;
  std::printf("'%s', arms from (%g, %g) and (%g, %g)\n", hinge.character.c_str(), pivots.case_a.x(),
              pivots.case_a.y(), pivots.case_b.x(), pivots.case_b.y());
  const std::optional<LidMotion> motion = LidMotion::Make(pivots);
  CertifyOptions yes_or_no;
  yes_or_no.all = false;
  Stage("lid", [&] { CertifyLid(box.box, LidMotion::Make(pivots), box.limits, yes_or_no); });
  Stage("  lid, each verdict", [&] { CertifyLid(box.box, motion, box.limits); });
  Stage("with arms", [&] { CertifyHinge(box, pivots, {}, {}, yes_or_no); });
  const Swing swing(*motion, 0.0, box.limits.open_rad);
  Stage("  pivots held", [&] { PivotsHeld(box.arms, *motion); });
  Stage("  arms alone", [&] { ShapeArms(box.arms, swing); });
  Stage("  traits", [&] { TraitsOf(box, hinge); });
  const double all =
      Stage("everything but the trial of builds", [&] { JudgeHinge(box, pivots, {}, {}); });
  if (hinge.arm_a && hinge.arm_b) {
    Stage("  other parts", [&] { MakeHingeSet(box.arms, swing, *hinge.arm_a, *hinge.arm_b); });
  }
  const LoadCase load =
      hinge.parts ? LoadCaseOf(box.job, box.solid, *hinge.arm_a, *hinge.arm_b, *hinge.parts)
                  : UsualLoadCase(box.job, box.solid, *hinge.arm_a, *hinge.arm_b);
  Stage("  forces", [&] {
    ForcesOf(box.job, box.solid, *motion, box.task.front_edge, *hinge.arm_a, *hinge.arm_b, load);
  });
  BuildOptions builds;
  builds.builds = kTrialBuilds;
  builds.threads = 1;
  builds.front_edge = box.task.front_edge;
  Stage("trial of 3000 builds", [&] {
    AccuracyOf(box.job, hinge.parts ? hinge.parts->assembly : box.box, box.limits, *motion, builds);
  });
  return all;
}

}  // namespace

int main(int argc, char** argv) {
  const BoxModel box(bench::JobFrom(argc, argv));
  const Design design = MakeDesign(box);
  double sum = 0.0;
  for (const Hinge& hinge : design.hinges) sum += PrintStages(box, hinge);
  if (design.hinges.empty()) return 1;
  std::printf("everything but the trial, on average     %8.2f ms\n",
              sum * 1e3 / static_cast<double>(design.hinges.size()));
  return 0;
}
