// SPDX-License-Identifier: Apache-2.0
#include "lidwright/design/make_design.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "explain.h"
#include "finish_hinge.h"
#include "hinge_search.h"
#include "lidwright/accuracy/seasons.h"
#include "lidwright/accuracy/shut_lid.h"
#include "lidwright/arms/straight_pins.h"
#include "lidwright/base/parallel.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/design/choices.h"
#include "lidwright/design/merit.h"
#include "lidwright/design/stay_choice.h"
#include "search_design.h"
#include "strengthen.h"

namespace lidwright {
namespace {

// [count] Enough that a share of one in twenty is known to a tenth of itself.
constexpr int kTrialBuilds = 3000;

// Least material round an arm's holes; none where an eye is open.
double WebRoundHoles(const Arm& arm) {
  const std::vector<Ring> rings{Flatten(arm.outline, kChordError_mm)};
  double least = std::numeric_limits<double>::infinity();
  for (const Circle* hole : {&arm.case_hole, &arm.lid_hole}) {
    least = std::min(least, -SignedDistance(rings, hole->centre) - hole->radius_mm);
  }
  return least;
}

}  // namespace

BoxModel::BoxModel(Job wanted)
    : job(std::move(wanted)),
      solid(MakeSolid(job)),
      box(BoxAssembly(job, solid)),
      limits(LimitsOf(job, solid)),
      task(MakeLidTask(job, solid)),
      arms(MakeArmsTask(job, solid, task, box)) {}

Traits TraitsOf(const BoxModel& box, const Hinge& hinge) {
  Traits traits;
  const Pivots& pivots = hinge.pivots;
  const std::optional<LidMotion> motion = LidMotion::Make(pivots);
  traits.arms_length_mm =
      (pivots.lid_a - pivots.case_a).norm() + (pivots.lid_b - pivots.case_b).norm();
  if (const Verdict* gap = Find(hinge.verdicts, Requirement::kLidToCase); gap && gap->found) {
    traits.least_gap_mm = *gap->found;
  }
  if (!motion || motion->Range().high_rad <= box.job.swing.open_rad) return traits;
  // Per unit of play and of weight: two pins' play and a weight of 1.
  LidUse unit;
  unit.play_mm = 0.5;
  unit.weight_n = 1.0;
  const LidFigures figures = FiguresOf(box.task, unit, pivots);
  traits.play_factor = figures.rattle_mm;
  traits.lift_factor = figures.lift_n;
  const SeamOff seam = SeamOffOneInTwenty(
      *motion, box.job.shop.drill_error_mm,
      {-box.job.case_form.back_bow_mm, box.job.case_form.depth_mm + box.job.case_form.front_bow_mm,
       box.job.swing.open_rad});
  traits.seam_off_mm = seam.off_mm;
  traits.seam_stuck_share = seam.stuck_share;
  traits.seam_first_order_mm = seam.first_order_mm;
  traits.reach_behind_mm = figures.behind_mm;
  traits.reach_behind_rad = figures.behind_rad;
  traits.mouth_free =
      AccessAt(box.box, motion->At(box.limits.open_rad).X_CL, box.limits).mouth_free;
  traits.dead_points_rad = motion->DeadPoints(box.job.swing.open_rad);
  traits.least_transmission_rad = traits.arms_angle_rad = kPi;
  for (int i = 0; i <= 90; ++i) {
    const LidState state = motion->At(box.job.swing.open_rad * i / 90);
    traits.least_transmission_rad =
        std::min(traits.least_transmission_rad, motion->TransmissionAngle_rad(state));
    traits.arms_angle_rad = std::min(traits.arms_angle_rad, motion->ArmsAngle_rad(state));
  }
  if (hinge.arm_a && hinge.arm_b && WebRoundHoles(*hinge.arm_a) > 0.0 &&
      WebRoundHoles(*hinge.arm_b) > 0.0) {
    traits.arms_safety =
        ArmsSafety(box.job, box.solid, *motion, box.task.front_edge, *hinge.arm_a, *hinge.arm_b);
  }
  return traits;
}

void AddForces(const BoxModel& box, Hinge& hinge) {
  const std::optional<LidMotion> motion = LidMotion::Make(hinge.pivots);
  if (!hinge.arm_a || !hinge.arm_b || !motion) return;
  if (motion->Range().high_rad <= box.limits.open_rad) return;
  const Arm &a = *hinge.arm_a, &b = *hinge.arm_b;
  // An arm with an open eye bears nothing.
  if (WebRoundHoles(a) <= 0.0 || WebRoundHoles(b) <= 0.0) return;
  hinge.forces = ForcesOf(box.job, box.solid, *motion, box.task.front_edge, a, b,
                          hinge.parts ? LoadCaseOf(box.job, box.solid, a, b, *hinge.parts)
                                      : UsualLoadCase(box.job, box.solid, a, b));
}

void AddParts(const BoxModel& box, Hinge& hinge) {
  const std::optional<LidMotion> motion = LidMotion::Make(hinge.pivots);
  if (!hinge.arm_a || !hinge.arm_b || !motion) return;
  if (motion->Range().high_rad <= box.limits.open_rad) return;
  const Swing swing(*motion, 0.0, box.limits.open_rad);
  if (AllMet(hinge.verdicts)) {
    hinge.parts = MakeHingeSet(box.arms, swing, *hinge.arm_a, *hinge.arm_b, {});
  }
  AddForces(box, hinge);
  if (!hinge.parts || !hinge.forces) return;
  const Strength* leaned = WeakestAsked(*hinge.forces, true);
  const bool at_stop = leaned && leaned->kind == LoadedPart::kStop;
  if (at_stop || LacksOnlyStopOrRow(hinge)) Strengthen(box, swing, hinge);
}

void AddGapByAngle(const BoxModel& box, Hinge& hinge) {
  const std::optional<LidMotion> motion = LidMotion::Make(hinge.pivots);
  if (!hinge.forces || !motion) return;
  const auto pairs = PairsBetween(box.box.Shapes(PartKind::kLid), box.box.Shapes(PartKind::kCase));
  hinge.gap_by_angle_mm.clear();
  GapFollower gap(pairs);
  for (const double theta : hinge.forces->feel.theta_rad) {
    hinge.gap_by_angle_mm.push_back(std::max(0.0, gap.At(BodiesAt(*motion, theta))->gap_mm));
  }
}

void AddTrialBuilds(const BoxModel& box, int count, int threads, Hinge& hinge) {
  BuildOptions builds;
  builds.builds = count;
  builds.seed = box.job.seed;
  builds.threads = threads;
  builds.front_edge = box.task.front_edge;
  const std::optional<HingeSet>& parts = hinge.parts;
  if (parts && parts->hardware) builds.play_mm = parts->hardware->running_mm;
  hinge.accuracy = AccuracyOf(box.job, parts ? parts->assembly : box.box, box.limits,
                              *LidMotion::Make(hinge.pivots), builds);
}

namespace {

// What keeps its place when the wood moves: a plate the middle of its screws, bare wood its first
// pin.
SeasonAnchors AnchorsOf(const Hinge& hinge) {
  const auto middle = [](const std::optional<Plate>& plate, const Vec2& pin) -> Vec2 {
    if (!plate || plate->screws.empty()) return pin;
    Vec2 sum = Vec2::Zero();
    for (const Vec2& screw : plate->screws) sum += screw;
    return sum / static_cast<double>(plate->screws.size());
  };
  if (!hinge.parts) return {hinge.pivots.case_a, hinge.pivots.lid_a};
  return {middle(hinge.parts->case_plate, hinge.pivots.case_a),
          middle(hinge.parts->lid_plate, hinge.pivots.lid_a)};
}

}  // namespace

void AddAccuracy(const BoxModel& box, int threads, Hinge& hinge) {
  AddTrialBuilds(box, kTrialBuilds, threads, hinge);
  AddSeasons(box.job, box.box, box.limits, *LidMotion::Make(hinge.pivots), AnchorsOf(hinge),
             *hinge.accuracy);
}

void AddAccuracyOfFirst(int threads, Design& design) {
  if (design.hinges.empty() || design.hinges.front().accuracy) return;
  AddAccuracy(BoxModel(design.job), threads, design.hinges.front());
}

namespace {

// A given arm has material all round both of its holes.
Verdict HoldsItsPins(const Job& job, Member member, const Arm& arm) {
  Verdict verdict =
      Reckoned(Requirement::kArmRoundHoles, Unit::kMm, job.shop.web_mm, WebRoundHoles(arm));
  verdict.of = member;
  if (!verdict.met()) verdict.why = Why::kOpenEye;
  return verdict;
}

void Append(const Verdicts& more, Hinge& hinge) {
  hinge.verdicts.insert(hinge.verdicts.end(), more.begin(), more.end());
}

}  // namespace

Hinge CertifyHinge(const BoxModel& box, const Pivots& pivots, const std::optional<Arm>& arm_a,
                   const std::optional<Arm>& arm_b, const CertifyOptions& options) {
  Hinge hinge;
  hinge.character = "given";
  hinge.pivots = pivots;
  hinge.arm_a = arm_a;
  hinge.arm_b = arm_b;
  const std::optional<LidMotion> motion = LidMotion::Make(pivots);
  hinge.verdicts = CertifyLid(box.box, motion, box.limits, options);
  const auto enough = [&] { return !options.all && !AllMet(hinge.verdicts); };
  if (enough()) return hinge;
  if (motion && motion->Range().high_rad > box.limits.open_rad) {
    Append(PivotsHeld(box.arms, *motion), hinge);
    if (enough()) return hinge;
    const Swing swing(*motion, 0.0, box.limits.open_rad);
    if (arm_a && arm_b) {
      Append(CertifyArms(box.arms, swing, arm_a, arm_b), hinge);
    } else {
      ArmsResult routed = ShapeArms(box.arms, swing);
      if (!arm_a) hinge.arm_a = std::move(routed.arm_a);
      if (!arm_b) hinge.arm_b = std::move(routed.arm_b);
      Append(
          arm_a || arm_b ? CertifyArms(box.arms, swing, hinge.arm_a, hinge.arm_b) : routed.verdicts,
          hinge);
    }
    if (arm_a) hinge.verdicts.push_back(HoldsItsPins(box.job, Member::kArmA, *arm_a));
    if (arm_b) hinge.verdicts.push_back(HoldsItsPins(box.job, Member::kArmB, *arm_b));
    if (enough()) return hinge;
  }
  hinge.traits = TraitsOf(box, hinge);
  return hinge;
}

Hinge JudgeHinge(const BoxModel& box, const Pivots& pivots, const std::optional<Arm>& arm_a,
                 const std::optional<Arm>& arm_b) {
  CertifyOptions options;
  options.depths = true;
  Hinge hinge = CertifyHinge(box, pivots, arm_a, arm_b, options);
  AddParts(box, hinge);
  AddGapByAngle(box, hinge);
  return hinge;
}

Hinge JudgeAsGiven(const BoxModel& box, const GivenHinge& given) {
  const auto arm = [&](const std::optional<GivenArm>& wanted, const Vec2& ground, const Vec2& lid) {
    std::optional<Arm> made;
    if (wanted) {
      const double hole = std::isnan(wanted->hole_mm) ? box.job.arms.bushing_mm : wanted->hole_mm;
      made = GivenArmAsCut(box.arms, wanted->outline, {ground, hole / 2.0}, {lid, hole / 2.0},
                           wanted->layer, wanted->centreline);
    }
    return made;
  };
  return JudgeHinge(box, {given.case_a, given.case_b, given.lid_a, given.lid_b},
                    arm(given.arm_a, given.case_a, given.lid_a),
                    arm(given.arm_b, given.case_b, given.lid_b));
}

Hinge JudgeHinge(const BoxModel& box, const GivenHinge& given) {
  Hinge hinge = JudgeAsGiven(box, given);
  AddStayWhereNeeded(box, hinge);
  return hinge;
}

std::optional<Hinge> Completed(const BoxModel& box, const Pivots& pivots, bool* lid_met) {
  CertifyOptions options;
  options.all = false;
  Hinge hinge = CertifyHinge(box, pivots, {}, {}, options);
  if (lid_met) {
    *lid_met = std::all_of(hinge.verdicts.begin(), hinge.verdicts.end(), [](const Verdict& v) {
      return v.met() || v.what >= Requirement::kPlateReaches;
    });
  }
  if (!AllMet(hinge.verdicts)) return std::nullopt;
  return hinge;
}

Design MakeDesign(const BoxModel& box, const DesignOptions& options) {
  return SearchDesign(box, options, {}).design;
}

SearchedDesign SearchDesign(const BoxModel& box, const DesignOptions& options,
                            const AfterOthers& after) {
  SearchedDesign searched;
  Design& design = searched.design;
  design.job = box.job;
  design.solid = box.solid;
  if (options.progress) options.progress("plain hinge", 0.0);
  design.plain = MapPlainHinges(box.solid, box.box, box.limits, box.task, options.threads);
  HingeSearchOptions search;
  search.threads = options.threads;
  search.improve = options.improve;
  search.pin_bears_n = options.pin_bears_n;
  search.from = after.lids;
  search.rounds_before = after.rounds;
  search.ends_if_weak = after.ends_if_weak;
  if (!after.thorough) search.least_rounds = 1;
  search.progress = options.progress;
  if (options.found) search.found = [&](const Hinge& hinge) { options.found(box, hinge); };
  HingeSearchResult found = SearchHinges(box, search);
  design.search = found.record;
  searched.lids = found.lids;
  searched.weak = std::move(found.weak);
  searched.cut_short = found.cut_short;
  if (found.hinges.empty()) {
    design.none = ExplainNoHinge(box, found, options);
    return searched;
  }
  std::vector<const Hinge*> hinges;
  for (const Hinge& hinge : found.hinges) hinges.push_back(&hinge);
  for (const Choice& choice : ChoicesAmong(hinges)) {
    design.hinges.push_back(found.hinges[choice.place]);
    design.hinges.back().character = choice.name;
  }
  if (found.cut_short) return searched;
  if (options.progress) options.progress("trial builds", 0.0);
  AddRest(box, options.threads, design);
  return searched;
}

void AddRest(const BoxModel& box, int threads, Design& design) {
  AddAccuracy(box, threads, design.hinges.front());
  ParallelFor(design.hinges.size(), threads,
              [&](std::size_t i) { AddGapByAngle(box, design.hinges[i]); });
}

}  // namespace lidwright
