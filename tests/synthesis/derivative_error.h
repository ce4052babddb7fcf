// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>
#include <limits>
#include <utility>
#include <vector>

#include "lidwright/base/units.h"
#include "lidwright/synthesis/least_squares.h"

namespace lidwright::testing {

/// The worst |jacobian − difference quotient| / (1 + |difference quotient|) over all entries at x;
/// infinity if r or the jacobian is not defined at or next to x. Below 1e-7 for a right jacobian of
/// a smooth r with residuals and parameters of moderate size. Each quotient is of fourth order and
/// taken at the step, out of several, where it changes least; the jacobian has no say in that.
double WorstDerivativeError(const LeastSquaresProblem& problem, const std::vector<double>& x);
inline double WorstDerivativeError(const LeastSquaresProblem& problem,
                                   const std::vector<double>& x) {
  const auto rows = static_cast<std::size_t>(problem.residuals), columns = x.size();
  std::vector<double> r(rows), jacobian(rows * columns);
  constexpr double kUndefined = std::numeric_limits<double>::infinity();
  if (!problem.evaluate(x.data(), r.data(), jacobian.data())) return kUndefined;
  for (const double entry : jacobian) {
    if (!std::isfinite(entry)) return kUndefined;
  }

  // f' = (8 (f(+h) − f(−h)) − (f(+2h) − f(−2h))) / 12h, error O(h⁴) + rounding / h.
  constexpr std::pair<double, double> kStencil[] = {{1, 8}, {-1, -8}, {2, -1}, {-2, 1}};
  constexpr double kSteps[] = {1e-2, 3e-3, 1e-3, 3e-4, 1e-4, 1e-5};
  double worst = 0.0;
  for (std::size_t j = 0; j < columns; ++j) {
    std::vector<std::vector<double>> quotients;
    for (double relative : kSteps) {
      const double h = relative * std::max(1.0, std::abs(x[j]));
      std::vector<double> sum(rows, 0.0), moved = x;
      for (const auto& [shift, weight] : kStencil) {
        moved[j] = x[j] + shift * h;
        const bool defined = problem.evaluate(moved.data(), r.data(), nullptr);
        for (std::size_t i = 0; i < rows; ++i) sum[i] += defined ? weight * r[i] : kUnset;
      }
      for (double& value : sum) value /= 12.0 * h;
      quotients.push_back(sum);
    }
    for (std::size_t i = 0; i < rows; ++i) {
      double least_change = kUndefined, quotient = kUnset;
      for (std::size_t k = 0; k + 1 < quotients.size(); ++k) {
        const double change = std::abs(quotients[k][i] - quotients[k + 1][i]);
        if (change < least_change) {
          least_change = change;
          quotient = quotients[k + 1][i];
        }
      }
      if (!std::isfinite(quotient)) return kUndefined;
      const double error = std::abs(jacobian[i * columns + j] - quotient);
      worst = std::max(worst, error / (1.0 + std::abs(quotient)));
    }
  }
  return worst;
}

}  // namespace lidwright::testing
