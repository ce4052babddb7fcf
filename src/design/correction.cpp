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
// [count] Halvings of a move with all parts, each of which is made for it: to a sixteenth.
constexpr int kWholeHalvings = 4;
// [mm] Rings around a pivot on which places for it are tried, the nearest first.
constexpr std::array<double, 5> kRings_mm{1.0, 2.0, 4.0, 8.0, 16.0};
// [count] Places on each, evenly spread.
constexpr int kPlacesOnRing = 8;
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
    for (std::size_t i = 0; i < kRings_mm.size() && !best_; ++i) {
      Tell(kShareOfDescents + (1.0 - kShareOfDescents) * static_cast<double>(i) / kRings_mm.size());
      if (kRings_mm[i] <= options_.reach_mm) TryRing(kRings_mm[i]);
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
    const Vec2 way = found.*which.slot - pivots_.*which.slot;
    double good = 1.0, bad = 0.0;  // shares of it with which the lid is met, and is not
    for (int i = 0; i < kHalvings; ++i) {
      const double middle = (good + bad) / 2.0;
      (LidMet(box_, Moved(which, middle * way)) ? good : bad) = middle;
    }
    for (const double share : {good, (good + 1.0) / 2.0, 1.0}) {
      const Vec2 by = share * way;
      if (by.norm() > options_.reach_mm) return;
      if (best_ && best_->by.norm() <= by.norm()) return;
      if (Take(which, by)) return;
    }
  }

  bool Take(const Named& which, const Vec2& by) {
    std::optional<Hinge> hinge = Cleared(box_, Moved(which, by));
    if (!hinge) return false;
    best_ = Correction{which.pin, by, std::move(*hinge)};
    return true;
  }

  // All pivots in turn on places of a ring around where they are; the first that clears is drawn
  // nearer.
  void TryRing(double radius_mm) {
    struct Place {
      const Named* which;
      Vec2 by;
      std::optional<Hinge> hinge;
    };
    std::vector<Place> places;
    for (const Named& which : kPivots) {
      for (int k = 0; k < kPlacesOnRing; ++k) {
        const double angle = 2.0 * kPi * k / kPlacesOnRing;
        places.push_back({&which, radius_mm * Vec2(std::cos(angle), std::sin(angle)), {}});
      }
    }
    ParallelFor(places.size(), options_.threads, [&](std::size_t i) {
      const Pivots pivots = Moved(*places[i].which, places[i].by);
      if (LidMet(box_, pivots)) places[i].hinge = Cleared(box_, pivots);
    });
    for (Place& place : places) {
      if (!place.hinge) continue;
      best_ = Correction{place.which->pin, place.by, std::move(*place.hinge)};
      double good = 1.0, bad = 0.0;
      for (int i = 0; i < kWholeHalvings; ++i) {
        Tell(1.0);
        const double middle = (good + bad) / 2.0;
        (Take(*place.which, middle * place.by) ? good : bad) = middle;
      }
      return;
    }
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
