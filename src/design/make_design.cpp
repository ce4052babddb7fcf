// SPDX-License-Identifier: Apache-2.0
#include "lidwright/design/make_design.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "explain.h"
#include "hinge_search.h"
#include "lidwright/accuracy/shut_lid.h"
#include "lidwright/arms/straight_pins.h"
#include "lidwright/base/parallel.h"
#include "lidwright/base/tolerances.h"

namespace lidwright {
namespace {

// How often the arms would have to be made twice as strong to hold in use with the factor wanted.
double Frailty(const Traits& t) {
  return std::isnan(t.arms_safety) ? 0.0 : std::max(0.0, -std::log2(t.arms_safety));
}

// How often the holes would have to be drilled twice as exactly for a lid that shuts within
// kShuts_mm though no plate is fixed with the lid shut. Lids that are thrown far off bind. What
// they come to with finer drilling goes in proportion to it.
constexpr double kShuts_mm = 0.5;
double Fussiness(const Traits& t) {
  if (std::isnan(t.seam_first_order_mm)) return 0.0;
  return std::max(0.0, std::log2(t.seam_first_order_mm / kShuts_mm));
}

// [–] What a millimetre of arm, a unit of play and of lift, and a millimetre of gap weigh when one
// hinge has to be called the best: a play factor of 1 more is worth 30 mm of arm, as is being half
// as fussy. Arms half as strong as they should be weigh more: a last plate fixed with the lid shut
// makes up for fussiness, nothing for those.
double Merit(const Traits& t) {
  return t.arms_length_mm / 30.0 + t.play_factor + Fussiness(t) + 4.0 * t.lift_factor -
         0.5 * std::min(t.least_gap_mm, 4.0) + 2.5 * Frailty(t);
}

struct Character {
  const char* name;
  double (*score)(const Traits&);  // least is best
  double frailty, fussiness;       // what halving either is worth in its score
};
constexpr double kPlayLimit = 4.5;  // beyond this a hinge wins nothing by being short

const std::array<Character, 3> kCharacters{{
    {"compact",
     [](const Traits& t) {
       return t.arms_length_mm + 100.0 * std::max(0.0, t.play_factor - kPlayLimit);
     },
     30.0, 15.0},
    {"gentle", [](const Traits& t) { return t.lift_factor + 0.02 * t.play_factor; }, 0.08, 0.04},
    {"roomy", [](const Traits& t) { return -t.least_gap_mm + 0.3 * t.play_factor; }, 4.0, 2.0},
}};

// [count] Enough that a share of one in twenty is known to a tenth of itself.
constexpr int kTrialBuilds = 3000;
// [mm] Hinges shown side by side differ by this in some pivot.
constexpr double kShownApart_mm = 10.0;

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
  const Candidate figures = Assess(box.task, pivots);
  traits.play_factor = figures.play_factor;
  traits.lift_factor = figures.lift_factor;
  const SeamOff seam = SeamOffOneInTwenty(
      *motion, box.job.shop.drill_error_mm,
      {-box.job.case_form.back_bow_mm, box.job.case_form.depth_mm + box.job.case_form.front_bow_mm,
       box.job.swing.open_rad});
  traits.seam_off_mm = seam.off_mm;
  traits.seam_stuck_share = seam.stuck_share;
  traits.seam_first_order_mm = seam.first_order_mm;
  traits.reach_behind_mm = figures.reach_behind_mm;
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

namespace {

// What is made once arms are known: the other parts and the forces.
void AddParts(const BoxModel& box, Hinge& hinge) {
  const std::optional<LidMotion> motion = LidMotion::Make(hinge.pivots);
  if (!hinge.arm_a || !hinge.arm_b || !motion) return;
  if (motion->Range().high_rad <= box.limits.open_rad) return;
  if (AllMet(hinge.verdicts)) {
    hinge.parts = MakeHingeSet(box.arms, Swing(*motion, 0.0, box.limits.open_rad), *hinge.arm_a,
                               *hinge.arm_b);
  }
  const Arm &a = *hinge.arm_a, &b = *hinge.arm_b;
  // An arm with an open eye bears nothing.
  if (WebRoundHoles(a) <= 0.0 || WebRoundHoles(b) <= 0.0) return;
  hinge.forces = ForcesOf(box.job, box.solid, *motion, box.task.front_edge, a, b,
                          hinge.parts ? LoadCaseOf(box.job, box.solid, a, b, *hinge.parts)
                                      : UsualLoadCase(box.job, box.solid, a, b));
  const auto pairs = PairsBetween(box.box.Shapes(PartKind::kLid), box.box.Shapes(PartKind::kCase));
  for (const double theta : hinge.forces->feel.theta_rad) {
    hinge.gap_by_angle_mm.push_back(std::max(0.0, GapAt(BodiesAt(*motion, theta), pairs)->gap_mm));
  }
}

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
  return hinge;
}

Hinge JudgeHinge(const BoxModel& box, const GivenHinge& given) {
  const auto arm = [&](const std::optional<GivenArm>& wanted, const Vec2& ground, const Vec2& lid) {
    std::optional<Arm> made;
    if (wanted) {
      const double hole = std::isnan(wanted->hole_mm) ? box.job.arms.bushing_mm : wanted->hole_mm;
      made = GivenArmAsCut(box.arms, wanted->outline, {ground, hole / 2.0}, {lid, hole / 2.0},
                           wanted->layer);
    }
    return made;
  };
  return JudgeHinge(box, {given.case_a, given.case_b, given.lid_a, given.lid_b},
                    arm(given.arm_a, given.case_a, given.lid_a),
                    arm(given.arm_b, given.case_b, given.lid_b));
}

Design MakeDesign(const BoxModel& box, const DesignOptions& options) {
  Design design;
  design.job = box.job;
  design.solid = box.solid;
  const auto report = [&](const std::string& what, double share) {
    if (options.progress) options.progress(what, share);
  };
  report("plain hinge", 0.0);
  design.plain = MapPlainHinges(box.solid, box.box, box.limits, box.task, options.threads);
  HingeSearchOptions search;
  search.threads = options.threads;
  search.seeds = options.seeds;
  search.progress = options.progress;
  HingeSearchResult found = SearchHinges(box, search);
  design.search = found.record;
  std::vector<Hinge>& all = found.hinges;
  if (all.empty()) {
    design.none = ExplainNoHinge(box, found, options);
    return design;
  }
  // The best of each character, if it differs from those already chosen.
  for (const Character& character : kCharacters) {
    std::stable_sort(all.begin(), all.end(), [&](const Hinge& a, const Hinge& b) {
      const auto score = [&](const Hinge& hinge) {
        return character.score(hinge.traits) + character.frailty * Frailty(hinge.traits) +
               character.fussiness * Fussiness(hinge.traits);
      };
      return score(a) < score(b);
    });
    for (const Hinge& hinge : all) {
      const bool fresh =
          std::none_of(design.hinges.begin(), design.hinges.end(), [&](const Hinge& other) {
            return Apart_mm(hinge.pivots, other.pivots) < kShownApart_mm;
          });
      if (!fresh) continue;
      design.hinges.push_back(hinge);
      design.hinges.back().character = character.name;
      break;
    }
  }
  for (Hinge& hinge : design.hinges) AddParts(box, hinge);
  // One whose parts can all be made is drawn and cut before one that leaves some open.
  std::stable_sort(design.hinges.begin(), design.hinges.end(), [&](const Hinge& a, const Hinge& b) {
    const bool a_whole = a.parts && a.parts->complete, b_whole = b.parts && b.parts->complete;
    return a_whole != b_whole ? a_whole : Merit(a.traits) < Merit(b.traits);
  });
  if (!design.hinges.empty()) {
    report("trial builds", 0.0);
    BuildOptions builds;
    builds.builds = kTrialBuilds;
    builds.seed = box.job.seed;
    builds.threads = options.threads;
    builds.front_edge = box.task.front_edge;
    const std::optional<HingeSet>& parts = design.hinges.front().parts;
    if (parts && parts->hardware) builds.play_mm = parts->hardware->running_mm;
    design.hinges.front().accuracy =
        AccuracyOf(box.job, parts ? parts->assembly : box.box, box.limits,
                   *LidMotion::Make(design.hinges.front().pivots), builds);
  }
  return design;
}

}  // namespace lidwright
