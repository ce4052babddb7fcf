// SPDX-License-Identifier: Apache-2.0
#include "lidwright/synthesis/search.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "lidwright/base/parallel.h"

namespace lidwright {
namespace {

// [mm²] A start that misses by more than this at a glance (half the sum of squares) is beyond what
// a descent mends.
constexpr double kHopeless_mm2 = 4000.0;
// [merit/mm] What is missed at a start is soon mended: it weighs less than in a descent.
constexpr double kPerMissedAtStart = 0.15;
// [mm] Starts to descend from differ by this in some pivot, ends to move on the grid by that.
constexpr double kStartsApart_mm = 12.0;
constexpr double kEndsApart_mm = 4.0;
// [count] Stretches of the depth that tell families of starts apart.
constexpr int kStretches = 3;
constexpr std::size_t kBlock = 512;
// [count] Descents after which ways are looked for anew, each with more steps.
constexpr int kGuided = 2;
constexpr int kFirstSteps = 24, kGuidedSteps = 16;
// [mm] Small moves where the shop has no grid.
constexpr double kFreeStep_mm = 0.5;
// [mm] A guided descent goes on near where it is.
constexpr double kGuidedFirst_mm = 4.0;

// Which stretch of the depth each pivot stands in, the arm with the rear case pivot first.
int FamilyOf(const LidTask& task, const PivotNumbers& x) {
  const bool swap = x[2] < x[0];
  const auto stretch = [](double at, const Zone& zone) {
    const double width = std::max(zone.high.x() - zone.low.x(), 1e-9);
    return std::clamp(static_cast<int>(kStretches * (at - zone.low.x()) / width), 0,
                      kStretches - 1);
  };
  int family = 0;
  for (const std::size_t arm : {swap ? 1 : 0, swap ? 0 : 1}) {
    family = kStretches * family + stretch(x[2 * arm], task.case_zone);
    family = kStretches * family + stretch(x[2 * arm + 4], task.lid_zone);
  }
  return family;
}

bool Fresh(const PivotNumbers& x, const std::vector<PivotNumbers>& kept, double apart_mm) {
  return std::none_of(kept.begin(), kept.end(), [&](const PivotNumbers& other) {
    return Apart_mm(PivotsOf(x.data()), PivotsOf(other.data())) < apart_mm;
  });
}

}  // namespace

double Apart_mm(const Pivots& p, const Pivots& q) {
  const auto apart = [](const Pivots& s, const Pivots& t) {
    return std::max({(s.case_a - t.case_a).norm(), (s.case_b - t.case_b).norm(),
                     (s.lid_a - t.lid_a).norm(), (s.lid_b - t.lid_b).norm()});
  };
  return std::min(apart(p, q), apart(p, {q.case_b, q.case_a, q.lid_b, q.lid_a}));
}

Pivots Snapped(const LidTask& task, const Pivots& pivots, double grid_mm) {
  const auto snap = [&](const Vec2& p, const std::optional<Vec2>& pin) -> Vec2 {
    if (pin) return *pin;
    if (grid_mm <= 0.0) return p;
    return {std::round(p.x() / grid_mm) * grid_mm, std::round(p.y() / grid_mm) * grid_mm};
  };
  return {snap(pivots.case_a, task.pinned.case_a), snap(pivots.case_b, task.pinned.case_b),
          snap(pivots.lid_a, task.pinned.lid_a), snap(pivots.lid_b, task.pinned.lid_b)};
}

bool InZones(const LidTask& task, const PivotNumbers& x) {
  const NumberBounds bounds = BoundsOf(task);
  for (std::size_t i = 0; i < 8; ++i) {
    if (x[i] < bounds.low[i] || x[i] > bounds.high[i]) return false;
  }
  return true;
}

LidSearch::LidSearch(const Job& job, const Solid& solid, const LidTask& task, const LidUse& use,
                     double reserve_mm)
    : grid_mm_(job.shop.grid_mm),
      space_(job, solid, task, reserve_mm),
      judge_(task, use, space_),
      alone_use_(LidAlone(use)),
      alone_(task, alone_use_, space_),
      ways_(job, space_),
      starts_(task, space_) {}

std::vector<LidSearch::Start> LidSearch::Starts(std::uint64_t number, const SearchOptions& options,
                                                SearchRound& round) const {
  const QuickJudge& judge = JudgeFor(options);
  const std::size_t blocks = (options.starts + kBlock - 1) / kBlock;
  std::vector<std::vector<Start>> found(blocks);
  std::vector<long> starts(blocks, 0);
  ParallelFor(blocks, options.threads, [&](std::size_t b) {
    const std::uint64_t first = number * options.starts + b * kBlock;
    for (std::uint64_t i = first; i < first + kBlock; ++i) {
      const std::optional<PivotNumbers> x = starts_.At(i);
      if (!x) continue;
      ++starts[b];
      const Glance glance = judge.At(*x, kHopeless_mm2);
      if (!(glance.missed < kHopeless_mm2) || std::isnan(glance.merit)) continue;
      found[b].push_back({glance.merit + kPerMissedAtStart * std::sqrt(2.0 * glance.missed), *x});
    }
  });
  std::vector<Start> all;
  for (std::size_t b = 0; b < blocks; ++b) {
    round.starts += starts[b];
    round.opening += static_cast<long>(found[b].size());
    all.insert(all.end(), found[b].begin(), found[b].end());
  }
  std::stable_sort(all.begin(), all.end(),
                   [](const Start& a, const Start& b) { return a.value < b.value; });
  return all;
}

SearchRound LidSearch::Round(std::uint64_t number, const SearchOptions& options) const {
  SearchRound round;
  const std::vector<Start> all = Starts(number, options, round);
  // Half of the descents go to the best starts, the other half to the best of each family.
  std::vector<PivotNumbers> from;
  std::map<int, int> of_family;
  const auto most = static_cast<std::size_t>(options.descents);
  for (const Start& start : all) {
    if (from.size() >= most / 2) break;
    if (!Fresh(start.x, from, kStartsApart_mm)) continue;
    from.push_back(start.x);
    ++of_family[FamilyOf(judge_.task(), start.x)];
  }
  for (int limit = 1; limit <= 3 && from.size() < most; ++limit) {
    for (const Start& start : all) {
      if (from.size() >= most) break;
      int& count = of_family[FamilyOf(judge_.task(), start.x)];
      if (count >= limit || !Fresh(start.x, from, kStartsApart_mm)) continue;
      from.push_back(start.x);
      ++count;
    }
  }
  round.descents = static_cast<long>(from.size());
  std::vector<PivotNumbers> ends(from.size());
  ParallelFor(from.size(), options.threads,
              [&](std::size_t i) { ends[i] = Descended(JudgeFor(options), from[i], Leaning{}); });
  round.lids = Gridded(ends, options);
  return round;
}

PivotNumbers LidSearch::Descended(const PivotNumbers& start, const Leaning& leaning) const {
  return Descended(judge_, start, leaning);
}

PivotNumbers LidSearch::Descended(const QuickJudge& judge, const PivotNumbers& start,
                                  const Leaning& leaning) const {
  DescentOptions options;
  options.leaning = leaning;
  options.most_steps = kFirstSteps;
  PivotNumbers x = Descend(judge, ways_, start, options).x;
  options.most_steps = kGuidedSteps;
  options.first_mm = kGuidedFirst_mm;
  for (int again = 0; again < kGuided; ++again) {
    bool lacks = false;
    for (const std::size_t arm : {0, 1}) {
      const ArmWay way = ways_.Arm(x, arm), plate = ways_.Plate(x, arm);
      options.guides.arm[arm] = way.places;
      options.guides.plate[arm] = plate.places;
      lacks = lacks || std::max(way.lacks_mm, plate.lacks_mm) > kEnoughRoom_mm;
    }
    if (!lacks) break;
    x = Descend(judge, ways_, x, options).x;
  }
  return x;
}

std::vector<PivotNumbers> LidSearch::Lean(const std::vector<Leant>& wanted,
                                          const SearchOptions& options) const {
  std::vector<PivotNumbers> leant(wanted.size());
  std::vector<char> keeps(leant.size(), 0);
  ParallelFor(leant.size(), options.threads, [&](std::size_t i) {
    const Leaning& leaning = wanted[i].leaning;
    const PivotNumbers end = Descended(wanted[i].from, leaning);
    const GridLid lid = OnGrid(judge_, ways_, end, grid_mm_, judge_.task().seed, leaning);
    leant[i] = lid.x;
    keeps[i] = lid.missed_mm <= 0.0 && lid.lacks_mm <= kEnoughRoom_mm ? 1 : 0;
  });
  std::vector<PivotNumbers> kept;
  for (std::size_t i = 0; i < leant.size(); ++i) {
    if (keeps[i]) kept.push_back(leant[i]);
  }
  return kept;
}

std::vector<GridLid> LidSearch::Around(const PivotNumbers& x, double times,
                                       const SearchOptions& options) const {
  std::vector<PivotNumbers> moved;
  const auto add = [&](const PivotNumbers& y) {
    const PivotNumbers snapped = NumbersOf(Snapped(judge_.task(), PivotsOf(y.data()), grid_mm_));
    const bool fresh = std::find(moved.begin(), moved.end(), snapped) == moved.end();
    if (fresh && snapped != x && InZones(judge_.task(), snapped)) moved.push_back(snapped);
  };
  const double step = times * (grid_mm_ > 0.0 ? grid_mm_ : kFreeStep_mm);
  for (std::size_t k = 0; k < 8; ++k) {
    for (const double by : {step, -step, 2.0 * step, -2.0 * step}) {
      PivotNumbers y = x;
      y[k] += by;
      add(y);
      for (std::size_t other = 0; other < k; ++other) {
        for (const double also : {step, -step}) {
          PivotNumbers both = y;
          both[other] += also;
          add(both);
        }
      }
    }
  }
  std::vector<GridLid> lids(moved.size());
  ParallelFor(moved.size(), options.threads, [&](std::size_t i) { lids[i] = Look(moved[i]); });
  std::stable_sort(lids.begin(), lids.end(),
                   [](const GridLid& a, const GridLid& b) { return ValueOf(a) < ValueOf(b); });
  return lids;
}

std::vector<GridLid> LidSearch::Gridded(const std::vector<PivotNumbers>& ends,
                                        const SearchOptions& options) const {
  const QuickJudge& judge = JudgeFor(options);
  std::vector<GridLid> looked(ends.size());
  ParallelFor(ends.size(), options.threads,
              [&](std::size_t i) { looked[i] = LookClosely(judge, ways_, ends[i]); });
  const auto less = [](const GridLid& a, const GridLid& b) { return ValueOf(a) < ValueOf(b); };
  std::stable_sort(looked.begin(), looked.end(), less);
  std::vector<PivotNumbers> kept;
  for (const GridLid& lid : looked) {
    if (kept.size() >= static_cast<std::size_t>(options.on_grid)) break;
    if (std::isfinite(ValueOf(lid)) && Fresh(lid.x, kept, kEndsApart_mm)) kept.push_back(lid.x);
  }
  std::vector<GridLid> lids =
      OnGrid(judge, ways_, kept, grid_mm_, judge_.task().seed, options.threads);
  std::stable_sort(lids.begin(), lids.end(), less);
  return lids;
}

}  // namespace lidwright
