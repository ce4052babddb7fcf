// SPDX-License-Identifier: Apache-2.0
#include "lidwright/synthesis/search.h"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <limits>
#include <mutex>

#include "lidwright/base/low_discrepancy.h"
#include "lidwright/base/parallel.h"

namespace lidwright {
namespace {

// [mm²] A seed whose sampled requirements miss by more than this (half the sum of squares) is
// beyond what the refinement mends.
constexpr double kHopeless_mm2 = 4000.0;
// [mm] An open lid this far over its limits may still be mended.
constexpr double kOpenSlack_mm = 30.0;
// [mm] Seeds to refine differ by this in some pivot.
constexpr double kSeedsApart_mm = 10.0;
// [mm] Shorter arms are not drawn.
constexpr double kShortestArm_mm = 20.0;
constexpr double kLeastSine = 0.12;
constexpr std::size_t kBlock = 4096;

struct Seed {
  double violation;
  std::size_t index;
  PivotNumbers x;
};

struct Block {
  std::vector<Seed> seeds;
  long moving = 0, promising = 0;
};

class Drawing {
 public:
  explicit Drawing(const LidTask& task, const LidCost& cost)
      : task_(task), cost_(cost), points_(task.seed) {}

  void Draw(std::size_t index, Block& block) const {
    const PivotNumbers x = At(index);
    if (!Moves(x)) return;
    ++block.moving;
    const double violation = cost_.Violation(x.data(), kHopeless_mm2);
    if (violation >= kHopeless_mm2) return;
    ++block.promising;
    block.seeds.push_back({violation, index, x});
  }

 private:
  PivotNumbers At(std::size_t index) const {
    const std::array<double, 8> unit = points_.At(index);
    PivotNumbers x;
    const PivotWish& wish = task_.pinned;
    const std::array<const std::optional<Vec2>*, 4> pins{&wish.case_a, &wish.case_b, &wish.lid_a,
                                                         &wish.lid_b};
    for (std::size_t k = 0; k < 4; ++k) {
      const Zone& zone = k < 2 ? task_.case_zone : task_.lid_zone;
      for (std::size_t axis = 0; axis < 2; ++axis) {
        const auto i = static_cast<Eigen::Index>(axis);
        x[2 * k + axis] = *pins[k] ? (**pins[k])[i]
                                   : zone.low[i] + unit[2 * k + axis] * (zone.high - zone.low)[i];
      }
    }
    return x;
  }

  // First motion, range and open pose, each a few dozen operations.
  bool Moves(const PivotNumbers& x) const {
    const Pivots p = PivotsOf(x.data());
    const Vec2 ra = p.lid_a - p.case_a, rb = p.lid_b - p.case_b, rw = p.lid_b - p.lid_a;
    const double a2 = ra.squaredNorm(), b2 = rb.squaredNorm(), cross = Cross(ra, rb);
    if (std::min(a2, b2) < kShortestArm_mm * kShortestArm_mm) return false;
    if (cross * cross < kLeastSine * kLeastSine * a2 * b2) return false;
    const double rate_a = -Cross(rw, rb) / cross;
    const Vec2 centre = p.lid_a - rate_a * ra;
    for (const LidTask::Contact& contact : task_.contacts) {
      if (contact.normal.dot(Perp(Vec2(contact.point - centre))) <= 0.0) return false;
    }
    const std::optional<LidMotion> motion = LidMotion::Make(p);
    if (!motion || motion->Range().high_rad <= task_.open_rad) return false;
    const LidState open = motion->At(task_.open_rad);
    double foremost = -1e300, rearmost = 1e300;
    for (const Vec2& q : task_.lid_hull) {
      const double at = (open.X_CL * q).x();
      foremost = std::max(foremost, at);
      rearmost = std::min(rearmost, at);
    }
    return foremost < task_.access_x_mm + kOpenSlack_mm &&
           rearmost > task_.behind_x_mm - kOpenSlack_mm;
  }

