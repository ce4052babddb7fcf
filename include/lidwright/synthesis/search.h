// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <vector>

#include "lidwright/synthesis/lid_builds.h"
#include "lidwright/synthesis/lid_descent.h"
#include "lidwright/synthesis/lid_grid.h"
#include "lidwright/synthesis/lid_starts.h"

namespace lidwright {

struct SearchOptions {
  std::uint64_t starts = 24'000;  ///< numbers of starts that a round looks at
  int descents = 48;              ///< of the most promising ones, spread over families
  int on_grid = 20;               ///< of the best of those, apart from each other
  int threads = 0;                ///< 0: as many as the machine has; results do not depend on it
  bool foretell = true;  ///< minds what is foretold of leaning and of a post, which leads away from
                         ///< some lids that clear
};

/// What one round of a search came to.
struct SearchRound {
  std::vector<GridLid> lids;  ///< on the shop's grid, by growing Value
  long starts = 0;            ///< that there were
  long opening = 0;           ///< of them: the lid opens, and not hopelessly
  long descents = 0;          ///< of them: descended from
};

/// Searches a box for lids on the shop's grid that keep the lid's requirements, have ways for their
/// arms and are of little LidMerit. Nothing that comes out is proven. Deterministic for a task's
/// seed on any number of threads.
class LidSearch {
 public:
  /// `use` and `task` are kept by reference. Requirements are kept with `reserve_mm` to spare where
  /// the box lets them.
  LidSearch(const Job& job, const Solid& solid, const LidTask& task, const LidUse& use,
            double reserve_mm);

  /// The round of a number: its own starts, judged at a glance, the best of each family descended
  /// from on the merit, arms' ways kept free, then moves on the grid.
  SearchRound Round(std::uint64_t number, const SearchOptions& options) const;

  /// A lid to go on from, and what to lean towards from there.
  struct Leant {
    PivotNumbers from;
    Leaning leaning;
  };
  /// From each a descent, then rounded to the grid with moves that keep what it leans to: those
  /// that keep the requirements, in their order.
  std::vector<PivotNumbers> Lean(const std::vector<Leant>& wanted,
                                 const SearchOptions& options) const;

  /// Lids a step or two from one in one number, or in two, by growing value; a step is `times` the
  /// grid's.
  std::vector<GridLid> Around(const PivotNumbers& x, double times,
                              const SearchOptions& options) const;

  /// One descent that keeps the arms' ways free.
  PivotNumbers Descended(const PivotNumbers& start, const Leaning& leaning) const;

  BuildShares Builds(const PivotNumbers& x) const { return SharesThatMiss(judge_, x); }
  GridLid Look(const PivotNumbers& x) const { return LookClosely(judge_, ways_, x); }

 private:
  struct Start {
    double value;
    PivotNumbers x;
  };
  std::vector<Start> Starts(std::uint64_t number, const SearchOptions& options,
                            SearchRound& round) const;
  std::vector<GridLid> Gridded(const std::vector<PivotNumbers>& ends,
                               const SearchOptions& options) const;
  const QuickJudge& JudgeFor(const SearchOptions& options) const {
    return options.foretell ? judge_ : alone_;
  }
  PivotNumbers Descended(const QuickJudge& judge, const PivotNumbers& start,
                         const Leaning& leaning) const;

  const double grid_mm_;
  const LidSpace space_;
  const QuickJudge judge_;
  const LidUse alone_use_;
  const QuickJudge alone_;
  const ArmWays ways_;
  const LidStarts starts_;
};

/// Pivots moved to the nearest multiples of `grid_mm`, pinned ones to where they are pinned.
Pivots Snapped(const LidTask& task, const Pivots& pivots, double grid_mm);

/// Whether all pivots lie where they may (BoundsOf).
bool InZones(const LidTask& task, const PivotNumbers& x);

/// Largest distance of corresponding pivots, the arms taken in the better order.
double Apart_mm(const Pivots& p, const Pivots& q);

}  // namespace lidwright
