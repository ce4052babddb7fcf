// SPDX-License-Identifier: Apache-2.0
#include "lidwright/synthesis/least_squares.h"

#include <ceres/ceres.h>
#include <glog/logging.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <mutex>
#include <utility>

#include "lidwright/base/check.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

bool AllFinite(const double* values, std::size_t count) {
  return std::all_of(values, values + count, [](double v) { return std::isfinite(v); });
}

// Ceres reports rejected steps on stderr through glog, whatever its own logging option says.
void SilenceCeres() {
  static std::once_flag once;
  std::call_once(once, [] { FLAGS_minloglevel = google::GLOG_FATAL; });
}

void RequireSound(const LeastSquaresProblem& problem, const std::vector<double>& x) {
  LW_REQUIRE(problem.parameters > 0 && problem.residuals > 0 && problem.evaluate,
             "parameters=" << problem.parameters << " residuals=" << problem.residuals);
  const auto n = static_cast<std::size_t>(problem.parameters);
  LW_REQUIRE(x.size() == n && AllFinite(x.data(), n), "size=" << x.size() << " wanted=" << n);
  LW_REQUIRE(
      problem.low.size() == problem.high.size() && (problem.low.empty() || problem.low.size() == n),
      "low=" << problem.low.size() << " high=" << problem.high.size() << " wanted=" << n);
  for (std::size_t i = 0; i < problem.low.size(); ++i) {
    // Also false for a bound that is not a number.
    LW_REQUIRE(problem.low[i] <= problem.high[i],
               "i=" << i << " low=" << problem.low[i] << " high=" << problem.high[i]);
  }
}

double Low(const LeastSquaresProblem& problem, std::size_t i) {
  return problem.low.empty() ? -std::numeric_limits<double>::infinity() : problem.low[i];
}

double High(const LeastSquaresProblem& problem, std::size_t i) {
  return problem.high.empty() ? std::numeric_limits<double>::infinity() : problem.high[i];
}

// The problem as Ceres sees it: one block of the parameters that are not held.
class FreeBlock : public ceres::CostFunction {
 public:
  FreeBlock(const LeastSquaresProblem& problem, const std::vector<std::size_t>& free,
            std::vector<double> x)
      : problem_(problem), free_(free), x_(std::move(x)) {
    set_num_residuals(problem.residuals);
    mutable_parameter_block_sizes()->push_back(static_cast<int>(free.size()));
    all_.resize(static_cast<std::size_t>(problem.residuals * problem.parameters));
  }

  // Scratch is kept between calls: one thread per solve.
  bool Evaluate(double const* const* block, double* residuals, double** jacobians) const override {
    for (std::size_t k = 0; k < free_.size(); ++k) x_[free_[k]] = block[0][k];
    double* wanted = jacobians ? jacobians[0] : nullptr;
    if (!problem_.evaluate(x_.data(), residuals, wanted ? all_.data() : nullptr)) return false;
    if (!AllFinite(residuals, static_cast<std::size_t>(problem_.residuals))) return false;
    if (!wanted) return true;
    const auto columns = static_cast<std::size_t>(problem_.parameters);
    for (std::size_t i = 0; i < static_cast<std::size_t>(problem_.residuals); ++i) {
      for (std::size_t k = 0; k < free_.size(); ++k) {
        wanted[i * free_.size() + k] = all_[i * columns + free_[k]];
      }
    }
    return AllFinite(wanted, static_cast<std::size_t>(problem_.residuals) * free_.size());
  }

 private:
  const LeastSquaresProblem& problem_;
  const std::vector<std::size_t>& free_;
  mutable std::vector<double> x_;
  mutable std::vector<double> all_;
};

// For each parameter: does it stand at a wall (or is it pinned) while the gradient of the cost,
// which is Jᵀ r, presses it against that wall?
std::vector<bool> Pressed(const LeastSquaresProblem& problem, const std::vector<double>& x) {
  const auto rows = static_cast<std::size_t>(problem.residuals), columns = x.size();
  std::vector<double> r(rows), jacobian(rows * columns);
  const bool defined = problem.evaluate(x.data(), r.data(), jacobian.data());
  std::vector<bool> pressed(columns);
  for (std::size_t j = 0; j < columns; ++j) {
    double gradient = 0.0;
    for (std::size_t i = 0; defined && i < rows; ++i) gradient += r[i] * jacobian[i * columns + j];
    const double low = Low(problem, j), high = High(problem, j);
    pressed[j] = low == high || (x[j] <= low && gradient > 0.0) || (x[j] >= high && gradient < 0.0);
  }
  return pressed;
}

// Stops a descent as soon as a step has ended at a wall that the gradient presses against: from
// there on Ceres would crawl.
class WallWatch : public ceres::IterationCallback {
 public:
  WallWatch(const LeastSquaresProblem& problem, const std::vector<std::size_t>& free,
            const std::vector<double>& block, std::vector<double> x)
      : problem_(problem), free_(free), block_(block), x_(std::move(x)) {}

  ceres::CallbackReturnType operator()(const ceres::IterationSummary& step) override {
    if (!step.step_is_successful && step.iteration > 0) return ceres::SOLVER_CONTINUE;
    bool at_wall = false;
    for (std::size_t k = 0; k < free_.size(); ++k) {
      x_[free_[k]] = block_[k];
      at_wall =
          at_wall || block_[k] <= Low(problem_, free_[k]) || block_[k] >= High(problem_, free_[k]);
    }
    if (!at_wall) return ceres::SOLVER_CONTINUE;
    const std::vector<bool> pressed = Pressed(problem_, x_);
    for (std::size_t i : free_) {
      if (pressed[i]) return ceres::SOLVER_TERMINATE_SUCCESSFULLY;
    }
    return ceres::SOLVER_CONTINUE;
  }

