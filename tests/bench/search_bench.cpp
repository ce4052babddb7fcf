// SPDX-License-Identifier: Apache-2.0
// The search against general-purpose global optimisers on the same objective.
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <limits>
#include <nlopt.hpp>
#include <vector>

#include "clock.h"
#include "lidwright/design/make_design.h"

using namespace lidwright;

namespace {

// Σ r² / 2 of the requirements with the search's own reserve; far values where there is no motion.
struct Objective {
  const LidCost* cost;
  long calls = 0;
};
double Missed(const std::vector<double>& x, std::vector<double>&, void* data) {
  auto* objective = static_cast<Objective*>(data);
  ++objective->calls;
  const double missed = objective->cost->Missed(x.data());
  return std::isfinite(missed) ? missed : 1e6;
}

}  // namespace

int main(int argc, char** argv) {
  const Job job = bench::JobFrom(argc, argv);
  const double model = bench::Best(3, [&] { BoxModel box(job); });
  const BoxModel box(job);
  std::printf("model of the box           %8.1f ms\n", model * 1e3);
  DesignOptions options;
  Design design;
  for (const int threads : {1, 2}) {
    options.threads = threads;
    const double time = bench::Best(3, [&] { design = MakeDesign(box, options); });
    std::printf("whole design, %d thread%s    %8.0f ms   %zu hinges of %ld complete\n", threads,
                threads == 1 ? " " : "s", time * 1e3, design.hinges.size(), design.search.armed);
  }
  SearchOptions search;
  search.threads = 1;
  SearchSummary found;
  const double lids = bench::Best(3, [&] { found = FindLinkages(box.task, search); });
  const auto met = [](const SearchSummary& s) {
    long count = 0;
    for (const Candidate& c : s.candidates) count += c.violation < 1e-3 ? 1 : 0;
    return count;
  };
  std::printf("lid search, 1 thread       %8.0f ms   %ld linkages meet the samples: %.1f ms each\n",
              lids * 1e3, met(found), lids * 1e3 / static_cast<double>(std::max(1L, met(found))));

  const Favour favour;
  const LidCost cost(box.task, favour, search.angles);
  const LeastSquaresProblem bounds = cost.Problem();
  for (const auto& [name, algorithm] : {std::pair("CRS2", nlopt::GN_CRS2_LM),
                                        {"ISRES", nlopt::GN_ISRES},
                                        {"DIRECT-L", nlopt::GN_DIRECT_L}}) {
    int solved = 0;
    double best = std::numeric_limits<double>::infinity(), spent = 0.0;
    constexpr int kRuns = 3;
    for (int run = 0; run < kRuns; ++run) {
      nlopt::srand(static_cast<unsigned long>(run) + 1);
      nlopt::opt opt(algorithm, 8);
      opt.set_lower_bounds(bounds.low);
      opt.set_upper_bounds(bounds.high);
      Objective objective{&cost};
      opt.set_min_objective(Missed, &objective);
      opt.set_maxtime(2.0 * lids);
      opt.set_stopval(1e-3);
      std::vector<double> x(8);
      for (std::size_t k = 0; k < 8; ++k) x[k] = (bounds.low[k] + bounds.high[k]) / 2.0;
      double value = std::numeric_limits<double>::infinity();
      const double time = bench::Best(1, [&] {
        try {
          opt.optimize(x, value);
        } catch (const std::exception&) {  // round-off: x holds the best so far
        }
      });
      spent += time;
      best = std::min(best, value);
      if (value <= 1e-3) ++solved;
    }
    const double each = solved > 0 ? spent * 1e3 / solved : std::numeric_limits<double>::infinity();
    const double ours = lids * 1e3 / static_cast<double>(std::max(1L, met(found)));
    std::printf(
        "%-9s %d runs of %.0f ms  %8.0f ms   %d met, best misses %.3g; per linkage %.0f x ours\n",
        name, kRuns, 2e3 * lids, spent * 1e3, solved, best, each / ours);
  }
  return 0;
}
