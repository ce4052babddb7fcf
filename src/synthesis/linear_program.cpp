// SPDX-License-Identifier: Apache-2.0
#include "lidwright/synthesis/linear_program.h"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"

namespace lidwright {
namespace {

constexpr int kMostSteps = 60;
constexpr int kRefinements = 2;
// [–] Share of the way to the nearest row that a step goes.
constexpr double kShort = 0.995;

double LongestStep(const Eigen::VectorXd& value, const Eigen::VectorXd& change) {
  double step = 1.0 / kShort;
  for (Eigen::Index i = 0; i < value.size(); ++i) {
    if (change[i] < 0.0) step = std::min(step, -value[i] / change[i]);
  }
  return std::min(1.0, kShort * step);
}

}  // namespace

// With slack s = most − G z > 0 and prices y > 0: the optimum has cost + Gᵀ y = 0 and y s = 0. A
// Newton step on both, the slack kept exact, asks for
//   (Gᵀ (y / s) G) dz = −(cost + Gᵀ y) − Gᵀ ((wanted − y s) / s),  ds = −G dz,
//   dy = (wanted − y s − y ds) / s.
LinearSummary SolveLinear(const LinearProgram& program, const Eigen::VectorXd& inside, double gap) {
  const auto& G = program.rows;
  const Eigen::Index m = G.rows(), n = G.cols();
  LW_REQUIRE(m > 0 && inside.size() == n, "rows=" << m << " unknowns=" << n);
  LinearSummary summary;
  Eigen::VectorXd& z = summary.z = inside;
  Eigen::VectorXd s = program.most - G * z;
  LW_REQUIRE(s.minCoeff() > 0.0, "least slack=" << s.minCoeff());
  const double scale = std::max(1e-9, program.cost.cwiseAbs().maxCoeff());
  Eigen::VectorXd y = (scale * s.mean() / s.array()).cwiseMin(scale).matrix();
  Eigen::VectorXd ds(m), dy(m), wanted(m);
  Eigen::MatrixXd normal(n, n);
  for (; summary.iterations < kMostSteps; ++summary.iterations) {
    const Eigen::VectorXd unbalanced = program.cost + G.transpose() * y;
    summary.gap = y.dot(s);
    if (summary.gap <= gap && unbalanced.cwiseAbs().maxCoeff() <= 1e-9 * scale) {
      summary.solved = true;
      break;
    }
    const Eigen::VectorXd weight = y.cwiseQuotient(s);
    normal.noalias() = G.transpose() * weight.asDiagonal() * G;
    Eigen::MatrixXd firm = normal;  // near a corner the normal matrix is as good as singular …
    firm.diagonal().array() += 1e-14 * normal.diagonal().maxCoeff();
    const Eigen::LLT<Eigen::MatrixXd> factor(firm);
    if (factor.info() != Eigen::Success) break;
    const auto step = [&](const Eigen::VectorXd& products) {
      wanted = (products - y.cwiseProduct(s)).cwiseQuotient(s);
      const Eigen::VectorXd asked = -unbalanced - G.transpose() * wanted;
      Eigen::VectorXd dz = factor.solve(asked);
      for (int again = 0; again < kRefinements; ++again) {  // … what that costs is made good
        const Eigen::VectorXd lacking = asked - normal * dz;
        dz += factor.solve(lacking);
      }
      ds.noalias() = -(G * dz);
      dy = wanted - weight.cwiseProduct(ds);
      return dz;
    };
    const double mean = summary.gap / static_cast<double>(m);
    step(Eigen::VectorXd::Zero(m));
    const double near_s = LongestStep(s, ds), near_y = LongestStep(y, dy);
    const double left = (s + near_s * ds).dot(y + near_y * dy) / static_cast<double>(m);
    const double centring = std::pow(left / mean, 3);
    const Eigen::VectorXd dz =
        step(Eigen::VectorXd::Constant(m, centring * mean) - ds.cwiseProduct(dy));
    const double along_s = LongestStep(s, ds), along_y = LongestStep(y, dy);
    if (!dz.allFinite()) break;
    z += along_s * dz;
    s = program.most - G * z;
    y += along_y * dy;
    if (s.minCoeff() <= 0.0) {  // rounding: back inside, and done
      z -= along_s * dz;
      break;
    }
  }
  return summary;
}

}  // namespace lidwright
