// SPDX-License-Identifier: Apache-2.0
#include "lidwright/synthesis/lid_grid.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>
#include <set>

#include "draws.h"
#include "lid_walk.h"
#include "lidwright/base/parallel.h"
#include "lidwright/synthesis/lid_builds.h"
#include "lidwright/synthesis/search.h"

namespace lidwright {
namespace {

// [merit/mm] What is missed or lacks outweighs all.
constexpr double kPerMissedOnGrid = 20.0;
constexpr double kPerLack = 1.0;
// [merit] Smaller gains are not worth a move.
constexpr double kGain = 1e-3;
// [count] Moves of several numbers at once that are tried after each round of single ones.
constexpr int kMixed = 24;
constexpr int kMostRounds = 12;
// [count] Rounds that gain the most, and [merit] what later ones may still mend.
constexpr int kFirstRounds = 2;
constexpr double kMayLead = 4.0;
// [mm²] Glances beyond this are hopeless; and tables read the merit's worst to within so much.
constexpr double kGlanceLimit_mm2 = 12.0;
constexpr double kGlanceMerit = 0.03;
// [count] Directions for the misfit: good to a thousandth.
constexpr int kDirections = 48;

// Fills merit and missed_mm.
// Not followed once more than `hopeless_mm` is missed.
bool LookAtLid(const QuickJudge& judge, GridLid& lid, const Leaning& leaning = {},
               double hopeless_mm = std::numeric_limits<double>::infinity()) {
  lid.missed_mm = 0.0;
  const auto over = [&](double by) { lid.missed_mm = std::max(lid.missed_mm, by); };
  thread_local lid_walk::Felt<double> felt;
  felt.Clear();
  if (!lid_walk::Walk<double>(
          judge.task(), judge.use(), lid_walk::CloseSpace{judge.space()}, lid.x.data(), over,
          [&] { return lid.missed_mm > hopeless_mm; }, felt)) {
    lid.missed_mm = std::numeric_limits<double>::infinity();
    return false;
  }
  if (lid.missed_mm > hopeless_mm) return false;
  lid.merit = lid_walk::MeritOf(judge.use(), felt,
                                MisfitOneInTwenty(lid.x.data(), judge.use(), kDirections), leaning);
  return true;
}

// Fills lacks_mm, crooked and bend, which only grow: ends once the lid's value is no longer below
// `enough`.
void LookAtArms(const ArmWays& ways, GridLid& lid,
                double enough = std::numeric_limits<double>::infinity()) {
  lid.lacks_mm = lid.crooked = 0.0;
  lid.bend = 1.0;
  // What may lack for the lid to be worth more than that: ways that lack more are not looked for.
  const auto may_lack = [&] {
    GridLid free = lid;
    free.lacks_mm = 0.0;
    return kEnoughRoom_mm + (enough - ValueOf(free)) / kPerLack;
  };
  for (const std::size_t arm : {0, 1}) {
    const ArmWay way = ways.Arm(lid.x, arm, may_lack());
    lid.lacks_mm = std::max(lid.lacks_mm, way.lacks_mm);
    lid.crooked += way.crooked / 2.0;
    lid.bend = std::max(lid.bend, way.bend);
    if (ValueOf(lid) >= enough) return;
  }
  for (const std::size_t arm : {0, 1}) {
    lid.lacks_mm = std::max(lid.lacks_mm, ways.Plate(lid.x, arm, may_lack()).lacks_mm);
    if (ValueOf(lid) >= enough) return;
  }
}

void LookAtBuilds(const QuickJudge& judge, GridLid& lid) {
  lid.builds = SharesThatMiss(judge, lid.x).Most();
}

double LidValue(const GridLid& lid) {
  return lid.merit + kPerMissedOnGrid * lid.missed_mm;
}

void LookAtRest(const QuickJudge& judge, const ArmWays& ways, GridLid& lid) {
  LookAtBuilds(judge, lid);
  LookAtArms(ways, lid);
}

class GridSearch {
 public:
  GridSearch(const QuickJudge& judge, const ArmWays& ways, const PivotNumbers& x, double grid_mm,
             std::uint64_t seed, const Leaning& leaning)
      : judge_(judge), ways_(ways), leaning_(leaning), grid_mm_(grid_mm), draws_(seed, 0) {
    best_.x = Snap(x);
    tried_.insert(best_.x);
    if (LookAtLid(judge_, best_, leaning_)) LookAtRest(judge_, ways_, best_);
  }

