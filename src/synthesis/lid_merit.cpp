// SPDX-License-Identifier: Apache-2.0
#include "lidwright/synthesis/lid_merit.h"

#include <ceres/jet.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "lidwright/base/check.h"
#include "lidwright/base/units.h"
#include "loop.h"

namespace lidwright {
namespace {

constexpr double kMm3PerM3 = 1e9;
// [–] The share of lids that may shut farther off.
constexpr double kOneIn = 0.05;
// [count] Directions for figures that are told, and Newton steps: each doubles the right digits.
constexpr int kToldDirections = 180;
constexpr int kNewton = 12;

double Plain(double x) {
  return x;
}
double Plain(const ceres::Jet<double, 8>& x) {
  return x.a;
}

// The square root of the shut lid's shift's covariance, per mm that each arm is off.
template <typename T>
struct ShiftRoot {
  T xx, xy, yy;
};

// With unit vectors ua, ub along the arms and the lid not turned, ua·s = ea and ub·s = eb: s = M⁻¹
// e with the rows ua, ub of M, and C = M⁻¹ M⁻ᵀ.
template <typename T>
ShiftRoot<T> RootOfShift(const Eigen::Matrix<T, 2, 1>& ua, const Eigen::Matrix<T, 2, 1>& ub) {
  const T cross = Cross(ua, ub);
  // Columns of M⁻¹: (ub.y, −ub.x) / cross and (−ua.y, ua.x) / cross.
  const T scale = T(1.0) / (cross * cross);
  const T xx = scale * (ua.y() * ua.y() + ub.y() * ub.y());
  const T xy = -scale * (ua.x() * ua.y() + ub.x() * ub.y());
  const T yy = scale * (ua.x() * ua.x() + ub.x() * ub.x());
  // √C = (C + √det I) / √(trace + 2 √det).
  using std::sqrt;
  const T root_det = T(1.0) / sqrt(cross * cross);
  const T by = sqrt(xx + yy + T(2.0) * root_det);
  return {(xx + root_det) / by, xy / by, (yy + root_det) / by};
}

// The larger movement of the rim's two ends for one shift.
template <typename T>
T Misfit(const T& sx, const T& sy, const Eigen::Matrix<T, 2, 1>& centre, const LidUse& use) {
  const T back = T(use.rim_back_mm) - centre.x(), front = T(use.rim_front_mm) - centre.x();
  T turn(0.0);
  if (Plain(back) * Plain(front) > 0.0) {
    const T a = -sy / back, b = -sy / front;
    const bool first = Plain(back) > 0.0 ? Plain(a) > Plain(b) : Plain(a) < Plain(b);
    turn = first ? a : b;
  }
  const auto off2 = [&](const T& arm) {
    const T x = sx + turn * centre.y(), y = sy + turn * arm;
    return x * x + y * y;
  };
  const T at_back = off2(back), at_front = off2(front);
  using std::sqrt;
  return sqrt((Plain(at_back) > Plain(at_front) ? at_back : at_front) + T(1e-18));
}

// q with the mean over o of exp(−q² / 2 o²) = kOneIn. In u = q² the logarithm of the mean is convex
// and falling, so Newton from below climbs without overshooting.
template <typename T>
T OneInTwenty(const std::vector<T>& off) {
  double least = std::numeric_limits<double>::infinity();
  for (const T& o : off) least = std::min(least, Plain(o));
  double u = -2.0 * std::log(kOneIn) * least * least;
  double slope = 0.0, mean = 0.0;
  for (int i = 0; i < kNewton; ++i) {
    mean = slope = 0.0;
    for (const T& o : off) {
      const double half = 0.5 / (Plain(o) * Plain(o)), share = std::exp(-u * half);
      mean += share;
      slope -= half * share;
    }
    mean /= static_cast<double>(off.size());
    slope /= static_cast<double>(off.size());
    u -= std::log(mean / kOneIn) * mean / slope;
  }
  // One Newton step more in T carries the derivatives: F(u, o) = 0, du = −F_o do / F_u.
  T miss(0.0);
  for (const T& o : off) {
    using std::exp;
    miss += exp(T(-0.5 * u) / (o * o));
  }
  miss = miss / T(static_cast<double>(off.size())) - T(kOneIn);
  using std::sqrt;
  return sqrt(T(u) - miss / T(slope));
}

}  // namespace

LidUse LidAlone(LidUse use) {
  use.lean_n = use.post_mm = 0.0;
  return use;
}

LidUse LidUseOf(const Job& job, const Solid& solid) {
  LidUse use;
  const double mass_kg = std::isnan(job.loads.lid_mass_kg)
                             ? LidVolume_mm3(solid) * job.loads.density_kg_m3 / kMm3PerM3
                             : job.loads.lid_mass_kg;
  use.weight_n = mass_kg * kGravity_m_s2;
  use.drill_error_mm = job.shop.drill_error_mm;
  use.rim_back_mm = -job.case_form.back_bow_mm;
  use.rim_front_mm = job.case_form.depth_mm + job.case_form.front_bow_mm;
  use.bench = job.room.bench_below;
  use.bench_mm = solid.bench_mm;
  return use;
}

template <typename T>
T MisfitOneInTwenty(const T* pivots, const LidUse& use, int directions) {
  LW_REQUIRE(directions >= 4, "directions=" << directions);
  using V = Eigen::Matrix<T, 2, 1>;
  const V case_a(pivots[0], pivots[1]), case_b(pivots[2], pivots[3]);
  const V lid_a(pivots[4], pivots[5]), lid_b(pivots[6], pivots[7]);
  using std::sqrt;
  const V ra = lid_a - case_a, rb = lid_b - case_b;
  const V ua = ra / sqrt(ra.squaredNorm()), ub = rb / sqrt(rb.squaredNorm());
  const V centre = lid_a + Cross(V(lid_b - lid_a), ub) / Cross(ua, ub) * ua;
  const ShiftRoot<T> root = RootOfShift<T>(ua, ub);
  std::vector<T> off;
  off.reserve(static_cast<std::size_t>(directions));
  for (int i = 0; i < directions; ++i) {
    const double angle = 2.0 * kPi * i / directions;
    const T c(std::cos(angle)), s(std::sin(angle));
    off.push_back(Misfit<T>(root.xx * c + root.xy * s, root.xy * c + root.yy * s, centre, use));
  }
  return T(use.off_along_arm_mm) * OneInTwenty(off);
}

template double MisfitOneInTwenty<double>(const double*, const LidUse&, int);
template ceres::Jet<double, 8> MisfitOneInTwenty<ceres::Jet<double, 8>>(
    const ceres::Jet<double, 8>*, const LidUse&, int);

double LeantPin(const LidTask& task, const Pivots& pivots) {
  const PivotNumbers x = NumbersOf(pivots);
  const Loop<double> open(x.data(), task.open_rad, SideOf(x.data()));
  if (!open.valid) return kUnset;
  return open.LeantPin(Pose::Make(task.open_rad, open.origin) * task.front_edge, kUsualPost_mm);
}

LidFigures FiguresOf(const LidTask& task, const LidUse& use, const Pivots& pivots) {
  LidFigures figures;
  const std::optional<LidMotion> motion = LidMotion::Make(pivots);
  if (!motion || motion->Range().high_rad <= task.open_rad) return figures;
  const PivotNumbers x = NumbersOf(pivots);
  const double side = SideOf(x.data());
  const int steps = std::max(2, static_cast<int>(std::ceil(task.open_rad * kDegPerRad)));
  double play = 0.0, lift = 0.0, rearmost = 0.0, lowest = 1e300, sine = 1.0;
  for (int i = 0; i <= steps; ++i) {
    const double theta = task.open_rad * i / steps;
    const Loop<double> loop(x.data(), theta, side);
    if (!loop.valid) return figures;
    const Pose X_CL = Pose::Make(theta, loop.origin);
    const Vec2 front = X_CL * task.front_edge;
    play = std::max(play, loop.PlayFactor(front));
    lift = std::max(lift, std::abs(loop.VelocityAt(X_CL * task.mass_centre).y() /
                                   loop.VelocityAt(front).norm()));
    sine = std::min(sine, std::abs(loop.ArmsSine()));
    for (const Vec2& p : task.lid_hull) {
      const Vec2 turned = X_CL.Turn(p);
      if (const double back = turned.x() + loop.origin.x(); back < rearmost) {
        rearmost = back;
        figures.behind_rad = theta;
      }
      lowest = std::min(lowest, turned.y() + loop.origin.y());
    }
  }
  figures.rattle_mm = 2.0 * use.play_mm * play;
  figures.misfit_mm = MisfitOneInTwenty(x.data(), use, kToldDirections);
  figures.lift_n = lift * use.weight_n;
  figures.behind_mm = -rearmost;
  figures.arms_mm = (pivots.lid_a - pivots.case_a).norm() + (pivots.lid_b - pivots.case_b).norm();
  figures.hang_mm = std::max(0.0, -std::min(pivots.lid_a.y(), pivots.lid_b.y()));
  figures.over_bench_mm = lowest - use.bench_mm;
  figures.arms_sine = sine;
  return figures;
}

double LidMerit(const LidUse& use, const LidFigures& f, const Leaning& lean) {
  const double lacks = use.bench ? std::max(0.0, kOverBench_mm - f.over_bench_mm) : 0.0;
  return lean.rattle * f.rattle_mm / kRattleStep_mm + lean.misfit * f.misfit_mm / kMisfitStep_mm +
         lean.lift * f.lift_n / kLiftStep_n + lean.behind * f.behind_mm / kBehindStep_mm +
         lean.arms * f.arms_mm / kArmsStep_mm + lean.hang * f.hang_mm / kHangStep_mm +
         lean.bench * lacks / kOverBenchStep_mm;
}

}  // namespace lidwright
