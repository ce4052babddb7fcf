// SPDX-License-Identifier: Apache-2.0
#include "lidwright/synthesis/least_squares.h"

#include <unistd.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <limits>
#include <random>
#include <thread>

#include "lidwright/base/check.h"
#include "synthesis/derivative_error.h"

namespace lidwright {
namespace {

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

constexpr double kInfinity = std::numeric_limits<double>::infinity();

// H. H. Rosenbrock (1960) as two residuals: 10 (y − x²) and 1 − x; least 0 at (1, 1).
LeastSquaresProblem Rosenbrock() {
  LeastSquaresProblem problem;
  problem.parameters = 2;
  problem.residuals = 2;
  problem.evaluate = [](const double* x, double* r, double* j) {
    r[0] = 10.0 * (x[1] - x[0] * x[0]);
    r[1] = 1.0 - x[0];
    if (j) {
      j[0] = -20.0 * x[0];
      j[1] = 10.0;
      j[2] = -1.0;
      j[3] = 0.0;
    }
    return true;
  };
  return problem;
}

// NIST StRD "Misra1a" (lower difficulty, 14 observations): y = b1 (1 − exp(−b2 x)). Data and
// certified values as recalled from the NIST collection (MEM); that the fit of these data gives the
// certified digits shows that they belong together.
LeastSquaresProblem Misra1a() {
  static constexpr double kData[14][2] = {
      {10.07, 77.6},  {14.73, 114.9}, {17.94, 141.1}, {23.93, 190.8}, {29.61, 239.9},
      {35.18, 289.0}, {40.02, 332.8}, {44.82, 378.4}, {50.76, 434.8}, {55.05, 477.3},
      {61.01, 536.8}, {66.40, 593.1}, {75.47, 689.1}, {81.78, 760.0}};
  LeastSquaresProblem problem;
  problem.parameters = 2;
  problem.residuals = 14;
  problem.evaluate = [](const double* b, double* r, double* j) {
    for (int i = 0; i < 14; ++i) {
      const double y = kData[i][0], x = kData[i][1], decay = std::exp(-b[1] * x);
      r[i] = b[0] * (1.0 - decay) - y;
      if (j) {
        j[2 * i] = 1.0 - decay;
        j[2 * i + 1] = b[0] * x * decay;
      }
    }
    return true;
  };
  return problem;
}

// To the last digit: the default stops when the cost has settled, which is half the digits of x.
LeastSquaresOptions Exactly() {
  LeastSquaresOptions options;
  options.function_tolerance = 1e-18;
  options.parameter_tolerance = 1e-14;
  return options;
}

}  // namespace

TEST_CASE("Rosenbrock's valley ends in its known minimum") {
  const auto summary = Minimise(Rosenbrock(), {-1.2, 1.0});
  CHECK(summary.why == LeastSquaresEnd::kConverged);
  CHECK_THAT(summary.x[0], WithinAbs(1.0, 1e-8));
  CHECK_THAT(summary.x[1], WithinAbs(1.0, 1e-8));
  CHECK(summary.cost < 1e-16);
  CHECK(summary.iterations > 3);
}

TEST_CASE("A fit reaches the certified digits of NIST Misra1a from both published starts") {
  for (const auto& start : {std::vector{500.0, 0.0001}, std::vector{250.0, 0.0005}}) {
    const auto summary = Minimise(Misra1a(), start, Exactly());
    CHECK(summary.why == LeastSquaresEnd::kConverged);
    CHECK_THAT(summary.x[0], WithinRel(2.3894212918e+02, 1e-8));
    CHECK_THAT(summary.x[1], WithinRel(5.5015643181e-04, 1e-8));
    CHECK_THAT(2.0 * summary.cost, WithinRel(1.2455138894e-01, 1e-9));
  }
}

TEST_CASE("A box that cuts the valley moves the minimum onto its wall") {
  auto problem = Rosenbrock();
  problem.low = {-2.0, -kInfinity};
  problem.high = {0.5, kInfinity};
  const auto summary = Minimise(problem, {-1.2, 1.0}, Exactly());
  // On x = 1/2 the first residual vanishes at y = 1/4 and the second is 1/2.
  CHECK_THAT(summary.x[0], WithinAbs(0.5, 1e-9));
  CHECK_THAT(summary.x[1], WithinAbs(0.25, 1e-9));
  CHECK_THAT(summary.cost, WithinAbs(0.125, 1e-9));
}

// Least squares of a linear system in a box: the answer satisfies the Karush–Kuhn–Tucker
// conditions, and no other point does, because the cost is strictly convex.
TEST_CASE("In a random box a linear fit ends where no wall and no slope allows less") {
  std::mt19937_64 bits(20240611);
  const auto uniform = [&] { return static_cast<double>(bits() >> 11) * 0x1p-53 * 2.0 - 1.0; };
  int cases = 0, at_walls = 0;
  for (; cases < 200; ++cases) {
    constexpr int kRows = 9, kColumns = 6;
    std::vector<double> a(kRows * kColumns), b(kRows);
    for (double& v : a) v = uniform();
    for (double& v : b) v = 3.0 * uniform();
    LeastSquaresProblem problem;
    problem.parameters = kColumns;
    problem.residuals = kRows;
    problem.evaluate = [&](const double* x, double* r, double* j) {
      for (int i = 0; i < kRows; ++i) {
        r[i] = -b[i];
        for (int k = 0; k < kColumns; ++k) r[i] += a[i * kColumns + k] * x[k];
      }
      if (j) std::copy(a.begin(), a.end(), j);
      return true;
    };
    for (int k = 0; k < kColumns; ++k) {
      const double middle = uniform(), half = 0.1 + std::abs(uniform());
      problem.low.push_back(middle - half);
      problem.high.push_back(middle + half);
    }
    const auto summary = Minimise(problem, std::vector<double>(kColumns, 0.0), Exactly());
    REQUIRE(summary.why == LeastSquaresEnd::kConverged);
    std::vector<double> r(kRows);
    problem.evaluate(summary.x.data(), r.data(), nullptr);
    for (int k = 0; k < kColumns; ++k) {
      double slope = 0.0;
      for (int i = 0; i < kRows; ++i) slope += a[i * kColumns + k] * r[i];
      if (summary.x[k] == problem.low[k]) {
        ++at_walls;
        CHECK(slope > -1e-7);
      } else if (summary.x[k] == problem.high[k]) {
        ++at_walls;
        CHECK(slope < 1e-7);
      } else {
        CHECK(std::abs(slope) < 1e-7);
      }
    }
  }
  CHECK(cases == 200);
  CHECK(at_walls > 200);
}

TEST_CASE("A pinned parameter keeps its value and the others settle around it") {
  auto problem = Rosenbrock();
  problem.low = {-0.75, -kInfinity};
  problem.high = {-0.75, kInfinity};
  const auto summary = Minimise(problem, {3.0, 4.0}, Exactly());
  CHECK(summary.why == LeastSquaresEnd::kConverged);
  CHECK(summary.x[0] == -0.75);
  CHECK_THAT(summary.x[1], WithinAbs(0.5625, 1e-9));

  problem.low[1] = problem.high[1] = 2.0;
  const auto all_pinned = Minimise(problem, {3.0, 4.0});
  CHECK(all_pinned.why == LeastSquaresEnd::kConverged);
  CHECK(all_pinned.x == std::vector{-0.75, 2.0});
  const double r0 = 10.0 * (2.0 - 0.5625), r1 = 1.75;
  CHECK_THAT(all_pinned.cost, WithinRel((r0 * r0 + r1 * r1) / 2.0, 1e-14));
}

TEST_CASE("A start outside the box is moved onto it") {
  auto problem = Rosenbrock();
  problem.low = {0.0, 0.0};
  problem.high = {4.0, 4.0};
  const auto summary = Minimise(problem, {-7.0, 90.0});
  CHECK_THAT(summary.x[0], WithinAbs(1.0, 1e-6));
  CHECK_THAT(summary.x[1], WithinAbs(1.0, 1e-6));
}

// √x − 2 has its zero at 4; every step to a negative x is refused.
LeastSquaresProblem Root(bool with_nan) {
  LeastSquaresProblem problem;
  problem.parameters = 1;
  problem.residuals = 1;
  problem.evaluate = [with_nan](const double* x, double* r, double* j) {
    if (x[0] <= 0.0 && !with_nan) return false;
    r[0] = std::sqrt(x[0]) - 2.0;
    if (j) j[0] = 0.5 / std::sqrt(x[0]);
    return true;
  };
  return problem;
}

// Rosenbrock's valley with a derivative that is not finite.
LeastSquaresProblem WithoutDerivative() {
  auto problem = Rosenbrock();
  problem.evaluate = [inner = problem.evaluate](auto* x, auto* r, auto* j) {
    inner(x, r, j);
    if (j) j[0] = kInfinity;
    return true;
  };
  return problem;
}

TEST_CASE("Steps to where the residuals are not defined are refused, said or unsaid") {
  for (bool with_nan : {false, true}) {
    const auto summary = Minimise(Root(with_nan), {400.0});  // Newton's first step lands at -320
    CHECK(summary.why == LeastSquaresEnd::kConverged);
    CHECK_THAT(summary.x[0], WithinAbs(4.0, 1e-8));
  }
}

TEST_CASE("A fit prints nothing, whatever goes wrong") {
  std::FILE* const file = std::tmpfile();
  REQUIRE(file);
  std::fflush(stderr);
  const int saved = dup(STDERR_FILENO);
  dup2(fileno(file), STDERR_FILENO);
  for (bool with_nan : {false, true}) {
    Minimise(Root(with_nan), {400.0});
    Minimise(Root(with_nan), {-1.0});
  }
  Minimise(WithoutDerivative(), {0.0, 1.0});
  std::fflush(stderr);
  dup2(saved, STDERR_FILENO);
  close(saved);
  std::fseek(file, 0, SEEK_END);
  CHECK(std::ftell(file) == 0);
  std::fclose(file);
}

TEST_CASE("A start where the residuals are not defined is told apart from a failure") {
  const auto bad = Minimise(Root(false), {-1.0});
  CHECK(bad.why == LeastSquaresEnd::kBadStart);
  CHECK(bad.x == std::vector{-1.0});
  CHECK(std::isnan(bad.cost));
  CHECK(Minimise(Root(true), {-1.0}).why == LeastSquaresEnd::kBadStart);

  const auto failed = Minimise(WithoutDerivative(), {0.0, 1.0});
  CHECK(failed.why == LeastSquaresEnd::kFailed);
  CHECK(failed.x == std::vector{0.0, 1.0});
  CHECK_THAT(failed.cost, WithinAbs(50.5, 1e-12));
}

TEST_CASE("The iteration limit is kept and reported, with the best point so far") {
  LeastSquaresOptions options;
  options.max_iterations = 2;
  const auto summary = Minimise(Rosenbrock(), {-1.2, 1.0}, options);
  CHECK(summary.why == LeastSquaresEnd::kIterationLimit);
  CHECK(summary.iterations <= 2);
  CHECK(summary.cost < 12.1);  // the start's is (4.4² + 2.2²) / 2
}

TEST_CASE("The same fit gives the same bits, alone and beside another thread") {
  const auto alone = Minimise(Misra1a(), {500.0, 0.0001});
  LeastSquaresSummary left, right;
  std::thread a([&] { left = Minimise(Misra1a(), {500.0, 0.0001}); });
  std::thread b([&] { right = Minimise(Misra1a(), {500.0, 0.0001}); });
  a.join();
  b.join();
  CHECK(alone.x == left.x);
  CHECK(alone.x == right.x);
  CHECK(alone.cost == left.cost);
}

TEST_CASE("Broken contracts of a fit throw instead of ending the program") {
  auto problem = Rosenbrock();
  CHECK_THROWS_AS(Minimise(problem, {1.0}), ContractError);
  CHECK_THROWS_AS(Minimise(problem, {1.0, std::nan("")}), ContractError);
  problem.low = {0.0, 0.0};
  CHECK_THROWS_AS(Minimise(problem, {1.0, 1.0}), ContractError);
  problem.high = {1.0, -1.0};
  CHECK_THROWS_AS(Minimise(problem, {1.0, 1.0}), ContractError);
  problem.high = {1.0, std::nan("")};
  CHECK_THROWS_AS(Minimise(problem, {1.0, 1.0}), ContractError);
  CHECK_THROWS_AS(Minimise(LeastSquaresProblem{}, {}), ContractError);
}

TEST_CASE("The derivative check passes right jacobians and sees one wrong entry") {
  CHECK(testing::WorstDerivativeError(Rosenbrock(), {-1.2, 1.0}) < 1e-9);
  CHECK(testing::WorstDerivativeError(Root(false), {3.0}) < 1e-9);
  for (int entry = 0; entry < 4; ++entry) {
    auto problem = Rosenbrock();
    problem.evaluate = [inner = problem.evaluate, entry](auto* x, auto* r, auto* j) {
      inner(x, r, j);
      if (j) j[entry] += 1e-4;
      return true;
    };
    CHECK(testing::WorstDerivativeError(problem, {-1.2, 1.0}) > 3e-6);
  }
  CHECK(testing::WorstDerivativeError(Root(false), {-1.0}) == kInfinity);
}

}  // namespace lidwright
