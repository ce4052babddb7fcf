// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <vector>

#include "lidwright/synthesis/least_squares.h"

namespace lidwright {

struct MultiStartOptions {
  std::size_t starts = 1000;
  int threads = 0;  ///< 0: as many as the machine has
  double good_enough_cost =
      -1.0;                   ///< stop after the batch in which a descent ends at or below this
  double same_answer = 1e-6;  ///< [1] costs within this share of the best count as hits of it
  LeastSquaresOptions descent;
};

struct MultiStartSummary {
  LeastSquaresSummary best;  ///< of equal costs the one from the earliest start
  std::vector<LeastSquaresSummary>
      all;                  ///< every descent that has a cost, in the order of the starts
  std::size_t started = 0;  ///< starts that were made
  std::size_t hits = 0;     ///< descents that ended at the best cost; says nothing if that is 0
};

/// A start for every number 0, 1, …, or nothing where the number gives none. Must depend on the
/// number alone, and may be called from several threads.
using StartMaker = std::function<std::optional<std::vector<double>>(std::size_t number)>;

/// Descends from many starts and keeps the best end. Starts are taken in batches of a fixed size
/// and judged in their order, so the result does not depend on the number of threads. Nothing if no
/// start was made or no descent got a cost.
std::optional<MultiStartSummary> MinimiseFromMany(const LeastSquaresProblem& problem,
                                                  const StartMaker& make_start,
                                                  const MultiStartOptions& options);

}  // namespace lidwright
