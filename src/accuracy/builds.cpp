// SPDX-License-Identifier: Apache-2.0
#include "lidwright/accuracy/builds.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <random>

#include "lidwright/base/check.h"
#include "lidwright/base/parallel.h"
#include "lidwright/synthesis/lid_task.h"

namespace lidwright {
namespace {

// [–] 99 of 100 of a normal distribution lie above its mean less this many standard deviations.
constexpr double kOneInHundred = 2.326;
// [mm] Slabs whose gap is this much larger than the least one are not looked at again per build
// (plus six standard deviations).
constexpr double kOtherSpots_mm = 1.0;
constexpr std::size_t kBlock = 250;
// [rad] Around a tightest angle a build is looked at this far to both sides.
constexpr double kBeside_rad = 0.03;

// Normal numbers from a 64-bit generator by Box and Muller: the same everywhere.
class Normal {
 public:
  explicit Normal(std::uint64_t seed) : random_(seed) {}
  double operator()() {
    const double u = (static_cast<double>(random_() >> 11) + 0.5) * 0x1.0p-53;
    const double v = static_cast<double>(random_() >> 11) * 0x1.0p-53;
    return std::sqrt(-2.0 * std::log(u)) * std::cos(2.0 * kPi * v);
  }

 private:
  std::mt19937_64 random_;
};

struct Spot {
  PartPair pair;
  double theta_rad, gap_mm;
};

// The angles to look at: every spot's own and a little to both sides, each stretch of
// kBeside_rad only once.
std::vector<double> AnglesOf(const std::vector<Spot>& spots, double from, double open) {
  std::vector<double> angles;
  for (const Spot& spot : spots) {
    for (const double beside : {-kBeside_rad, 0.0, kBeside_rad}) {
      angles.push_back(std::clamp(spot.theta_rad + beside, from, open));
    }
  }
  std::sort(angles.begin(), angles.end());
  angles.erase(std::unique(angles.begin(), angles.end(),
                           [](double a, double b) { return b - a < kBeside_rad / 3.0; }),
               angles.end());
  return angles;
}

double Percentile(std::vector<double> values, double share) {
  const auto at = static_cast<std::size_t>(share * static_cast<double>(values.size() - 1));
  std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(at), values.end());
  return values[at];
}

double Spread(const std::array<double, 8>& slope) {
  return std::sqrt(std::inner_product(slope.begin(), slope.end(), slope.begin(), 0.0));
}

}  // namespace

Accuracy AccuracyOf(const Job& job, const BoxParts& parts, const LidMotion& motion,
                    const BuildOptions& options) {
  LW_REQUIRE(options.builds > 0, "builds=" << options.builds);
  const double from = job.swing.gap_from_rad, open = job.swing.open_rad;
  Accuracy accuracy;
  const MotionBounds bounds(motion, from, open);
  std::vector<Spot> spots;
  GapReport tightest;
  tightest.nearest.gap_mm = Nearness::kUnsetGap;
  for (const PartPair& pair : PairsBetween(parts.lid_slabs, parts.case_slabs)) {
    const GapReport report = LeastGap(motion, bounds, {pair});
    LW_REQUIRE(report.proven, "a lid that does not clear has no accuracy");
    spots.push_back({pair, report.nearest.theta_rad, report.nearest.gap_mm});
    if (report.nearest.gap_mm < tightest.nearest.gap_mm) tightest = report;
  }
  accuracy.gap_mm = tightest.bound_mm;
  const Nearness& near = tightest.nearest;
  const Vec2 apart = (near.on_first - near.on_second) / near.gap_mm;
  const auto shift = LidShift(motion, near.theta_rad, Fixing::kInJig);
  accuracy.worst_drop = 0.0;
  for (std::size_t k = 0; k < 8; ++k) {
    accuracy.gap_slope[k] = apart.dot(shift[k]);
    accuracy.worst_drop += std::abs(accuracy.gap_slope[k]);
  }
  accuracy.gap_spread = Spread(accuracy.gap_slope);
  double seam2 = 0.0;
  for (const Vec2& s : LidShift(motion, 0.0, Fixing::kByMeasure)) seam2 += s.squaredNorm();
  accuracy.seam_spread = std::sqrt(seam2);
  accuracy.error_it_stands_mm =
      accuracy.gap_mm / (kOneInHundred * std::max(accuracy.gap_spread, 1e-9));

  accuracy.builds = options.builds;
  const double error = accuracy.drill_error_mm = job.shop.drill_error_mm;
  const double reach = near.gap_mm + kOtherSpots_mm + 6.0 * error * accuracy.gap_spread;
  spots.erase(
      std::remove_if(spots.begin(), spots.end(), [&](const Spot& s) { return s.gap_mm > reach; }),
      spots.end());
  const std::vector<double> angles = AnglesOf(spots, from, open);
  std::vector<PartPair> pairs;
  for (const Spot& spot : spots) pairs.push_back(spot.pair);
  const auto shut_shift = LidShift(motion, 0.0, Fixing::kByMeasure);
  const PivotNumbers designed = NumbersOf(motion.pivots());
  const auto count = static_cast<std::size_t>(options.builds);
  std::vector<double> gaps(count, 0.0), seams(count, 0.0);
  ParallelFor((count + kBlock - 1) / kBlock, options.threads, [&](std::size_t block) {
    Normal normal(options.seed * 0x9e3779b97f4a7c15ULL + block);
    for (std::size_t i = block * kBlock; i < std::min(count, (block + 1) * kBlock); ++i) {
      PivotNumbers built = designed;
      Vec2 seam = Vec2::Zero();
      for (std::size_t k = 0; k < 8; ++k) {
        const double off = error * normal();
        built[k] += off;
        seam += off * shut_shift[k];
      }
      seams[i] = seam.norm();
      const auto lid = LidMotion::Make(PivotsOf(built.data()));
      if (!lid || lid->Range().high_rad <= open) continue;  // does not open: as bad as touching
      double gap = Nearness::kUnsetGap;
      for (const double theta : angles) gap = std::min(gap, GapAt(*lid, theta, pairs).gap_mm);
      gaps[i] = gap;
    }
  });
  const auto share = [&](double limit) {
    return static_cast<double>(
               std::count_if(gaps.begin(), gaps.end(), [&](double g) { return g <= limit; })) /
           static_cast<double>(count);
  };
  accuracy.touching_share = share(0.0);
  accuracy.short_share = share(job.swing.gap_mm);
  accuracy.gap_5_percent_mm = Percentile(gaps, 0.05);
  accuracy.seam_5_percent_mm = Percentile(seams, 0.95);
  return accuracy;
}

}  // namespace lidwright
