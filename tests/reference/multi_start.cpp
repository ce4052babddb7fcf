// SPDX-License-Identifier: Apache-2.0
#include "reference/multi_start.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/parallel.h"

namespace lidwright {

std::optional<MultiStartSummary> MinimiseFromMany(const LeastSquaresProblem& problem,
                                                  const StartMaker& make_start,
                                                  const MultiStartOptions& options) {
  constexpr std::size_t kBatch = 64;
  MultiStartSummary summary;
  std::size_t best = 0;
  for (std::size_t first = 0; first < options.starts; first += kBatch) {
    const std::size_t count = std::min(kBatch, options.starts - first);
    std::vector<std::optional<LeastSquaresSummary>> ends(count);
    ParallelFor(count, options.threads, [&](std::size_t i) {
      const auto start = make_start(first + i);
      if (start) ends[i] = Minimise(problem, *start, options.descent);
    });
    for (auto& end : ends) {
      if (!end) continue;
      ++summary.started;
      if (!std::isfinite(end->cost)) continue;
      summary.all.push_back(std::move(*end));
      if (summary.all.back().cost < summary.all[best].cost) best = summary.all.size() - 1;
    }
    if (!summary.all.empty() && summary.all[best].cost <= options.good_enough_cost) break;
  }
  if (summary.all.empty()) return std::nullopt;
  summary.best = summary.all[best];
  for (const LeastSquaresSummary& end : summary.all) {
    if (end.cost <= summary.best.cost * (1.0 + options.same_answer)) ++summary.hits;
  }
  return summary;
}

}  // namespace lidwright