  // Ends once a round gains nothing, and after `most` of them in all.
  void Go(int most) {
    for (; gains_ && rounds_ < most; ++rounds_) {
      gains_ = false;
      for (std::size_t k = 0; k < 8; ++k) {
        for (const double step : {1.0, -1.0, 2.0, -2.0, 4.0, -4.0}) {
          PivotNumbers y = best_.x;
          y[k] += step * grid_mm_;
          gains_ = Try(y) || gains_;
        }
      }
      for (int i = 0; i < kMixed; ++i) {
        PivotNumbers y = best_.x;
        const double size = i % 3 == 0 ? 2.5 : 1.5;
        for (double& number : y) number += grid_mm_ * std::round(draws_.Uniform(-size, size));
        gains_ = Try(y) || gains_;
      }
    }
  }

  double Value() const { return ValueOf(best_); }
  GridLid Best() const { return LookClosely(judge_, ways_, best_.x); }

 private:
  PivotNumbers Snap(const PivotNumbers& x) const {
    return NumbersOf(Snapped(judge_.task(), PivotsOf(x.data()), grid_mm_));
  }

  // The cheapest doubts first.
  bool Try(const PivotNumbers& moved) {
    GridLid lid{Snap(moved)};
    // What was not good enough before is not now, as the best only gets better.
    if (!tried_.insert(lid.x).second || !InZones(judge_.task(), lid.x)) return false;
    const double enough = ValueOf(best_) - kGain;
    const Glance glance = judge_.At(lid.x, kGlanceLimit_mm2);
    if (!(glance.missed < kGlanceLimit_mm2) || glance.merit - kGlanceMerit >= enough) return false;
    const double hopeless_mm = enough / kPerMissedOnGrid;  // a merit is not below 0
    if (!LookAtLid(judge_, lid, leaning_, hopeless_mm) || LidValue(lid) >= enough) return false;
    LookAtBuilds(judge_, lid);
    if (LidValue(lid) + kBuildsWeight * lid.builds >= enough) return false;
    LookAtArms(ways_, lid, enough);
    if (ValueOf(lid) >= enough) return false;
    best_ = lid;
    return true;
  }

  const QuickJudge& judge_;
  const ArmWays& ways_;
  const Leaning leaning_;
  const double grid_mm_;
  Draws draws_;
  int rounds_ = 0;
  bool gains_ = true;  // in the last round
  GridLid best_;
  std::set<PivotNumbers> tried_;
};

}  // namespace

double ValueOf(const GridLid& lid) {
  const double value = LidValue(lid) + kBuildsWeight * lid.builds +
                       kPerLack * std::max(0.0, lid.lacks_mm - kEnoughRoom_mm) +
                       kCrookedWeight * std::max(0.0, lid.crooked - 1.0) +
                       kStrengthWeight * std::log2(lid.bend);
  return std::isnan(value) ? std::numeric_limits<double>::infinity() : value;
}

GridLid LookClosely(const QuickJudge& judge, const ArmWays& ways, const PivotNumbers& x) {
  GridLid lid{x};
  if (LookAtLid(judge, lid)) LookAtRest(judge, ways, lid);
  return lid;
}

GridLid OnGrid(const QuickJudge& judge, const ArmWays& ways, const PivotNumbers& x, double grid_mm,
               std::uint64_t seed, const Leaning& leaning) {
  GridSearch search(judge, ways, x, grid_mm, seed, leaning);
  search.Go(kMostRounds);
  return search.Best();
}

std::vector<GridLid> OnGrid(const QuickJudge& judge, const ArmWays& ways,
                            const std::vector<PivotNumbers>& all, double grid_mm,
                            std::uint64_t seed, int threads) {
  std::vector<std::unique_ptr<GridSearch>> searches(all.size());
  ParallelFor(all.size(), threads, [&](std::size_t i) {
    searches[i] = std::make_unique<GridSearch>(judge, ways, all[i], grid_mm, seed, Leaning{});
    searches[i]->Go(kFirstRounds);
  });
  double best = std::numeric_limits<double>::infinity();
  for (const auto& search : searches) best = std::min(best, search->Value());
  std::vector<GridLid> lids(all.size());
  ParallelFor(all.size(), threads, [&](std::size_t i) {
    if (searches[i]->Value() <= best + kMayLead) searches[i]->Go(kMostRounds);
    lids[i] = searches[i]->Best();
  });
  return lids;
}

}  // namespace lidwright
