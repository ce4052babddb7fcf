// SPDX-License-Identifier: Apache-2.0
#include "lidwright/design/correction.h"

#include <array>

#include "lidwright/arms/straight_pins.h"
#include "lidwright/design/merit.h"
#include "lidwright/synthesis/search.h"

namespace lidwright {
namespace {

// [mm] Kept to spare by the move that is then shortened.
constexpr double kReserve_mm = 0.5;
// [count] Halvings of a move, from both ends: to a thousandth of it.
constexpr int kHalvings = 10;

using Slot = Vec2 Pivots::*;
struct Named {
  Member pin;
  Slot slot;
  std::optional<Vec2> PivotWish::*wish;
};
const std::array<Named, 4> kPivots{{
    {Member::kCasePinA, &Pivots::case_a, &PivotWish::case_a},
    {Member::kCasePinB, &Pivots::case_b, &PivotWish::case_b},
    {Member::kLidPinA, &Pivots::lid_a, &PivotWish::lid_a},
    {Member::kLidPinB, &Pivots::lid_b, &PivotWish::lid_b},
}};

// The lid and what holds its pivots: what a correction is looked for with, before arms.
bool LidMet(const BoxModel& box, const Pivots& pivots) {
  const std::optional<LidMotion> motion = LidMotion::Make(pivots);
  CertifyOptions options;
  options.all = false;
  return AllMet(CertifyLid(box.box, motion, box.limits, options)) &&
         AllMet(PivotsHeld(box.arms, *motion));
}

}  // namespace

std::optional<Correction> SmallestCorrection(const BoxModel& box, const Pivots& pivots,
                                             double reach_mm) {
  std::optional<Correction> best;
  const LidUse use = UseOf(box);
  for (const Named& moved : kPivots) {
    LidTask task = box.task;
    for (const Named& other : kPivots) task.pinned.*other.wish = pivots.*other.slot;
    task.pinned.*moved.wish = std::nullopt;
    const Vec2 reach = Vec2::Constant(reach_mm);
    task.case_zone = task.lid_zone = {pivots.*moved.slot - reach, pivots.*moved.slot + reach};
    const LidSearch search(box.job, box.solid, task, use, kReserve_mm);
    const Pivots found = PivotsOf(search.Descended(NumbersOf(pivots), Leaning{}).data());
    if (!LidMet(box, found)) continue;
    // Shorten the move: `good` keeps everything, `bad` does not.
    double good = 1.0, bad = 0.0;
    const auto at = [&](double share) {
      Pivots p = pivots;
      p.*moved.slot += share * (found.*moved.slot - pivots.*moved.slot);
      return p;
    };
    for (int i = 0; i < kHalvings; ++i) {
      const double middle = (good + bad) / 2.0;
      (LidMet(box, at(middle)) ? good : bad) = middle;
    }
    for (const double share : {good, (good + 1.0) / 2.0, 1.0}) {
      const Pivots p = at(share);
      const Vec2 by = p.*moved.slot - pivots.*moved.slot;
      if (best && best->by.norm() <= by.norm()) break;
      Hinge hinge = CertifyHinge(box, p, {}, {});
      if (!AllMet(hinge.verdicts)) continue;
      best = Correction{moved.pin, by, std::move(hinge)};
      break;
    }
  }
  return best;
}

}  // namespace lidwright
