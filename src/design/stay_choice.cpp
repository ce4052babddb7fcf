// SPDX-License-Identifier: Apache-2.0
#include "lidwright/design/stay_choice.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "lidwright/arms/stay.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/design/merit.h"
#include "lidwright/design/sized_design.h"
#include "lidwright/forces/requirements.h"
#include "lidwright/forces/screws.h"
#include "lidwright/forces/stop_loads.h"
#include "strengthen.h"

namespace lidwright {
namespace {

// [mm] The thinnest screw with the narrowest head: places for it are looked at.
constexpr double kShank_mm = 2.0, kHead_mm = 5.0;
// [mm/rad] A stay that grows slower than this at the open lid sets the angle badly: 1 mm of it
// would be two degrees.
constexpr double kLeastRate_mm = 30.0;
// [mm] Shorter ones are fiddly.
constexpr double kShortest_mm = 40.0;
// [count] Pairs of ends that are looked at, and stays that are made.
constexpr std::size_t kMostEnds = 48;
constexpr int kMostMade = 6;
constexpr int kDirections = 72;
// [times] Where it does not mend all, a stay is worth it if the hinge bears so much more.
constexpr double kWorthIt = 2.0;
// [mm] Stays that are tried differ by this in an end.
constexpr double kApart_mm = 20.0;
// The wood's specific gravity by its density, 12 % of it water.
constexpr double kDensityPerGravity_kg_m3 = 1120.0;

std::vector<Vec2> Spread(const std::vector<Vec2>& all) {
  std::vector<Vec2> some;
  const std::size_t stride = std::max<std::size_t>(1, (all.size() + kMostEnds - 1) / kMostEnds);
  for (std::size_t i = stride / 2; i < all.size(); i += stride) some.push_back(all[i]);
  return some;
}

struct Placed {
  Vec2 on_case, on_lid;
  double length_mm;
  StopLoads loads;
};

// By the load that they leave the worst pin, least first.
std::vector<Placed> PlacedStays(const BoxModel& box, const LidMotion& motion,
                                const LoadCase& load) {
  const double open = box.limits.open_rad;
  const Pose X_CL = motion.At(open).X_CL;
  const StayEnds ends = PlacesForStays(box.arms, motion, kShank_mm, kHead_mm);
  std::vector<Placed> placed;
  for (const Vec2& on_case : Spread(ends.on_case)) {
    for (const Vec2& on_lid : Spread(ends.on_lid)) {
      if ((X_CL * on_lid - on_case).norm() < kShortest_mm) continue;
      const StayRun run = StayRunOf(on_case, on_lid, motion, open);
      if (!run.HoldsOnlyOpen() || run.rate_mm < kLeastRate_mm) continue;
      if (RoomRoundTaut_mm(box.arms, motion, on_case, on_lid) < box.limits.arms_gap_mm) continue;
      const StopPlace place{StopKind::kStay, Body::kLid, on_lid, on_case};
      const StopLoads loads =
          StopLoadsOf(place, load, motion, open, box.task.front_edge, kDirections);
      if (loads.rest_n < 0.0) continue;
      placed.push_back({on_case, on_lid, run.open_mm, loads});
    }
  }
  std::stable_sort(placed.begin(), placed.end(), [](const Placed& a, const Placed& b) {
    return a.loads.WorstPin_n() < b.loads.WorstPin_n();
  });
  return placed;
}

// The simplest that is sold for it and hangs loose, with the thinnest screws that hold it.
std::optional<Stay> SoldFor(const BoxModel& box, const HingeSet& parts, const LidMotion& motion,
                            const Placed& placed) {
  const double load_n = std::max(placed.loads.worst_n, placed.loads.rest_n);
  const double gravity = box.job.loads.density_kg_m3 / kDensityPerGravity_kg_m3;
  std::optional<Stay> stay;
  for (const StockStay& sold : StaysToTry(load_n, placed.length_mm)) {
    if (sold.kind == StayKind::kFoldingStay) continue;  // it would want room for its knee
    stay.emplace();
    stay->sold = sold;
    break;
  }
  if (!stay) return stay;
  stay->on_case = placed.on_case;
  stay->on_lid = placed.on_lid;
  stay->lid_end_open = motion.At(box.limits.open_rad).X_CL * placed.on_lid;
  stay->length_mm = placed.length_mm;
  for (const StayFixing& fixing :
       FixingsToTry(box.arms, placed.on_case, placed.on_lid, parts.stack->lid_end_wall_mm)) {
    const double depth = std::min(fixing.in_case.thread_mm, fixing.in_lid.thread_mm);
    const double bears = fixing.share * ScrewSideLoad_n(gravity, fixing.shank_mm, depth);
    if (bears < WantedFor(Situation::kLeaning, Stressed::kScrew).factor * load_n) continue;
    stay->fixing = fixing;
    return stay;
  }
  return std::nullopt;
}

}  // namespace

void AddStayWhereNeeded(const BoxModel& box, Hinge& hinge) {
  if (Does(hinge) || !AllMet(hinge.verdicts)) return;
  if (!hinge.parts || !hinge.parts->stack || !hinge.forces || !hinge.arm_a || !hinge.arm_b) return;
  const LidMotion motion = *LidMotion::Make(hinge.pivots);
  const Swing swing(motion, 0.0, box.limits.open_rad);
  Strengthen(box, swing, hinge);
  if (box.job.loads.stay || Does(hinge)) return;
  std::vector<Placed> tried;
  std::optional<Hinge> best;
  for (const Placed& placed : PlacedStays(box, motion, hinge.forces->load)) {
    const bool like_another = std::any_of(tried.begin(), tried.end(), [&](const Placed& other) {
      return std::max((other.on_case - placed.on_case).norm(),
                      (other.on_lid - placed.on_lid).norm()) < kApart_mm;
    });
    if (like_another) continue;
    const std::optional<Stay> stay = SoldFor(box, *hinge.parts, motion, placed);
    if (!stay) continue;
    if (static_cast<int>(tried.size()) == kMostMade) break;
    tried.push_back(placed);
    HingeSetOptions options = AsMade(hinge);
    options.stay = *stay;
    Hinge held = MadeAnew(box, swing, hinge, options);
    if (!ClearsWithAllParts(held)) continue;
    Strengthen(box, swing, held);
    const bool better = !best || held.merit.strength < best->merit.strength;
    if (better) best = std::move(held);
    if (Does(*best)) break;
  }
  if (!best) return;
  const auto times = [](const Hinge& h, bool leaning) { return HoldsTimes(*h.forces, leaning); };
  if (times(*best, false) < 1.0 && times(hinge, false) >= 1.0) return;
  const bool made = hinge.parts->complete;
  if (Does(*best) || !made || times(*best, true) > kWorthIt * times(hinge, true)) {
    hinge = std::move(*best);
  }
}

}  // namespace lidwright