  const LidTask& task_;
  const LidCost& cost_;
  LowDiscrepancy<8> points_;
};

bool Before(const Candidate& a, const Candidate& b) {
  // What is met to the last bit or nearly so counts as met; then shorter arms.
  const bool a_met = a.violation < 1e-3, b_met = b.violation < 1e-3;
  if (a_met != b_met) return a_met;
  return a_met ? a.arms_mm < b.arms_mm : a.violation < b.violation;
}

}  // namespace

double Apart_mm(const Pivots& p, const Pivots& q) {
  const auto apart = [](const Pivots& s, const Pivots& t) {
    return std::max({(s.case_a - t.case_a).norm(), (s.case_b - t.case_b).norm(),
                     (s.lid_a - t.lid_a).norm(), (s.lid_b - t.lid_b).norm()});
  };
  return std::min(apart(p, q), apart(p, {q.case_b, q.case_a, q.lid_b, q.lid_a}));
}

Candidate Assess(const LidTask& task, const Pivots& pivots) {
  Candidate candidate;
  candidate.pivots = pivots;
  candidate.arms_mm = (pivots.lid_a - pivots.case_a).norm() + (pivots.lid_b - pivots.case_b).norm();
  candidate.play_factor = WorstPlayFactor(task, pivots);
  candidate.lift_factor = WorstLiftFactor(task, pivots);
  const std::optional<LidMotion> motion = LidMotion::Make(pivots);
  double rearmost = 0.0;
  if (motion && motion->Range().high_rad > task.open_rad) {
    for (int i = 0; i <= 60; ++i) {
      const LidState state = motion->At(task.open_rad * i / 60);
      for (const Vec2& p : task.lid_hull) rearmost = std::min(rearmost, (state.X_CL * p).x());
    }
    candidate.reach_behind_mm = -rearmost;
  }
  return candidate;
}

Candidate Refine(const LidTask& task, const Pivots& start, const Favour& favour, int angles) {
  const LidCost cost(task, favour, angles);
  const PivotNumbers x = NumbersOf(start);
  LeastSquaresOptions options;
  options.max_iterations = 60;
  options.function_tolerance = 1e-5;
  options.parameter_tolerance = 1e-7;
  options.first_radius = 30.0;
  const LeastSquaresSummary summary =
      Minimise(cost.Problem(), std::vector<double>(x.begin(), x.end()), options);
  if (summary.why == LeastSquaresEnd::kBadStart) {
    Candidate none;
    none.pivots = start;
    none.violation = std::numeric_limits<double>::infinity();
    return none;
  }
  Candidate candidate = Assess(task, PivotsOf(summary.x.data()));
  // Judged without the reserve for snapping.
  Favour plain = favour;
  plain.extra_gap_mm = 0.0;
  candidate.violation = LidCost(task, plain, 2 * angles).Missed(summary.x.data());
  return candidate;
}

Pivots Snapped(const LidTask& task, const Pivots& pivots, double grid_mm) {
  const auto snap = [&](const Vec2& p, const std::optional<Vec2>& pin) -> Vec2 {
    if (pin || grid_mm <= 0.0) return p;
    return {std::round(p.x() / grid_mm) * grid_mm, std::round(p.y() / grid_mm) * grid_mm};
  };
  return {snap(pivots.case_a, task.pinned.case_a), snap(pivots.case_b, task.pinned.case_b),
          snap(pivots.lid_a, task.pinned.lid_a), snap(pivots.lid_b, task.pinned.lid_b)};
}

SearchSummary FindLinkages(const LidTask& task, const SearchOptions& options) {
  SearchSummary summary;
  summary.seeds = options.seeds;
  Favour coarse = options.favour;
  coarse.extra_gap_mm = 0.0;
  const LidCost cost(task, coarse, 6);
  const Drawing drawing(task, cost);
  const std::size_t count = (static_cast<std::size_t>(options.seeds) + kBlock - 1) / kBlock;
  std::vector<Block> blocks(count);
  std::atomic<std::size_t> done{0};
  std::mutex reporting;
  const auto report = [&](double share) {
    if (!options.progress) return;
    const std::lock_guard<std::mutex> lock(reporting);
    options.progress(share);
  };
  ParallelFor(count, options.threads, [&](std::size_t b) {
    const std::size_t end = std::min((b + 1) * kBlock, static_cast<std::size_t>(options.seeds));
    for (std::size_t i = b * kBlock; i < end; ++i) drawing.Draw(i, blocks[b]);
    report(0.5 * static_cast<double>(++done) / static_cast<double>(count));
  });
  std::vector<Seed> seeds;
  for (const Block& block : blocks) {
    summary.moving += block.moving;
    summary.promising += block.promising;
    seeds.insert(seeds.end(), block.seeds.begin(), block.seeds.end());
  }
  std::sort(seeds.begin(), seeds.end(), [](const Seed& a, const Seed& b) {
    return a.violation < b.violation || (a.violation == b.violation && a.index < b.index);
  });
  std::vector<Pivots> starts;
  for (const Seed& seed : seeds) {
    if (static_cast<int>(starts.size()) >= options.keep) break;
    const Pivots pivots = PivotsOf(seed.x.data());
    const bool fresh = std::none_of(starts.begin(), starts.end(), [&](const Pivots& other) {
      return Apart_mm(pivots, other) < kSeedsApart_mm;
    });
    if (fresh) starts.push_back(pivots);
  }
  summary.refined = static_cast<long>(starts.size());
  summary.candidates.resize(starts.size());
  done = 0;
  ParallelFor(starts.size(), options.threads, [&](std::size_t i) {
    summary.candidates[i] = Refine(task, starts[i], options.favour, options.angles);
    report(0.5 + 0.5 * static_cast<double>(++done) / static_cast<double>(starts.size()));
  });
  std::stable_sort(summary.candidates.begin(), summary.candidates.end(), Before);
  return summary;
}

}  // namespace lidwright
