// SPDX-License-Identifier: Apache-2.0
#include "reference/path_synthesis.h"

#include <algorithm>
#include <cmath>
#include <complex>
#include <limits>

#include "lidwright/base/check.h"
#include "synthesis/draws.h"

namespace lidwright {
namespace {

using Complex = std::complex<double>;
constexpr Complex kI{0.0, 1.0};

// Places of the parameters.
constexpr std::size_t kGround = 0, kCrank = 1, kCoupler = 2, kRocker = 3, kPoint = 4;
constexpr std::size_t kOrigin = 6, kTilt = 8;

std::size_t FirstAngle(const PathTask& task) {
  return task.in_place ? 6 : 9;
}

std::size_t Parameters(const PathTask& task) {
  const std::size_t angles = task.timing == PathTiming::kFree      ? task.targets.size()
                             : task.timing == PathTiming::kOffsets ? 1
                                                                   : 0;
  return FirstAngle(task) + angles;
}

double CrankAngle(const PathTask& task, const double* x, std::size_t target) {
  const double* angles = x + FirstAngle(task);
  if (task.timing == PathTiming::kFree) return angles[target];
  return task.crank_rad[target] + (task.timing == PathTiming::kOffsets ? angles[0] : 0.0);
}

void RequireSound(const PathTask& task) {
  LW_REQUIRE(!task.targets.empty(), "no targets");
  const std::size_t angles = task.timing == PathTiming::kFree ? 0 : task.targets.size();
  LW_REQUIRE(task.crank_rad.size() == angles,
             "angles=" << task.crank_rad.size() << " wanted=" << angles);
  LW_REQUIRE(task.lengths.low >= 0.0 && task.lengths.low < task.lengths.high &&
                 task.coordinates.low < task.coordinates.high,
             "lengths=" << task.lengths.low << "…" << task.lengths.high
                        << " coordinates=" << task.coordinates.low << "…" << task.coordinates.high);
}

// P − target and, if `row` is given, its derivatives by all parameters, as complex numbers.
bool Miss(const PathTask& task, const double* x, std::size_t target, Complex& miss, Complex* row) {
  const LinkLengths lengths{x[kGround], x[kCrank], x[kCoupler], x[kRocker]};
  if (!(lengths.ground_mm > 0.0 && lengths.crank_mm > 0.0 && lengths.coupler_mm > 0.0 &&
        lengths.rocker_mm > 0.0)) {
    return false;
  }
  const double crank_rad = CrankAngle(task, x, target);
  const auto position = SolvePosition(lengths, crank_rad, Branch::kOpen);
  if (!position) return false;
  const Complex e2 = std::polar(1.0, crank_rad), e3 = std::polar(1.0, position->coupler_rad);
  const Complex point(x[kPoint], x[kPoint + 1]);
  const Complex turn = task.in_place ? 1.0 : std::polar(1.0, x[kTilt]);
  const Complex origin = task.in_place ? 0.0 : Complex(x[kOrigin], x[kOrigin + 1]);
  const Complex local = lengths.crank_mm * e2 + point * e3;
  miss = origin + turn * local - Complex(task.targets[target].x(), task.targets[target].y());
  if (!row) return true;

  // The rocker's length fixes θ3: with e4 along the rocker, e4 · d(a e2 + b e3 − d) = dc, hence
  // b e4·(i e3) dθ3 = dc − e4·(e2 da + a i e2 dθ2 + e3 db − dd).
  const Complex e4 = std::polar(1.0, position->rocker_rad);
  const auto dot = [](const Complex& l, const Complex& r) { return (std::conj(l) * r).real(); };
  const double lever = lengths.coupler_mm * dot(e4, kI * e3);
  const double by_ground = e4.real() / lever, by_crank = -dot(e4, e2) / lever;
  const double by_coupler = -dot(e4, e3) / lever, by_rocker = 1.0 / lever;
  const double by_angle = -lengths.crank_mm * dot(e4, kI * e2) / lever;
  const Complex swing = turn * kI * point * e3;  // ∂P/∂θ3
  std::fill(row, row + Parameters(task), Complex(0.0));
  row[kGround] = swing * by_ground;
  row[kCrank] = turn * e2 + swing * by_crank;
  row[kCoupler] = swing * by_coupler;
  row[kRocker] = swing * by_rocker;
  row[kPoint] = turn * e3;
  row[kPoint + 1] = turn * kI * e3;
  if (!task.in_place) {
    row[kOrigin] = 1.0;
    row[kOrigin + 1] = kI;
    row[kTilt] = kI * turn * local;
  }
  const Complex along = turn * kI * lengths.crank_mm * e2 + swing * by_angle;
  const std::size_t angle = FirstAngle(task);
  if (task.timing == PathTiming::kFree) row[angle + target] = along;
  if (task.timing == PathTiming::kOffsets) row[angle] = along;
  return true;
}

double Distance2(const TracingFourBar& linkage, double crank_rad, const Vec2& target) {
  const auto point = TracedPoint(linkage, crank_rad, Branch::kOpen);
  return point ? (*point - target).squaredNorm() : std::numeric_limits<double>::infinity();
}

// The similarity z ↦ origin + scale · z nearest to taking the traced points to the targets,
// applied.
void PlaceOnTargets(const PathTask& task, PathDesign& design) {
  const std::size_t n = task.targets.size();
  std::vector<Complex> traced;
  Complex traced_mean = 0.0, target_mean = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    const auto p = TracedPoint(design.linkage, design.crank_rad[i], Branch::kOpen);
    traced.emplace_back(p->x(), p->y());
    traced_mean += traced.back() / static_cast<double>(n);
    target_mean += Complex(task.targets[i].x(), task.targets[i].y()) / static_cast<double>(n);
  }
  Complex product = 0.0;
  double square = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    const Complex from = traced[i] - traced_mean;
    const Complex to = Complex(task.targets[i].x(), task.targets[i].y()) - target_mean;
    product += std::conj(from) * to;
    square += std::norm(from);
  }
  const Complex by = product / square;
  if (!std::isfinite(std::abs(by)) || std::abs(by) == 0.0) return;
  const double scale = std::abs(by);
  LinkLengths& l = design.linkage.lengths;
  l = {l.ground_mm * scale, l.crank_mm * scale, l.coupler_mm * scale, l.rocker_mm * scale};
  design.linkage.point_mm *= scale;
  const Complex origin = target_mean - by * traced_mean;
  design.linkage.X_WG = Pose::Make(std::arg(by), {origin.real(), origin.imag()});
}

