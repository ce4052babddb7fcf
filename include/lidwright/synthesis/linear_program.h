// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <Eigen/Core>

namespace lidwright {

/// The least of cost · z among all z with rows · z <= most: a few unknowns, some hundred rows.
struct LinearProgram {
  Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor> rows;
  Eigen::VectorXd most;
  Eigen::VectorXd cost;
};

struct LinearSummary {
  Eigen::VectorXd z;  ///< keeps every row
  double gap = 0.0;   ///< cost · z is at most this above the least
  int iterations = 0;
  bool solved = false;  ///< the gap is below what was asked
};

/// By Mehrotra's predictor and corrector (1992, from memory) from a point strictly inside. Stops
/// when the gap is at most `gap`; ends unsolved after 60 steps or where the rows do not bound the
/// unknowns, z then being the best so far. Deterministic.
/// Requires rows · inside < most.
LinearSummary SolveLinear(const LinearProgram& program, const Eigen::VectorXd& inside, double gap);

}  // namespace lidwright
