// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <utility>
#include <vector>

namespace lidwright::testing {

/// A value that `f` takes over [from, to], at most `within` over its least there, provided that it
/// is nowhere steeper than `slope`: on a piece of half-width h round m it is at least f(m) − slope
/// h, and pieces that may hold less than the best so far are halved. What is under `floor` is not
/// looked for: a value that is not over it ends the search. (Branch and bound by a Lipschitz
/// constant.)
template <typename F>
double LeastOver(double from, double to, double slope, double within, const F& f,
                 double best = 1e300, double floor = 0.0) {
  best = std::min({best, f(from), f(to)});
  constexpr int kFirst = 64;
  std::vector<std::pair<double, double>> open;
  for (int i = kFirst; i-- > 0;) {
    open.emplace_back(from + (to - from) * i / kFirst, from + (to - from) * (i + 1) / kFirst);
  }
  while (!open.empty() && best > floor) {
    const auto [low, high] = open.back();
    open.pop_back();
    const double middle = (low + high) / 2.0, value = f(middle);
    best = std::min(best, value);
    if (value - slope * (high - low) / 2.0 >= best - within) continue;
    open.emplace_back(middle, high);
    open.emplace_back(low, middle);
  }
  return best;
}

}  // namespace lidwright::testing
