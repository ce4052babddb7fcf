// SPDX-License-Identifier: Apache-2.0
#include "lidwright/design/merit.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "lidwright/arms/hardware.h"
#include "lidwright/arms/shape_arms.h"
#include "lidwright/forces/material_data.h"
#include "lidwright/forces/requirements.h"
#include "lidwright/forces/strength.h"

namespace lidwright {
namespace {

// [mm] Step of the difference quotients of the height over the bench.
constexpr double kDifference_mm = 0.01;
// [σ] Height over the bench is counted as one build in twenty has it.
constexpr double kOneInTwentyLower = 1.645;

// Standard deviation of the least height over the bench, per mm of error in each pivot number. The
// arms are fitted in place, so that an error makes a slightly different linkage.
double SpreadOverBench(const LidTask& task, const LidUse& use, const Pivots& pivots, double here) {
  double sum = 0.0;
  const PivotNumbers x = NumbersOf(pivots);
  for (std::size_t k = 0; k < 8; ++k) {
    PivotNumbers moved = x;
    moved[k] += kDifference_mm;
    const double there = FiguresOf(task, use, PivotsOf(moved.data())).over_bench_mm;
    if (std::isnan(there)) continue;
    sum += std::pow((there - here) / kDifference_mm, 2.0);
  }
  return std::sqrt(sum);
}

// A chord c with bulge b belongs to an arc of angle 4 atan b: c (angle / 2) / sin(angle / 2) long.
double Along_mm(const Centreline& line) {
  double length = 0.0;
  for (std::size_t i = 1; i < line.size(); ++i) {
    const double half = 2.0 * std::atan(std::abs(line[i - 1].bulge));
    const double chord = (line[i].point - line[i - 1].point).norm();
    length += half > 1e-6 ? chord * half / std::sin(half) : chord;
  }
  return length;
}

// About what somebody who leans on the open lid's corner puts on the nearer end: no more than tips
// the full box where it stands free, the lid upright over its back.
double LeantOnOneEnd_n(const BoxModel& box) {
  const Job& job = box.job;
  const Solid& solid = box.solid;
  const double middle_mm = (solid.mouth_back_mm + solid.mouth_front_mm) / 2.0;
  const double weight_n =
      (MassOfCase(job, solid).mass_kg + ContentsOf_kg(job, solid)) * kGravity_m_s2;
  const double feet_mm =
      std::isnan(job.loads.feet_back_mm) ? solid.stands_back_mm : job.loads.feet_back_mm;
  const double high_mm = job.case_form.height_mm + job.case_form.depth_mm;
  const double tips_n = std::max(0.0, weight_n * (middle_mm - feet_mm) / high_mm);
  return LeanShareOf(job, solid.bay.z_max_mm) *
         LeanForceOf(job.loads.hand_n, tips_n, StandsOf(job)).force_n;
}

// What a pin bears in bending, held by its plate or wall, half way between the layers of arms.
double PinBears_n(const BoxModel& box) {
  const Job& job = box.job;
  const PlateWish plates = PlatesOf(job);
  const LayerSpan outer = SpanOf(job, box.solid, 0), inner = SpanOf(job, box.solid, 1);
  const double face = box.solid.bay.z_max_mm - (plates.on_case ? plates.case_mm : 0.0);
  const double arms = (outer.z_min_mm + outer.z_max_mm + inner.z_min_mm + inner.z_max_mm) / 4.0;
  const double bends_mpa = PinStressOf(1.0, face - arms, PinDiameter_mm(job)).bending_mpa;
  const double wanted = WantedFor(Situation::kLeaning, Stressed::kMetal).factor;
  return FindMaterial("mild steel")->tension_mpa / (wanted * bends_mpa);
}

// The share of builds in which arms and parts may miss their gap, before it is tried: the tightest
// one's spare against holes that are off by the drill's error (standard deviation) towards it.
double ShareOfTightest(const Hinge& hinge, double error_mm) {
  double spare_mm = std::numeric_limits<double>::infinity();
  const auto look = [&](const Verdicts& verdicts) {
    for (const Verdict& v : verdicts) {
      const bool gap = (v.what >= Requirement::kArmToCase && v.what <= Requirement::kArmToPins) ||
                       v.what == Requirement::kPartToBox || v.what == Requirement::kPartToParts;
      if (gap && v.found && v.required) spare_mm = std::min(spare_mm, *v.found - *v.required);
    }
  };
  look(hinge.verdicts);
  if (hinge.parts) look(hinge.parts->verdicts);
  if (!(error_mm > 0.0) || !std::isfinite(spare_mm)) return 0.0;
  return 0.5 * std::erfc(std::max(0.0, spare_mm) / (error_mm * std::sqrt(2.0)));
}

}  // namespace

double Merit::Total() const {
  double total = 0.0;
  for (const double share :
       {rattle, misfit, lift, behind, arms, crooked, hang, over_bench, strength, builds}) {
    if (!std::isnan(share)) total += share;
  }
  return total;
}

LidUse UseOf(const BoxModel& box) {
  LidUse use = LidUseOf(box.job, box.solid);
  std::vector<std::string> faults;
  if (const auto hardware = ChooseHardware(box.job, &faults)) use.play_mm = hardware->running_mm;
  if (!box.job.plates.on_case && !box.job.plates.on_lid) {
    use.off_along_arm_mm = box.job.shop.drill_error_mm;
  }
  if (!box.job.loads.stay) {
    use.lean_n = LeantOnOneEnd_n(box);
    use.pin_bears_n = PinBears_n(box);
    use.post_mm = (box.job.arms.width_mm + PinDiameter_mm(box.job)) / 2.0;
  }
  return use;
}

double StrengthLacking(const Hinge& hinge) {
  if (!hinge.forces) return kUnset;
  double lacking = 0.0;
  for (const bool leaning : {false, true}) {
    // What leaning does hangs on the stop, which is one of the parts.
    const Strength* weakest = WeakestAsked(*hinge.forces, leaning);
    if (!weakest || (leaning && !hinge.parts)) continue;
    lacking += std::max(0.0, kStrengthWeight * std::log2(weakest->wanted / weakest->Factor()));
  }
  return lacking;
}

Merit MeritOf(const BoxModel& box, const LidUse& use, const Hinge& hinge,
              const BuildShares& shares) {
  Merit merit;
  const LidFigures f = FiguresOf(box.task, use, hinge.pivots);
  merit.rattle = f.rattle_mm / kRattleStep_mm;
  merit.misfit = f.misfit_mm / kMisfitStep_mm;
  merit.lift = f.lift_n / kLiftStep_n;
  merit.behind = std::max(0.0, f.behind_mm) / kBehindStep_mm;
  merit.arms = f.arms_mm / kArmsStep_mm;
  merit.hang = f.hang_mm / kHangStep_mm;
  merit.over_bench = 0.0;
  if (use.bench && !std::isnan(f.over_bench_mm)) {
    const double lower = kOneInTwentyLower * box.job.shop.drill_error_mm *
                         SpreadOverBench(box.task, use, hinge.pivots, f.over_bench_mm);
    merit.over_bench = std::max(0.0, kOverBench_mm - (f.over_bench_mm - lower)) / kOverBenchStep_mm;
  }
  if (hinge.arm_a && hinge.arm_b) {
    const double along = Along_mm(hinge.arm_a->centreline) + Along_mm(hinge.arm_b->centreline);
    merit.crooked = kCrookedWeight * std::max(0.0, along / f.arms_mm - 1.0);
  }
  merit.strength = StrengthLacking(hinge);
  const double foretold =
      std::min(1.0, shares.Most() + ShareOfTightest(hinge, box.job.shop.drill_error_mm));
  merit.builds = kBuildsWeight * (hinge.accuracy ? hinge.accuracy->missed_share : foretold);
  return merit;
}

}  // namespace lidwright
