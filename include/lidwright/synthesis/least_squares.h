// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <vector>

/// Non-linear least squares in a box: the one door to Ceres. Everything that is fitted goes through
/// it, from the published synthesis problems of the tests to the search for a hinge, so that what
/// the tests show of one holds for the other.
namespace lidwright {

/// r(x) in residuals numbers, x in parameters numbers.
struct LeastSquaresProblem {
  int parameters = 0;
  int residuals = 0;
  /// Fills r[residuals] and, unless it is null, jacobian[residuals × parameters], row by row:
  /// jacobian[i * parameters + j] = ∂r[i] / ∂x[j]. False (or a number that is not finite) where r
  /// is not defined: a step that ends there is rejected and a shorter one tried.
  std::function<bool(const double* x, double* r, double* jacobian)> evaluate;
  /// The box, both empty or both `parameters` long. Infinite bounds are none; low = high pins.
  std::vector<double> low, high;
};

struct LeastSquaresOptions {
  int max_iterations = 100;
  double function_tolerance = 1e-12;   ///< stop when |Δcost| <= this · cost
  double gradient_tolerance = 1e-14;   ///< stop when the largest |gradient| <= this
  double parameter_tolerance = 1e-12;  ///< stop when |Δx| <= this · (|x| + this)
  double first_radius = 1e4;  ///< trust region at the start; smaller: more careful first steps
};

enum class LeastSquaresEnd {
  kConverged,       ///< one of the three tolerances was met
  kIterationLimit,  ///< stopped by max_iterations; x is the best so far
  kBadStart,        ///< evaluate failed at the start (moved into the box); x is that start
  kFailed,          ///< the jacobian was not finite, or no step could be computed; x is the start
};

struct LeastSquaresSummary {
  std::vector<double> x;  ///< inside the box
  double cost;            ///< Σ r² / 2 at x; NaN after kBadStart
  int iterations = 0;
  LeastSquaresEnd why = LeastSquaresEnd::kFailed;
};

/// The local minimum that a Levenberg–Marquardt descent from `start` arrives at (Ceres, dense QR,
/// one thread: the same problem gives the same bits). A start outside the box is moved onto it
/// first. Prints nothing. May be called from several threads if `evaluate` may. Requires finite
/// start, low <= high, sizes that agree, residuals and parameters > 0.
LeastSquaresSummary Minimise(const LeastSquaresProblem& problem, const std::vector<double>& start,
                             const LeastSquaresOptions& options = {});

}  // namespace lidwright
