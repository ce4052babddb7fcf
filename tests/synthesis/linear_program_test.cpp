// SPDX-License-Identifier: Apache-2.0
#include "lidwright/synthesis/linear_program.h"

#include <Eigen/Dense>
#include <catch2/catch.hpp>
#include <limits>

#include "synthesis/lid_models.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

// Rows through random directions that leave 0 inside, and a box of ±10.
LinearProgram Random(Draw& draw, Eigen::Index unknowns, Eigen::Index rows) {
  LinearProgram program;
  program.rows.setZero(rows + 2 * unknowns, unknowns);
  program.most.resize(rows + 2 * unknowns);
  program.cost.resize(unknowns);
  for (Eigen::Index j = 0; j < unknowns; ++j) program.cost[j] = draw(-1, 1);
  for (Eigen::Index i = 0; i < rows; ++i) {
    for (Eigen::Index j = 0; j < unknowns; ++j) program.rows(i, j) = draw(-1, 1);
    program.most[i] = draw(0.1, 5);
  }
  for (Eigen::Index j = 0; j < unknowns; ++j) {
    program.rows(rows + 2 * j, j) = 1.0;
    program.rows(rows + 2 * j + 1, j) = -1.0;
    program.most[rows + 2 * j] = program.most[rows + 2 * j + 1] = 10.0;
  }
  return program;
}

// The least over all corners, by trying every pair or triple of rows.
double LeastCorner(const LinearProgram& p) {
  const Eigen::Index n = p.cost.size(), m = p.rows.rows();
  double least = std::numeric_limits<double>::infinity();
  std::vector<Eigen::Index> chosen(static_cast<std::size_t>(n));
  const std::function<void(Eigen::Index, Eigen::Index)> choose = [&](Eigen::Index at,
                                                                     Eigen::Index from) {
    if (at == n) {
      Eigen::MatrixXd a(n, n);
      Eigen::VectorXd b(n);
      for (Eigen::Index i = 0; i < n; ++i) {
        a.row(i) = p.rows.row(chosen[static_cast<std::size_t>(i)]);
        b[i] = p.most[chosen[static_cast<std::size_t>(i)]];
      }
      if (std::abs(a.determinant()) < 1e-9) return;
      const Eigen::VectorXd z = a.inverse() * b;
      if (((p.rows * z - p.most).array() < 1e-7).all()) least = std::min(least, p.cost.dot(z));
      return;
    }
    for (Eigen::Index i = from; i < m; ++i) {
      chosen[static_cast<std::size_t>(at)] = i;
      choose(at + 1, i + 1);
    }
  };
  choose(0, 0);
  return least;
}

}  // namespace

TEST_CASE("a linear programme's least is that of the best of all its corners") {
  Draw draw(3);
  for (int run = 0; run < 60; ++run) {
    const Eigen::Index unknowns = 2 + run % 2;
    const LinearProgram program = Random(draw, unknowns, 4 + run % 9);
    const LinearSummary found = SolveLinear(program, Eigen::VectorXd::Zero(unknowns), 1e-9);
    REQUIRE(found.solved);
    CHECK(((program.most - program.rows * found.z).array() > 0.0).all());
    CHECK(program.cost.dot(found.z) == Approx(LeastCorner(program)).margin(1e-7));
  }
}

TEST_CASE("the gap that is told bounds how far a larger programme is from its least") {
  Draw draw(5);
  for (int run = 0; run < 40; ++run) {
    const LinearProgram program = Random(draw, 14, 80);
    const Eigen::VectorXd start = Eigen::VectorXd::Zero(14);
    const LinearSummary rough = SolveLinear(program, start, 1e-2);
    const LinearSummary fine = SolveLinear(program, start, 1e-7);
    REQUIRE(rough.solved);
    REQUIRE(fine.solved);
    CHECK(rough.gap <= 1e-2);
    CHECK(program.cost.dot(rough.z) >= program.cost.dot(fine.z) - 1e-6);
    CHECK(program.cost.dot(rough.z) <= program.cost.dot(fine.z) + rough.gap + 1e-6);
    CHECK(fine.iterations < 25);
  }
}

TEST_CASE("a programme without end is not called solved") {
  LinearProgram program;
  program.rows.resize(1, 2);
  program.rows << 0.0, 1.0;
  program.most.resize(1);
  program.most << 1.0;
  program.cost.resize(2);
  program.cost << -1.0, 0.0;
  CHECK_FALSE(SolveLinear(program, Eigen::VectorXd::Zero(2), 1e-9).solved);
}
