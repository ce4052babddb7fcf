// SPDX-License-Identifier: Apache-2.0
#include "reference/multi_start.h"

#include <catch2/catch.hpp>
#include <cmath>

namespace lidwright {
namespace {

using Catch::Matchers::WithinAbs;

// Two valleys: (x² − 1)² + (c (x + 1))² + c² has its least c² at −1 and another minimum near +1.
LeastSquaresProblem TwoValleys() {
  LeastSquaresProblem problem;
  problem.parameters = 1;
  problem.residuals = 3;
  problem.evaluate = [](const double* x, double* r, double* j) {
    if (x[0] > 100.0) return false;
    r[0] = x[0] * x[0] - 1.0;
    r[1] = 0.1 * (x[0] + 1.0);
    r[2] = 0.1;
    if (j) {
      j[0] = 2.0 * x[0];
      j[1] = 0.1;
      j[2] = 0.0;
    }
    return true;
  };
  return problem;
}

MultiStartOptions Options(std::size_t starts, int threads) {
  MultiStartOptions options;
  options.starts = starts;
  options.threads = threads;
  options.descent.function_tolerance = 1e-20;
  return options;
}

}  // namespace

TEST_CASE("Of two valleys the deeper one is kept and its hits are counted") {
  // Starts on the right for even numbers, on the left for odd ones, none for every tenth, and one
  // outside of where the cost is defined.
  const auto start = [](std::size_t number) -> std::optional<std::vector<double>> {
    if (number % 10 == 5) return std::nullopt;
    if (number == 4) return std::vector{200.0};
    return std::vector{number % 2 == 0 ? 2.0 : -2.0 - 0.01 * static_cast<double>(number)};
  };
  for (int threads : {1, 2, 3}) {
    const auto summary = MinimiseFromMany(TwoValleys(), start, Options(200, threads));
    REQUIRE(summary);
    CHECK_THAT(summary->best.x[0], WithinAbs(-1.0, 1e-9));
    CHECK_THAT(summary->best.cost, WithinAbs(0.005, 1e-15));
    CHECK(summary->hits == 80);  // the odd ones
    CHECK(summary->started == 180);
    REQUIRE(summary->all.size() == 179);
    CHECK_THAT(summary->all[0].x[0], WithinAbs(0.9949, 1e-3));  // the shallow valley, from 2
    CHECK(summary->all[0].cost > 0.02);
  }
}

TEST_CASE("The best of many starts does not depend on the number of threads, bit for bit") {
  const auto start = [](std::size_t number) {
    return std::optional(std::vector{std::sin(static_cast<double>(number) * 12.9898) * 3.0});
  };
  const auto one = MinimiseFromMany(TwoValleys(), start, Options(300, 1));
  const auto two = MinimiseFromMany(TwoValleys(), start, Options(300, 2));
  REQUIRE(one);
  REQUIRE(two);
  REQUIRE(one->all.size() == two->all.size());
  CHECK(one->best.x == two->best.x);
  CHECK(one->hits == two->hits);
  for (std::size_t i = 0; i < one->all.size(); ++i) CHECK(one->all[i].x == two->all[i].x);
}

TEST_CASE("A good enough descent ends the search with its batch, and no start gives nothing") {
  const auto start = [](std::size_t) { return std::optional(std::vector{-1.5}); };
  MultiStartOptions options = Options(10000, 2);
  options.good_enough_cost = 0.005001;
  const auto summary = MinimiseFromMany(TwoValleys(), start, options);
  REQUIRE(summary);
  CHECK(summary->started == 64);
  CHECK_FALSE(MinimiseFromMany(TwoValleys(), start, Options(0, 1)));
  const auto never = [](std::size_t) { return std::optional<std::vector<double>>{}; };
  CHECK_FALSE(MinimiseFromMany(TwoValleys(), never, Options(100, 1)));
}

}  // namespace lidwright
