// SPDX-License-Identifier: Apache-2.0
#include "reference/fixed_pivot_path.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "lidwright/base/check.h"
#include "synthesis/draws.h"

namespace lidwright {

namespace {

double SizeOf(const Vec2& fixed_a, const Vec2& fixed_b, const std::vector<Vec2>& points) {
  LW_REQUIRE(points.size() >= 2, "points=" << points.size());
  return Spread(points) + (points[0] - fixed_a).norm() + (points[0] - fixed_b).norm();
}

}  // namespace

LeastSquaresProblem FixedPivotProblem(const Vec2& fixed_a, const Vec2& fixed_b,
                                      const std::vector<Vec2>& points) {
  const double size = SizeOf(fixed_a, fixed_b, points);
  const std::size_t others = points.size() - 1, parameters = 4 + others;
  const std::array<Vec2, 2> pivots{fixed_a, fixed_b};
  LeastSquaresProblem problem;
  problem.parameters = static_cast<int>(parameters);
  problem.residuals = static_cast<int>(2 * others);
  problem.evaluate = [=](const double* x, double* r, double* jacobian) {
    if (jacobian) std::fill(jacobian, jacobian + 2 * others * parameters, 0.0);
    for (std::size_t j = 0; j < others; ++j) {
      const Pose turn = Pose::Make(x[4 + j], points[j + 1]);
      for (std::size_t k = 0; k < 2; ++k) {
        const Vec2 arm(x[2 * k], x[2 * k + 1]);
        const Vec2 here = turn * arm - pivots[k], first = points[0] + arm - pivots[k];
        const std::size_t row = 2 * j + k;
        r[row] = (here - first).dot(here + first) / (2.0 * size);
        if (!jacobian) continue;
        const Vec2 by_arm = (turn.TurnBack(here) - first) / size;
        jacobian[row * parameters + 2 * k] = by_arm.x();
        jacobian[row * parameters + 2 * k + 1] = by_arm.y();
        jacobian[row * parameters + 4 + j] = here.dot(Perp(turn.Turn(arm))) / size;
      }
    }
    return true;
  };
  return problem;
}

std::vector<PlacedPath> SolveFixedPivots(const Vec2& fixed_a, const Vec2& fixed_b,
                                         const std::vector<Vec2>& points, std::uint64_t seed,
                                         const MultiStartOptions& options) {
  const double size = SizeOf(fixed_a, fixed_b, points);
  const std::size_t others = points.size() - 1;
  const auto start = [&](std::size_t number) {
    Draws draws(seed, number);
    std::vector<double> x;
    for (int k = 0; k < 4; ++k) x.push_back(draws.Uniform(-size, size));
    for (std::size_t j = 0; j < others; ++j) x.push_back(draws.Uniform(-kPi, kPi));
    return std::optional(x);
  };
  const auto many = MinimiseFromMany(FixedPivotProblem(fixed_a, fixed_b, points), start, options);
  if (!many) return {};

  std::vector<PlacedPath> solutions;
  for (const LeastSquaresSummary& end : many->all) {
    const Vec2 arm_a(end.x[0], end.x[1]), arm_b(end.x[2], end.x[3]);
    PlacedPath path{{fixed_a, points[0] + arm_a}, {fixed_b, points[0] + arm_b}, {0.0}};
    bool holds = true;
    for (std::size_t j = 0; j < others; ++j) {
      path.turn_rad.push_back(std::remainder(end.x[4 + j], 2.0 * kPi));
      const Pose turn = Pose::Make(end.x[4 + j], points[j + 1]);
      const double a = (turn * arm_a - fixed_a).norm(), b = (turn * arm_b - fixed_b).norm();
      holds = holds && std::abs(a - path.a.Length_mm()) <= 1e-10 * size &&
              std::abs(b - path.b.Length_mm()) <= 1e-10 * size;
    }
    const bool known = std::any_of(solutions.begin(), solutions.end(), [&](const PlacedPath& s) {
      return (s.a.moving - path.a.moving).norm() + (s.b.moving - path.b.moving).norm() <=
             1e-6 * size;
    });
    if (holds && !known) solutions.push_back(path);
  }
  std::sort(solutions.begin(), solutions.end(),
            [](const PlacedPath& l, const PlacedPath& r) { return l.turn_rad[1] < r.turn_rad[1]; });
  return solutions;
}

}  // namespace lidwright
