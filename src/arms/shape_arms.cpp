// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/shape_arms.h"

#include <algorithm>
#include <cmath>
#include <utility>

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
// [mm] Kept beyond an arm's gap when it is routed, for the room's grids and sampled angles: little,
// then more if the certificate falls short.
constexpr double kReserve_mm = 0.25, kLargeReserve_mm = 1.0;
// [–] And by so many drill errors more where there is room, so that hardly one build in a hundred
// has less than the gap.
constexpr double kReserveInErrors = 2.5;

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
                  const Circle& lid_hole, int layer, const Centreline& centreline) {
  const bool known = centreline.size() >= 2 &&
                     (centreline.front().point - case_hole.centre).norm() < kSamePivot_mm &&
                     (centreline.back().point - lid_hole.centre).norm() < kSamePivot_mm;
  const Centreline straight{{case_hole.centre, 0.0}, {lid_hole.centre, 0.0}};
  return Placed(task, known ? centreline : straight, outline, case_hole, lid_hole, layer);
}

namespace {

// An arm and its shapes for certificates, which take longer to prepare than to use.
struct ShapedArm {
  Arm arm;
  std::vector<Assembly::Registered> shapes;
};

std::vector<Assembly::Registered> ShapesOf(const Arm& arm, Body body, bool mirrored) {
  const std::vector<Ring> rings{Flatten(arm.outline, kChordError_mm, Chords::kOutside)};
  const auto shape = [&](double z_min, double z_max) {
    return Assembly::Registered{
        PartKind::kArm, MemberOf(body), std::nullopt, true,
        std::make_shared<const PartTree>(MakePrism(NameOf(body), body, z_min, z_max, rings))};
  };
  std::vector<Assembly::Registered> shapes{shape(arm.z_min_mm, arm.z_max_mm)};
  // A box whose ends differ has the same arms at both: the other end's must clear as well.
  if (!mirrored) shapes.push_back(shape(-arm.z_max_mm, -arm.z_min_mm));
  return shapes;
}

std::optional<ShapedArm> WithShapes(const std::optional<Arm>& arm, Body body, bool mirrored) {
  if (!arm) return std::nullopt;
  return ShapedArm{*arm, ShapesOf(*arm, body, mirrored)};
}

Verdicts CertifyShaped(const ArmsTask& task, const Swing& swing,
                       const std::optional<ShapedArm>& arm_a,
                       const std::optional<ShapedArm>& arm_b) {
  Verdicts verdicts;
  Assembly assembly = task.box;
  for (const auto& [arm, body] : {std::pair(&arm_a, Body::kArmA), std::pair(&arm_b, Body::kArmB)}) {
    if (*arm) {
      for (const Assembly::Registered& shape : (*arm)->shapes) assembly.Add(shape);
      continue;
    }
    Verdict none;
    none.what = Requirement::kArmRouted;
    none.of = MemberOf(body);
    none.outcome = Outcome::kViolated;
    none.why = Why::kNoWay;
    verdicts.push_back(none);
  }
  if (arm_a && arm_b && arm_a->arm.layer != arm_b->arm.layer) {
    const bool outer_is_b = arm_b->arm.layer > arm_a->arm.layer;
    AddPinsToBe(task, outer_is_b ? arm_b->arm : arm_a->arm, outer_is_b ? Body::kArmB : Body::kArmA,
                assembly);
  }
  const Verdicts gaps = CertifyGaps(assembly, swing, task.limits, Stage::kArms);
  verdicts.insert(verdicts.end(), gaps.begin(), gaps.end());
  if (arm_a && arm_b) {
    const double innermost = std::min(arm_a->arm.z_min_mm, arm_b->arm.z_min_mm);
    verdicts.push_back(Reckoned(Requirement::kLayersInBay, Unit::kMm, 0.0,
                                innermost - kWasher_mm - task.solid.bay.z_min_mm));
  }
  return verdicts;
}

}  // namespace

void AddArm(const Arm& arm, Body body, bool mirrored, Assembly& assembly) {
  for (Assembly::Registered& shape : ShapesOf(arm, body, mirrored)) assembly.Add(std::move(shape));
}

Verdicts CertifyArms(const ArmsTask& task, const Swing& swing, const std::optional<Arm>& arm_a,
                     const std::optional<Arm>& arm_b) {
  return CertifyShaped(task, swing, WithShapes(arm_a, Body::kArmA, task.solid.mirrored),
                       WithShapes(arm_b, Body::kArmB, task.solid.mirrored));
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

namespace {

// The first arm whose certificate alone says yes, else the last one tried.
std::optional<ShapedArm> Routed(const ArmsTask& task, const Swing& swing, Body body,
                                const std::vector<Disc>& discs) {
  const ArmRoom room(task.obstacles, swing.linkage(), body, task.limits.open_rad, discs);
  std::optional<ShapedArm> found;
  const double roomy = kReserve_mm + kReserveInErrors * task.job.shop.drill_error_mm;
  for (const double reserve : {roomy, kReserve_mm, kLargeReserve_mm}) {
    const auto line = RouteArm(room, task.shape, task.job.arms.gap_mm + reserve);
    const std::optional<Arm> arm = line ? Shaped(task, *line, 0) : std::nullopt;
    if (!arm && reserve == kReserve_mm) break;  // with more there is none either
    if (!arm) continue;
    found = WithShapes(arm, body, task.solid.mirrored);
    Assembly alone = task.box;
    for (const Assembly::Registered& shape : found->shapes) alone.Add(shape);
    if (AllKept(alone, swing, task.limits, Stage::kArms)) break;
  }
  return found;
}

std::optional<ShapedArm> Lifted(const ArmsTask& task, Arm arm, Body body) {
  const LayerSpan span = SpanOf(task.job, task.solid, 1);
  arm.layer = 1;
  arm.z_min_mm = span.z_min_mm;
  arm.z_max_mm = span.z_max_mm;
  return WithShapes(arm, body, task.solid.mirrored);
}

}  // namespace

ArmsResult ShapeArms(const ArmsTask& task, const Swing& swing) {
  const Pivots& p = swing.linkage().pivots();
  ArmsResult best;
  const auto consider = [&](const std::optional<ShapedArm>& a, const std::optional<ShapedArm>& b) {
    ArmsResult result;
    if (a) result.arm_a = a->arm;
    if (b) result.arm_b = b->arm;
    result.verdicts = CertifyShaped(task, swing, a, b);
    result.met = a && b && AllMet(result.verdicts);
    const auto unmet = [](const Verdicts& verdicts) {
      return std::count_if(verdicts.begin(), verdicts.end(),
                           [](const Verdict& v) { return !v.met(); });
    };
    if (best.verdicts.empty() || unmet(result.verdicts) < unmet(best.verdicts)) best = result;
    return best.met;
  };
  const auto a = Routed(task, swing, Body::kArmA, {}), b = Routed(task, swing, Body::kArmB, {});
  if (consider(a, b) || !a || !b) return best;
  // Nothing but the other arm may be in the way for layers to help.
  const auto over_a = Lifted(task, b->arm, Body::kArmB);
  if (consider(a, over_a)) return best;
  const auto over_b = Lifted(task, a->arm, Body::kArmA);
  if (consider(over_b, b)) return best;
  const auto around_b = Routed(task, swing, Body::kArmA, DiscsOf(task, p.case_b, p.lid_b));
  if (around_b && consider(around_b, over_a)) return best;
  const auto around_a = Routed(task, swing, Body::kArmB, DiscsOf(task, p.case_a, p.lid_a));
  if (around_a) consider(over_b, around_a);
  return best;
}

}  // namespace lidwright