std::optional<std::vector<double>> RandomStart(const PathTask& task, std::uint64_t seed,
                                               std::size_t number) {
  Draws draws(seed, number);
  const double spread = Spread(task.targets);
  const auto length = [&] {
    const double low = std::max(task.lengths.low, 0.1 * spread);
    const double high = std::min(task.lengths.high, 10.0 * spread);
    return low < high ? std::exp(draws.Uniform(std::log(low), std::log(high))) : task.lengths.high;
  };
  // A linkage that closes at all its crank angles is worth some tries.
  for (int tries = 0; tries < 100; ++tries) {
    PathDesign design;
    LinkLengths& l = design.linkage.lengths;
    l.ground_mm = length();
    l.crank_mm = length();
    l.coupler_mm = length();
    l.rocker_mm = length();
    const double reach = std::exp(draws.Uniform(-2.0, 1.0)) * (l.coupler_mm + l.rocker_mm);
    const double turn = draws.Uniform(-kPi, kPi);
    design.linkage.point_mm = reach * Vec2(std::cos(turn), std::sin(turn));
    const double first = draws.Uniform(-kPi, kPi);
    const double step =
        draws.Uniform(-2.0 * kPi, 2.0 * kPi) / static_cast<double>(task.targets.size());
    bool closes = true;
    for (std::size_t i = 0; i < task.targets.size(); ++i) {
      design.crank_rad.push_back(task.timing == PathTiming::kFree
                                     ? first + step * static_cast<double>(i)
                                     : task.crank_rad[i] +
                                           (task.timing == PathTiming::kOffsets ? first : 0.0));
      closes = closes && SolvePosition(l, design.crank_rad.back(), Branch::kOpen).has_value();
    }
    if (!closes) continue;
    if (!task.in_place) PlaceOnTargets(task, design);
    return ParametersOf(task, design);
  }
  return std::nullopt;
}

}  // namespace

std::optional<double> PathError(const std::vector<Vec2>& targets, const PathDesign& design) {
  LW_REQUIRE(targets.size() == design.crank_rad.size(),
             "targets=" << targets.size() << " angles=" << design.crank_rad.size());
  double error = 0.0;
  for (std::size_t i = 0; i < targets.size(); ++i) {
    error += Distance2(design.linkage, design.crank_rad[i], targets[i]);
  }
  if (!std::isfinite(error)) return std::nullopt;
  return error;
}

