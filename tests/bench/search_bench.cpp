// SPDX-License-Identifier: Apache-2.0
// The search against general-purpose global optimisers on the cheap part of the merit: the time to
// equal quality.
#include <cmath>
#include <cstdio>
#include <limits>
#include <nlopt.hpp>
#include <vector>

#include "clock.h"
#include "lidwright/design/merit.h"
#include "lidwright/synthesis/search.h"

using namespace lidwright;

namespace {

// [merit/mm] As a descent weighs what is missed.
double Value(const QuickJudge& judge, const PivotNumbers& x) {
  const Glance glance = judge.At(x, 1e9);
  const double value = glance.merit + kPerMissed * std::sqrt(2.0 * glance.missed);
  return std::isfinite(value) ? value : 1e6;
}

double Objective(const std::vector<double>& x, std::vector<double>&, void* data) {
  PivotNumbers numbers;
  std::copy(x.begin(), x.end(), numbers.begin());
  return Value(*static_cast<const QuickJudge*>(data), numbers);
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
    const double time = bench::Best(1, [&] { design = MakeDesign(box, options); });
    std::printf("whole design, %d thread%s    %8.0f ms   %zu hinges of %ld complete\n", threads,
                threads == 1 ? " " : "s", time * 1e3, design.hinges.size(), design.search.armed);
  }
  const LidUse use = UseOf(box);
  SearchOptions search;
  search.threads = 1;
  SearchRound round;
  double reserve = 0.8;
  const double ours = bench::Best(
      1, [&] { round = LidSearch(box.job, box.solid, box.task, use, reserve).Round(0, search); });
  const LidSpace space(box.job, box.solid, box.task, reserve);
  const QuickJudge judge(box.task, use, space);
  double best = std::numeric_limits<double>::infinity();
  for (const GridLid& lid : round.lids) best = std::min(best, Value(judge, lid.x));
  std::printf("a round, 1 thread          %8.0f ms   best value %.3f\n", ours * 1e3, best);
  std::vector<double> low, high;
  for (std::size_t k = 0; k < 8; ++k) {
    const Zone& zone = k < 4 ? box.task.case_zone : box.task.lid_zone;
    low.push_back(zone.low[static_cast<Eigen::Index>(k % 2)]);
    high.push_back(zone.high[static_cast<Eigen::Index>(k % 2)]);
  }
  for (const auto& [name, algorithm] : {std::pair("CRS2", nlopt::GN_CRS2_LM),
                                        {"ISRES", nlopt::GN_ISRES},
                                        {"DIRECT-L", nlopt::GN_DIRECT_L}}) {
    constexpr double kMost = 60.0;  // times ours
    constexpr int kRuns = 2;
    for (int run = 0; run < kRuns; ++run) {
      nlopt::srand(static_cast<unsigned long>(run) + 1);
      nlopt::opt opt(algorithm, 8);
      opt.set_lower_bounds(low);
      opt.set_upper_bounds(high);
      opt.set_min_objective(Objective, const_cast<QuickJudge*>(&judge));
      opt.set_maxtime(kMost * ours);
      opt.set_stopval(best * 1.01);
      std::vector<double> x(8);
      for (std::size_t k = 0; k < 8; ++k) x[k] = (low[k] + high[k]) / 2.0;
      double value = std::numeric_limits<double>::infinity();
      const double time = bench::Best(1, [&] {
        try {
          opt.optimize(x, value);
        } catch (const std::exception&) {  // round-off: x holds the best so far
        }
      });
      std::printf("%-9s %8.0f ms, %.1f x ours: best value %.3f\n", name, time * 1e3, time / ours,
                  value);
    }
  }
  return 0;
}
