// SPDX-License-Identifier: Apache-2.0
#include "lidwright/accuracy/hole_slopes.h"

#include <algorithm>
#include <limits>
#include <numeric>

#include "lidwright/base/tolerances.h"

namespace lidwright {
namespace {

// [–] A gap changes by no more than this per mm of a hole in linkages worth building: pairs that
// keep more than what is asked plus this many times the reach are left out.
constexpr double kSteepest = 3.0;
// [–] Angles at which a pair is looked at before its least gap is walked for.
constexpr int kLooks = 60;
// [mm] Step of the differences: far above the distances' rounding, far below a gap.
constexpr double kStep_mm = 0.01;

// Where the two holes of a body bring what they carry.
Pose Carried(const Vec2& a, const Vec2& b, const Vec2& built_a, const Vec2& built_b) {
  const Vec2 was = b - a, is = built_b - built_a;
  const double turn = std::atan2(Cross(was, is), was.dot(is));
  const Vec2 middle = (a + b) / 2.0;
  Pose pose = Pose::About(middle, turn);
  pose.origin += (built_a + built_b) / 2.0 - middle;
  return pose;
}

// A part of the hinge as its holes carry it, the lid shut; the box's own parts stay.
Pose PlacedBy(const Assembly::Registered& part, const Pivots& designed, const Pivots& built) {
  if (part.kind != PartKind::kArm && part.kind != PartKind::kPiece) return {};
  switch (part.shape->body()) {
    case Body::kCase:
      return Carried(designed.case_a, designed.case_b, built.case_a, built.case_b);
    case Body::kLid:
      return Carried(designed.lid_a, designed.lid_b, built.lid_a, built.lid_b);
    case Body::kArmA:
      return Carried(designed.case_a, designed.lid_a, built.case_a, built.lid_a);
    case Body::kArmB:
      return Carried(designed.case_b, designed.lid_b, built.case_b, built.lid_b);
    default:
      return {};
  }
}

// Differences of a quantity of built linkages, one pivot number at a time. `of` takes the built
// motion; builds that do not reach `theta_rad` change nothing here: they cannot be opened.
template <typename Quantity>
PivotNumbers Differences(const LidMotion& motion, double theta_rad, const Quantity& of) {
  const PivotNumbers designed = NumbersOf(motion.pivots());
  PivotNumbers slopes{};
  for (std::size_t k = 0; k < slopes.size(); ++k) {
    double value[2] = {0.0, 0.0};
    bool both = true;
    for (const int side : {0, 1}) {
      PivotNumbers off = designed;
      off[k] += side == 0 ? -kStep_mm : kStep_mm;
      const auto built = LidMotion::Make(PivotsOf(off.data()));
      both = both && built && built->Range().high_rad > theta_rad;
      if (both) value[side] = of(*built);
    }
    if (both) slopes[k] = (value[1] - value[0]) / (2.0 * kStep_mm);
  }
  return slopes;
}

double GapBuilt(const std::array<const Assembly::Registered*, 2>& parts, const LidMotion& designed,
                const LidMotion& built, double theta_rad) {
  BodiesAt bodies(built, theta_rad);
  for (const Assembly::Registered* part : parts) {
    const Body body = part->shape->body();
    bodies.Put(body, bodies.Of(body) * PlacedBy(*part, designed.pivots(), built.pivots()), 0.0,
               Vec2::Zero());
  }
  return GapAt(bodies, {{parts[0]->shape.get(), parts[1]->shape.get()}})->gap_mm;
}

// May this pair come that near? By looking at it here and there.
bool ComesWithin(double limit_mm, const PartPair& pair, const Swing& stretch) {
  for (int i = 0; i <= kLooks; ++i) {
    const double s = stretch.from() + (stretch.to() - stretch.from()) * i / kLooks;
    if (GapAt(stretch.At(s), {pair})->gap_mm < limit_mm) return true;
  }
  return false;
}

Spoilable OfGaps(const GapRule& rule, const GapGroup& group, const Swing& stretch,
                 const Limits& limits, double reach_mm) {
  Spoilable found{rule.what, group.member, {}};
  const double required = LimitOf(rule, limits) - rule.slack_mm;
  const LidMotion& motion = stretch.linkage();
  for (std::size_t i = 0; i < group.pairs.size(); ++i) {
    if (!ComesWithin(required + kSteepest * reach_mm, group.pairs[i], stretch)) continue;
    const GapReport report = LeastGap(stretch, {group.pairs[i]});
    if (!report.proven() || !report.nearest) {  // missed as designed
      found.spots.push_back({-std::numeric_limits<double>::infinity(), {}});
      continue;
    }
    const double theta = report.nearest->at;
    found.spots.push_back(
        {*report.bound_mm - required, Differences(motion, theta, [&](const LidMotion& built) {
           return GapBuilt(group.parts[i], motion, built, theta);
         })});
  }
  return found;
}

// How fast the rim parts at its slowest contact, over nothing.
std::optional<Spoilable> OfParting(const Assembly& assembly, const GapRule& rule,
                                   const GapGroup& group, const LidMotion& motion,
                                   const Limits& limits) {
  std::vector<std::shared_ptr<const ShutPair>> shut;
  for (const PartPair& pair : group.pairs) {
    shut.push_back(assembly.ShutOf(pair, LimitOf(rule, limits)));
    if (!shut.back()) {
      shut.back() = std::make_shared<const ShutPair>(pair, LimitOf(rule, limits));
    }
  }
  const auto parting = [&](const LidMotion& built) {
    const Swing first(built, 0.0, limits.gap_from_rad);
    double slowest = std::numeric_limits<double>::infinity();
    for (const auto& pair : shut) {
      slowest = std::min(slowest, PartingSpeed_mm(first, *pair));
    }
    return slowest;
  };
  const double designed = parting(motion);
  if (!std::isfinite(designed)) return std::nullopt;
  PivotNumbers slopes = Differences(motion, limits.gap_from_rad, parting);
  for (double& slope : slopes) slope = std::isfinite(slope) ? slope : 0.0;
  return Spoilable{rule.what, group.member, {{designed, slopes}}};
}

std::vector<Spoilable> OfOpenLid(const Assembly& assembly, const LidMotion& motion,
                                 const Limits& limits) {
  const auto access = [&](const LidMotion& built) {
    return AccessAt(assembly, built.At(limits.open_rad).X_CL, limits);
  };
  const Access designed = access(motion);
  std::vector<Spoilable> found;
  if (std::isfinite(limits.open_behind_x_mm)) {
    found.push_back({Requirement::kOpenLidForemost,
                     Member::kNone,
                     {{limits.open_behind_x_mm - designed.foremost_x_mm,
                       Differences(motion, limits.open_rad, [&](const LidMotion& built) {
                         return -access(built).foremost_x_mm;
                       })}}});
  }
  found.push_back({Requirement::kMouthFree,
                   Member::kNone,
                   {{designed.mouth_free - limits.mouth_free,
                     Differences(motion, limits.open_rad, [&](const LidMotion& built) {
                       return access(built).mouth_free;
                     })}}});
  return found;
}

}  // namespace

bool Spoilable::Missed(const PivotNumbers& errors) const {
  return std::any_of(spots.begin(), spots.end(), [&](const HoleSlope& spot) {
    return std::inner_product(errors.begin(), errors.end(), spot.per_mm.begin(), spot.over) < 0.0;
  });
}

std::vector<Spoilable> SpoiltByHoles(const Assembly& assembly, const LidMotion& motion,
                                     const Limits& limits, double reach_mm) {
  std::vector<Spoilable> found = OfOpenLid(assembly, motion, limits);
  const Swing whole(motion, 0.0, limits.open_rad);
  for (const GapRule& rule : GapRules()) {
    // A stop is set when the lid hangs: the holes do not spoil it.
    if (rule.what == Requirement::kLidToCase || rule.stage == Stage::kStop) continue;
    const std::optional<Swing> stretch = StretchOf(rule, whole, limits);
    if (!stretch) continue;
    for (const GapGroup& group : GapGroups(rule, assembly)) {
      if (rule.stretch == Stretch::kFirst) {
        if (auto parting = OfParting(assembly, rule, group, motion, limits))
          found.push_back(*parting);
      } else {
        found.push_back(OfGaps(rule, group, *stretch, limits, reach_mm));
      }
    }
  }
  found.erase(std::remove_if(found.begin(), found.end(),
                             [](const Spoilable& s) { return s.spots.empty(); }),
              found.end());
  return found;
}

}  // namespace lidwright
