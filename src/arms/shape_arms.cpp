// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/shape_arms.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "lidwright/arms/arm_route.h"
#include "lidwright/arms/hardware.h"
#include "lidwright/base/check.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/synthesis/arm_ways.h"

namespace lidwright {
namespace {

// [mm] Room kept for plates between end wall and arms, more if the job has thicker ones; and for a
// washer beside each arm.
constexpr double kPlate_mm = 6.0;
constexpr double kWasher_mm = 1.0;
// [mm] Kept beyond an arm's gap when it is routed, for the room's grids and sampled angles: little
// first, then more if the certificate falls short.
constexpr std::array<double, 2> kReserves_mm{0.25, 1.0};

Arm Placed(const ArmsTask& task, const Centreline& line, const Outline& outline,
           const Circle& case_hole, const Circle& lid_hole, int layer) {
  Arm arm{line, outline, case_hole, lid_hole, layer, 0.0, 0.0, 0.0, 0.0};
  const LayerSpan span = SpanOf(task.job, task.solid, layer);
  arm.z_min_mm = span.z_min_mm;
  arm.z_max_mm = span.z_max_mm;
  arm.inside_radius_mm = SmallestInsideRadius(outline);
  arm.length_mm = (lid_hole.centre - case_hole.centre).norm();
  return arm;
}

std::optional<Arm> Shaped(const ArmsTask& task, const Centreline& line, int layer) {
  const double hole = task.shape.hole_mm / 2.0;
  const Arm arm = Placed(task, line, ArmOutline(line, task.shape), {line.front().point, hole},
                         {line.back().point, hole}, layer);
  if (FaultOf(Flatten(arm.outline, kChordError_mm))) return std::nullopt;  // meets itself
  if (arm.inside_radius_mm < task.shape.inside_mm * (1.0 - 1e-9)) return std::nullopt;
  return arm;
}

Member MemberOf(Body arm) {
  return arm == Body::kArmA ? Member::kArmA : Member::kArmB;
}
const char* NameOf(Body arm) {
  return arm == Body::kArmA ? "arm A" : "arm B";
}

// Pins with their spacers of an arm on the outer layer, where they pass the inner one.
void AddPinsToBe(const ArmsTask& task, const Arm& outer, Body outer_body, Assembly& assembly) {
  const LayerSpan inner = SpanOf(task.job, task.solid, 0);
  const double radius = SpacerOutside_mm(task.job) / 2.0;
  const auto add = [&](const std::string& name, Body body, const Vec2& centre) {
    assembly.Add(PartKind::kPinToBe, MemberOf(outer_body),
                 MakePrism(name + " of " + NameOf(outer_body), body, inner.z_min_mm - kWasher_mm,
                           inner.z_max_mm,
                           {Flatten(Circle{centre, radius}, kChordError_mm, Chords::kOutside)}));
  };
  add("case pin", Body::kCase, outer.case_hole.centre);
  add("lid pin", Body::kLid, outer.lid_hole.centre);
}

std::vector<Disc> DiscsOf(const ArmsTask& task, const Vec2& case_pivot, const Vec2& lid_pivot) {
  const double radius = SpacerOutside_mm(task.job) / 2.0;
  return {{Body::kCase, case_pivot, radius}, {Body::kLid, lid_pivot, radius}};
}

}  // namespace

ArmsTask MakeArmsTask(const Job& job, const Solid& solid, const LidTask& task,
                      const Assembly& box) {
  const ArmShape shape{job.arms.width_mm, job.arms.eye_mm, job.arms.bushing_mm,
                       job.shop.cutter_mm / 2.0};
  return {job, solid, box, LimitsOf(job, solid), MakeArmObstacles(job, solid, task), shape};
}

namespace {

// What plates take of the bay before the arms.
double PlateRoom(const Job& job) {
  const PlateWish plates = PlatesOf(job);
  if (plates.on_lid) return std::max(kPlate_mm, plates.packing_mm + plates.lid_mm);
  return plates.on_case ? plates.case_mm : 0.0;
}

}  // namespace

LayerSpan SpanOf(const Job& job, const Solid& solid, int layer) {
  LW_REQUIRE(layer == 0 || layer == 1, "layer=" << layer);
  const double top = solid.bay.z_max_mm - PlateRoom(job) - kWasher_mm -
                     layer * (job.arms.thickness_mm + kWasher_mm);
  return {top - job.arms.thickness_mm, top};
}

Arm GivenArmAsCut(const ArmsTask& task, const Outline& outline, const Circle& case_hole,
                  const Circle& lid_hole, int layer) {
  return Placed(task, {{case_hole.centre, 0.0}, {lid_hole.centre, 0.0}}, outline, case_hole,
                lid_hole, layer);
}

void AddArm(const Arm& arm, Body body, bool mirrored, Assembly& assembly) {
  const auto add = [&](double z_min, double z_max) {
    assembly.Add({PartKind::kArm, MemberOf(body), std::nullopt, true,
                  std::make_shared<const PartTree>(
                      MakePrism(NameOf(body), body, z_min, z_max,
                                {Flatten(arm.outline, kChordError_mm, Chords::kOutside)}))});
  };
  add(arm.z_min_mm, arm.z_max_mm);
  // A box whose ends differ has the same arms at both: the other end's must clear as well.
  if (!mirrored) add(-arm.z_max_mm, -arm.z_min_mm);
}

Verdicts CertifyArms(const ArmsTask& task, const Swing& swing, const std::optional<Arm>& arm_a,
                     const std::optional<Arm>& arm_b) {
  Verdicts verdicts;
  Assembly assembly = task.box;
  for (const auto& [arm, body] : {std::pair(&arm_a, Body::kArmA), std::pair(&arm_b, Body::kArmB)}) {
    if (*arm) {
      AddArm(**arm, body, task.solid.mirrored, assembly);
      continue;
    }
    Verdict none;
    none.what = Requirement::kArmRouted;
    none.of = MemberOf(body);
    none.outcome = Outcome::kViolated;
    none.why = Why::kNoWay;
    verdicts.push_back(none);
  }
  const bool layers = arm_a && arm_b && arm_a->layer != arm_b->layer;
  if (layers) {
    const bool outer_is_b = arm_b->layer > arm_a->layer;
    AddPinsToBe(task, outer_is_b ? *arm_b : *arm_a, outer_is_b ? Body::kArmB : Body::kArmA,
                assembly);
  }
  const Verdicts gaps = CertifyGaps(assembly, swing, task.limits, Stage::kArms);
  verdicts.insert(verdicts.end(), gaps.begin(), gaps.end());
  if (arm_a && arm_b) {
    const double innermost = std::min(arm_a->z_min_mm, arm_b->z_min_mm);
    verdicts.push_back(Reckoned(Requirement::kLayersInBay, Unit::kMm, 0.0,
                                innermost - kWasher_mm - task.solid.bay.z_min_mm));
  }
  return verdicts;
}

Verdicts LidPlateRoom(const ArmsTask& task, const LidMotion& motion) {
  const Pivots& pivots = motion.pivots();
  const double need = task.shape.eye_mm / 2.0 + task.job.arms.gap_mm;
  const double pin = SpacerOutside_mm(task.job) / 2.0;
  const std::vector<Disc> pins{{Body::kCase, pivots.case_a, pin},
                               {Body::kCase, pivots.case_b, pin}};
  // The lid's end wall beside the bay, solid from the seam to the dome.
  const Station& end = EndWallBeside(task.solid);
  Verdicts verdicts;
  for (const auto& [member, pivot] :
       {std::pair(Member::kLidPinA, pivots.lid_a), std::pair(Member::kLidPinB, pivots.lid_b)}) {
    const ArmRoom room(task.obstacles, motion, pivot, task.job.swing.open_rad, pins);
    const bool reaches = room.Reaches(need, [&](const Vec2& p) {
      return Contains(end.lid_rings, p) &&
             SignedDistance(end.lid_rings, p) < -ArmWays::kPlateHold_mm;
    });
    Verdict verdict;
    verdict.what = Requirement::kPlateReaches;
    verdict.of = member;
    verdict.sampled = true;
    verdict.outcome = reaches ? Outcome::kClear : Outcome::kViolated;
    if (!reaches) verdict.why = Why::kNoPlateWay;
    verdicts.push_back(verdict);
  }
  return verdicts;
}

ArmsResult ShapeArms(const ArmsTask& task, const Swing& swing) {
  const LidMotion& motion = swing.linkage();
  const double open = task.limits.open_rad;
  const Pivots& p = motion.pivots();
  ArmsResult best;
  const auto route = [&](Body body, const std::vector<Disc>& discs, int layer) {
    const ArmRoom room(task.obstacles, motion, body, open, discs);
    std::optional<Arm> found;
    for (const double reserve : kReserves_mm) {
      const auto line = RouteArm(room, task.shape, task.job.arms.gap_mm + reserve);
      const std::optional<Arm> arm = line ? Shaped(task, *line, layer) : std::nullopt;
      if (!arm) break;
      found = arm;
      Assembly alone = task.box;
      AddArm(*arm, body, task.solid.mirrored, alone);
      CertifyOptions yes_or_no;
      yes_or_no.all = false;
      if (AllMet(CertifyGaps(alone, swing, task.limits, Stage::kArms, yes_or_no))) break;
    }
    return found;
  };
  const auto consider = [&](const std::optional<Arm>& a, const std::optional<Arm>& b) {
    ArmsResult result{a, b, CertifyArms(task, swing, a, b), false};
    result.met = a && b && AllMet(result.verdicts);
    const auto unmet = [](const Verdicts& verdicts) {
      return std::count_if(verdicts.begin(), verdicts.end(),
                           [](const Verdict& v) { return !v.met(); });
    };
    if (best.verdicts.empty() || unmet(result.verdicts) < unmet(best.verdicts)) best = result;
    return best.met;
  };
  const std::optional<Arm> a = route(Body::kArmA, {}, 0), b = route(Body::kArmB, {}, 0);
  if (!a || !b) {
    consider(a, b);
    return best;
  }
  if (consider(a, b)) return best;
  // Nothing but the other arm may be in the way for layers to help.
  const auto lifted = [&](Arm arm) {
    const LayerSpan span = SpanOf(task.job, task.solid, 1);
    arm.layer = 1;
    arm.z_min_mm = span.z_min_mm;
    arm.z_max_mm = span.z_max_mm;
    return arm;
  };
  if (consider(a, lifted(*b)) || consider(lifted(*a), b)) return best;
  if (const auto around = route(Body::kArmA, DiscsOf(task, p.case_b, p.lid_b), 0);
      around && consider(around, lifted(*b))) {
    return best;
  }
  if (const auto around = route(Body::kArmB, DiscsOf(task, p.case_a, p.lid_a), 0)) {
    consider(lifted(*a), around);
  }
  return best;
}

}  // namespace lidwright
