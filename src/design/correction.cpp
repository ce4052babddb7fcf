// SPDX-License-Identifier: Apache-2.0
#include "lidwright/design/correction.h"

#include <array>
#include <cmath>
#include <vector>

#include "finish_hinge.h"
#include "lidwright/arms/straight_pins.h"
#include "lidwright/base/parallel.h"
#include "lidwright/design/merit.h"
#include "lidwright/design/stay_choice.h"
#include "lidwright/synthesis/search.h"

namespace lidwright {
namespace {

// [mm] Kept to spare by the move that is then shortened.
constexpr double kReserve_mm = 0.5;
// [count] Halvings of a move on the lid alone, from both ends: to a thousandth of it.
constexpr int kHalvings = 10;
// [mm] Rings around a pivot on which places for it are tried, the nearest first.
constexpr std::array<double, 5> kRings_mm{1.0, 2.0, 4.0, 8.0, 16.0};
// [count] Places on each, evenly spread.
constexpr std::size_t kPlacesOnRing = 8;
// [–] Of the search's progress: its descents.
constexpr double kShareOfDescents = 0.3;

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

// The hinge with all its parts if it clears with them.
std::optional<Hinge> Cleared(const BoxModel& box, const Pivots& pivots) {
  Hinge hinge = JudgeHinge(box, pivots, {}, {});
  if (!AllMet(hinge.verdicts)) return std::nullopt;
  if (!Does(hinge)) AddStayWhereNeeded(box, hinge);
  if (!ClearsWithAllParts(hinge)) return std::nullopt;
  return hinge;
}

class PivotMoves {
 public:
  PivotMoves(const BoxModel& box, const Pivots& pivots, const CorrectionOptions& options)
      : box_(box), pivots_(pivots), options_(options), use_(LidAlone(UseOf(box))) {}

  CorrectionSearch Run() {
    CorrectionSearch result;
    result.reach_mm = options_.reach_mm;
    if (Cleared(box_, pivots_)) {
      result.end = CorrectionEnd::kClearsAlready;
      return result;
    }
    for (std::size_t i = 0; i < kPivots.size(); ++i) {
      Tell(kShareOfDescents * static_cast<double>(i) / kPivots.size());
      Descend(kPivots[i]);
    }
    // A descent keeps to what its pivot has; a nearer place may lie on another one's side.
    for (std::size_t i = 0; i < kRings_mm.size(); ++i) {
      Tell(kShareOfDescents + (1.0 - kShareOfDescents) * static_cast<double>(i) / kRings_mm.size());
      const double within = best_ ? best_->by.norm() : options_.reach_mm;
      if (kRings_mm[i] <= within) TryRing(kRings_mm[i]);
    }
    if (best_) result.end = CorrectionEnd::kFound;
    result.found = std::move(best_);
    return result;
  }

 private:
  void Tell(double share) const {
    if (options_.progress) options_.progress(share);
  }

  Pivots Moved(const Named& which, const Vec2& by) const {
    Pivots pivots = pivots_;
    pivots.*which.slot += by;
    return pivots;
  }

  // One pivot's way to where the lid clears, as little of it as will do. It is looked for in a
  // square, whose corners lie beyond the reach.
  void Descend(const Named& which) {
    LidTask task = box_.task;
    for (const Named& other : kPivots) task.pinned.*other.wish = pivots_.*other.slot;
    task.pinned.*which.wish = std::nullopt;
    const Vec2 reach = Vec2::Constant(options_.reach_mm);
    task.case_zone = task.lid_zone = {pivots_.*which.slot - reach, pivots_.*which.slot + reach};
    const LidSearch search(box_.job, box_.solid, task, use_, kReserve_mm);
    const Pivots found = PivotsOf(search.Descended(NumbersOf(pivots_), Leaning{}).data());
    if (!LidMet(box_, found)) return;
    Keep(Shortened(which, found.*which.slot - pivots_.*which.slot));
  }

  // As little of a move with which the lid is met as all parts clear with.
  std::optional<Correction> Shortened(const Named& which, const Vec2& way) const {
    double good = 1.0, bad = 0.0;  // shares of it with which the lid is met, and is not
    for (int i = 0; i < kHalvings; ++i) {
      const double middle = (good + bad) / 2.0;
      (LidMet(box_, Moved(which, middle * way)) ? good : bad) = middle;
    }
    for (const double share : {good, (good + 1.0) / 2.0, 1.0}) {
      const Vec2 by = share * way;
      if (by.norm() > options_.reach_mm || (best_ && best_->by.norm() <= by.norm())) break;
      if (std::optional<Hinge> hinge = Cleared(box_, Moved(which, by))) {
        return Correction{which.pin, by, std::move(*hinge)};
      }
    }
    return std::nullopt;
  }

  void Keep(std::optional<Correction> move) {
    if (move && (!best_ || move->by.norm() < best_->by.norm())) best_ = std::move(move);
  }

  // All pivots on places of a ring around where they are, each drawn nearer as long as it clears.
  void TryRing(double radius_mm) {
    std::vector<std::optional<Correction>> moves(kPivots.size() * kPlacesOnRing);
    ParallelFor(moves.size(), options_.threads, [&](std::size_t i) {
      const Named& which = kPivots[i / kPlacesOnRing];
      const double angle =
          2.0 * kPi * static_cast<double>(i % kPlacesOnRing) / double{kPlacesOnRing};
      const Vec2 way = radius_mm * Vec2(std::cos(angle), std::sin(angle));
      if (LidMet(box_, Moved(which, way))) moves[i] = Shortened(which, way);
    });
    for (std::optional<Correction>& move : moves) Keep(std::move(move));
  }

  const BoxModel& box_;
  const Pivots pivots_;
  const CorrectionOptions& options_;
  const LidUse use_;
  std::optional<Correction> best_;
};

}  // namespace

CorrectionSearch SmallestCorrection(const BoxModel& box, const Pivots& pivots,
                                    const CorrectionOptions& options) {
  return PivotMoves(box, pivots, options).Run();
}

}  // namespace lidwright