 private:
  const LeastSquaresProblem& problem_;
  const std::vector<std::size_t>& free_;
  const std::vector<double>& block_;
  std::vector<double> x_;
};

// One descent of Ceres over the parameters `free`, from and to summary.x. True if WallWatch ended
// it.
bool Descend(const LeastSquaresProblem& problem, const std::vector<std::size_t>& free,
             const LeastSquaresOptions& options, LeastSquaresSummary& summary) {
  std::vector<double> block;
  for (std::size_t i : free) block.push_back(summary.x[i]);
  FreeBlock cost(problem, free, summary.x);
  ceres::Problem::Options problem_options;
  problem_options.cost_function_ownership = ceres::DO_NOT_TAKE_OWNERSHIP;
  ceres::Problem ceres_problem(problem_options);
  ceres_problem.AddResidualBlock(&cost, nullptr, block.data());
  for (std::size_t k = 0; k < free.size(); ++k) {
    const double low = Low(problem, free[k]), high = High(problem, free[k]);
    const int place = static_cast<int>(k);
    if (std::isfinite(low)) ceres_problem.SetParameterLowerBound(block.data(), place, low);
    if (std::isfinite(high)) ceres_problem.SetParameterUpperBound(block.data(), place, high);
  }

  ceres::Solver::Options ceres_options;
  ceres_options.linear_solver_type = ceres::DENSE_QR;
  ceres_options.num_threads = 1;
  ceres_options.logging_type = ceres::SILENT;
  ceres_options.max_num_iterations = options.max_iterations - summary.iterations;
  ceres_options.function_tolerance = options.function_tolerance;
  ceres_options.gradient_tolerance = options.gradient_tolerance;
  ceres_options.parameter_tolerance = options.parameter_tolerance;
  ceres_options.initial_trust_region_radius = options.first_radius;
  WallWatch watch(problem, free, block, summary.x);
  if (!problem.low.empty()) {
    ceres_options.callbacks.push_back(&watch);
    ceres_options.update_state_every_iteration = true;
  }
  ceres::Solver::Summary ceres_summary;
  ceres::Solve(ceres_options, &ceres_problem, &ceres_summary);

  for (std::size_t k = 0; k < free.size(); ++k) summary.x[free[k]] = block[k];
  summary.iterations += std::max(0, static_cast<int>(ceres_summary.iterations.size()) - 1);
  if (ceres_summary.IsSolutionUsable()) summary.cost = ceres_summary.final_cost;
  switch (ceres_summary.termination_type) {
    case ceres::USER_SUCCESS:
    case ceres::CONVERGENCE:
      summary.why = LeastSquaresEnd::kConverged;
      break;
    case ceres::NO_CONVERGENCE:
      summary.why = LeastSquaresEnd::kIterationLimit;
      break;
    default:
      summary.why = LeastSquaresEnd::kFailed;
  }
  return ceres_summary.termination_type == ceres::USER_SUCCESS;
}

}  // namespace

LeastSquaresSummary Minimise(const LeastSquaresProblem& problem, const std::vector<double>& start,
                             const LeastSquaresOptions& options) {
  RequireSound(problem, start);
  SilenceCeres();
  LeastSquaresSummary summary;
  summary.x = start;
  for (std::size_t i = 0; i < start.size(); ++i) {
    summary.x[i] = std::min(std::max(start[i], Low(problem, i)), High(problem, i));
  }
  summary.cost = kUnset;

  // Ceres would also fail here, but could not be told apart from a failure on the way.
  std::vector<double> r(static_cast<std::size_t>(problem.residuals));
  if (!problem.evaluate(summary.x.data(), r.data(), nullptr) || !AllFinite(r.data(), r.size())) {
    summary.why = LeastSquaresEnd::kBadStart;
    return summary;
  }
  summary.cost = 0.0;
  for (double value : r) summary.cost += value * value / 2.0;
  summary.why = LeastSquaresEnd::kConverged;

  // First with every parameter free that has room; each further round holds those pressed against a
  // wall. Only a round that ran to its end may let go again. The cost never rises, and a finished
  // round that neither holds nor frees anything is the last.
  std::vector<bool> held(start.size());
  for (std::size_t i = 0; i < start.size(); ++i) held[i] = Low(problem, i) == High(problem, i);
  const std::size_t most_rounds = 4 * start.size() + 4;
  for (std::size_t round = 0; round < most_rounds; ++round) {
    std::vector<std::size_t> free;
    for (std::size_t i = 0; i < held.size(); ++i) {
      if (!held[i]) free.push_back(i);
    }
    const bool at_wall = !free.empty() && Descend(problem, free, options, summary);
    if (summary.why != LeastSquaresEnd::kConverged || problem.low.empty()) break;
    std::vector<bool> pressed = Pressed(problem, summary.x);
    for (std::size_t i = 0; i < held.size(); ++i) pressed[i] = pressed[i] || (at_wall && held[i]);
    if (pressed == held) break;
    held = std::move(pressed);
    if (round + 1 == most_rounds) summary.why = LeastSquaresEnd::kIterationLimit;
  }
  return summary;
}

}  // namespace lidwright