PathDesign WithBestTiming(const std::vector<Vec2>& targets, const TracingFourBar& linkage) {
  const auto limits = CrankLimits(linkage.lengths);
  LW_REQUIRE(limits.has_value(), "the linkage cannot be closed");
  PathDesign design{linkage, {}};
  constexpr int kGrid = 3600;
  constexpr double kStep = 2.0 * kPi / kGrid;
  for (const Vec2& target : targets) {
    double best_rad = limits->low_rad, best = Distance2(linkage, best_rad, target);
    for (int k = 0; k < kGrid; ++k) {
      const double here = Distance2(linkage, k * kStep, target);
      if (here < best) best = here, best_rad = k * kStep;
    }
    // Golden section: the distance has one minimum this near to the best of the grid.
    const double ratio = (std::sqrt(5.0) - 1.0) / 2.0;
    double low = best_rad - kStep, high = best_rad + kStep;
    while (high - low > 1e-9) {
      const double left = high - ratio * (high - low), right = low + ratio * (high - low);
      if (Distance2(linkage, left, target) < Distance2(linkage, right, target)) {
        high = right;
      } else {
        low = left;
      }
    }
    const double middle = (low + high) / 2.0;
    design.crank_rad.push_back(Distance2(linkage, middle, target) < best ? middle : best_rad);
  }
  return design;
}

LeastSquaresProblem PathProblem(const PathTask& task) {
  RequireSound(task);
  const std::size_t parameters = Parameters(task);
  constexpr double kInfinity = std::numeric_limits<double>::infinity();
  LeastSquaresProblem problem;
  problem.parameters = static_cast<int>(parameters);
  problem.residuals = static_cast<int>(2 * task.targets.size());
  problem.low.assign(parameters, -kInfinity);  // angles are periodic: no walls
  problem.high.assign(parameters, kInfinity);
  for (std::size_t k = 0; k < kPoint; ++k) {
    problem.low[k] = task.lengths.low;
    problem.high[k] = task.lengths.high;
  }
  for (std::size_t k = kPoint; k < (task.in_place ? kOrigin : kTilt); ++k) {
    problem.low[k] = task.coordinates.low;
    problem.high[k] = task.coordinates.high;
  }
  problem.evaluate = [task, parameters](const double* x, double* r, double* jacobian) {
    std::vector<Complex> row(parameters);
    for (std::size_t i = 0; i < task.targets.size(); ++i) {
      Complex miss;
      if (!Miss(task, x, i, miss, jacobian ? row.data() : nullptr)) return false;
      r[2 * i] = miss.real();
      r[2 * i + 1] = miss.imag();
      if (!jacobian) continue;
      for (std::size_t k = 0; k < parameters; ++k) {
        jacobian[2 * i * parameters + k] = row[k].real();
        jacobian[(2 * i + 1) * parameters + k] = row[k].imag();
      }
    }
    return true;
  };
  return problem;
}

PathDesign DesignOf(const PathTask& task, const std::vector<double>& x) {
  LW_REQUIRE(x.size() == Parameters(task), "size=" << x.size());
  PathDesign design;
  design.linkage.lengths = {x[kGround], x[kCrank], x[kCoupler], x[kRocker]};
  design.linkage.point_mm = {x[kPoint], x[kPoint + 1]};
  if (!task.in_place) {
    design.linkage.X_WG = Pose::Make(x[kTilt], {x[kOrigin], x[kOrigin + 1]});
  }
  for (std::size_t i = 0; i < task.targets.size(); ++i) {
    design.crank_rad.push_back(CrankAngle(task, x.data(), i));
  }
  return design;
}

std::vector<double> ParametersOf(const PathTask& task, const PathDesign& design) {
  const auto& [linkage, crank_rad] = design;
  std::vector<double> x{linkage.lengths.ground_mm,  linkage.lengths.crank_mm,
                        linkage.lengths.coupler_mm, linkage.lengths.rocker_mm,
                        linkage.point_mm.x(),       linkage.point_mm.y()};
  if (!task.in_place) {
    x.insert(x.end(), {linkage.X_WG.origin.x(), linkage.X_WG.origin.y(), linkage.X_WG.Angle_rad()});
  }
  if (task.timing == PathTiming::kFree) x.insert(x.end(), crank_rad.begin(), crank_rad.end());
  if (task.timing == PathTiming::kOffsets) x.push_back(crank_rad[0] - task.crank_rad[0]);
  return x;
}

std::optional<PathSummary> SolvePath(const PathTask& task, const PathOptions& options) {
  const LeastSquaresProblem problem = PathProblem(task);
  const auto many = MinimiseFromMany(
      problem, [&](std::size_t number) { return RandomStart(task, options.seed, number); },
      options.many);
  if (!many) return std::nullopt;
  PathSummary summary;
  summary.design = DesignOf(task, many->best.x);
  summary.error = 2.0 * many->best.cost;
  summary.started = many->started;
  summary.hits = many->hits;
  return summary;
}

}  // namespace lidwright
