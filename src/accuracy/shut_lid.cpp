// SPDX-License-Identifier: Apache-2.0
#include "lidwright/accuracy/shut_lid.h"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <vector>

#include "lidwright/accuracy/placement.h"
#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/synthesis/lid_task.h"

namespace lidwright {
namespace {

// [rad] The lid is followed from shut in steps that grow from the first to the last.
constexpr double kFirstStep_rad = 0.002, kLastStep_rad = 0.05, kStepGrows = 1.3;
// [rad] A lid that has sunk so far past shut without touching is held up by nothing.
constexpr double kDeepest_rad = 0.5;
// [count] Halvings of a step: to the last bit.
constexpr int kHalvings = 60;
// [count] Golden cuts of a peak between two steps: to a millionth of them.
constexpr int kGoldenCuts = 30;
// [count] Directions of a shift along which lids are followed.
constexpr std::size_t kFollowed = 60;
// [1] First order holds where the followed misfit agrees within this share of the largest.
constexpr double kFirstOrderHolds = 0.03;
// [σ] Errors followed along a direction: one lid in 3000 has larger ones. One in twenty: 2.45.
constexpr double kFarthest = 4.0, kOneInTwenty = 2.45, kErrorStep = 0.25;
// [1] One in twenty.
constexpr double kShare = 0.05;
constexpr double kInfinite = std::numeric_limits<double>::infinity();

// The built lid's poses.
class BuiltMotion {
 public:
  BuiltMotion(const LidMotion& designed, const BuiltHinge& built, const FlatRim& rim)
      : built_(built), rim_(rim) {
    const Pivots &p = built.pivots, &d = designed.pivots();
    ground_ = p.case_b - p.case_a;
    coupler_ = p.lid_b - p.lid_a;
    side_ = Cross(Vec2(d.lid_a - d.case_a), Vec2(d.lid_b - d.case_b)) > 0.0 ? 1.0 : -1.0;
  }

  // Where the lid's frame stands; nothing if the arms do not reach.
  std::optional<Pose> At(double theta) const {
    Pose pose = Pose::Make(theta, Vec2::Zero());
    const Vec2 d = ground_ - pose.Turn(coupler_);
    const double a = built_.arm_a_mm, b = built_.arm_b_mm, u = d.squaredNorm();
    const double along = (a * a - b * b + u) / 2.0, squared = a * a * u - along * along;
    if (!(squared > 0.0)) return std::nullopt;
    const Vec2 arm = (along * d + side_ * std::sqrt(squared) * Perp(d)) / u;
    pose.origin = built_.pivots.case_a + arm - pose.Turn(built_.pivots.lid_a);
    return pose;
  }

  // Height of the lower end of the lid's rim.
  std::optional<double> Lowest(double theta) const {
    const auto pose = At(theta);
    if (!pose) return std::nullopt;
    return std::min((*pose * Vec2(rim_.back_mm, 0.0)).y(), (*pose * Vec2(rim_.front_mm, 0.0)).y());
  }

  ShutLid RestAt(double theta) const {
    const Pose pose = *At(theta);
    const auto off = [&](double x) { return (pose * Vec2(x, 0.0) - Vec2(x, 0.0)).norm(); };
    return {theta, std::max(off(rim_.back_mm), off(rim_.front_mm))};
  }

  // Between an angle with both ends over the rim and one where the lid is lower or its arms do not
  // reach. Nothing if it is the arms that end first.
  std::optional<ShutLid> RestBetween(double over, double under) const {
    bool touches = false;
    for (int i = 0; i < kHalvings; ++i) {
      const double middle = (over + under) / 2.0;
      const auto height = Lowest(middle);
      const bool is_over = height && *height >= 0.0;
      touches = touches || (height && *height < 0.0);
      (is_over ? over : under) = middle;
    }
    const auto below = Lowest(under);
    if (!touches && !(below && *below < 0.0)) return std::nullopt;
    return RestAt(over);
  }

  // The angle of a peak between three angles of which the middle one is highest.
  double Peak(double low, double high) const {
    constexpr double kGolden = 0.381966011250105;
    for (int i = 0; i < kGoldenCuts; ++i) {
      const double p = low + kGolden * (high - low), q = high - kGolden * (high - low);
      const auto at_p = Lowest(p), at_q = Lowest(q);
      (at_p.value_or(-1e300) < at_q.value_or(-1e300) ? low : high) =
          at_p.value_or(-1e300) < at_q.value_or(-1e300) ? p : q;
    }
    return (low + high) / 2.0;
  }

 private:
  BuiltHinge built_;
  FlatRim rim_;
  Vec2 ground_ = Vec2::Zero(), coupler_ = Vec2::Zero();
  double side_ = 1.0;
};

std::optional<ShutLid> Sinks(const BuiltMotion& lid) {
  double over = 0.0;
  for (double step = kFirstStep_rad; over > -kDeepest_rad;
       step = std::min(kLastStep_rad, kStepGrows * step)) {
    const double next = over - step;
    const auto height = lid.Lowest(next);
    if (!height || *height < 0.0) return lid.RestBetween(over, next);
    over = next;
  }
  return std::nullopt;
}

std::optional<ShutLid> Rises(const BuiltMotion& lid, double open) {
  double before = 0.0, here = 0.0;
  std::optional<double> height_before, height = lid.Lowest(0.0);
  for (double step = kFirstStep_rad; here < open;
       step = std::min(kLastStep_rad, kStepGrows * step)) {
    const double next = std::min(open, here + step);
    const auto next_height = lid.Lowest(next);
    if (next_height && *next_height >= 0.0) return lid.RestBetween(next, here);
    if (height_before && height && next_height && *height > *height_before &&
        *height >= *next_height) {
      const double peak = lid.Peak(before, next);
      const auto highest = lid.Lowest(peak);
      if (highest && *highest >= 0.0) return lid.RestBetween(peak, before);
    }
    before = here;
    here = next;
    height_before = height;
    height = next_height;
  }
  return std::nullopt;
}

constexpr std::size_t kErrors = 10;
using Errors = Eigen::Matrix<double, kErrors, 1>;

// The lid's shift, angle kept, per unit of each error: eight pivot numbers and the two arms, whose
// lengths are off by √2 of a hole.
Eigen::Matrix<double, 2, kErrors> ShiftsOf(const LidMotion& motion) {
  Eigen::Matrix<double, 2, kErrors> shifts;
  const auto pivots = LidShift(motion, 0.0, Fixing::kByMeasure);
  const auto arms = LidShiftOfArms(motion, 0.0);
  for (std::size_t k = 0; k < 8; ++k) shifts.col(static_cast<Eigen::Index>(k)) = pivots[k];
  shifts.col(8) = std::sqrt(2.0) * arms[0];
  shifts.col(9) = std::sqrt(2.0) * arms[1];
  return shifts;
}

BuiltHinge BuiltWith(const LidMotion& motion, const Errors& errors_mm) {
  PivotNumbers numbers = NumbersOf(motion.pivots());
  for (std::size_t k = 0; k < 8; ++k) numbers[k] += errors_mm(static_cast<Eigen::Index>(k));
  return {PivotsOf(numbers.data()), motion.arm_a_mm() + std::sqrt(2.0) * errors_mm(8),
          motion.arm_b_mm() + std::sqrt(2.0) * errors_mm(9)};
}

Vec2 Direction(std::size_t i) {
  const double angle = 2.0 * kPi * static_cast<double>(i) / kFollowed;
  return {std::cos(angle), std::sin(angle)};
}

// How far lids are off along one direction, at errors of 0, kErrorStep, 2 kErrorStep … standard
// deviations; ends before the first that cannot be shut.
std::vector<double> Followed(const LidMotion& motion, const Errors& errors_mm, const FlatRim& rim) {
  std::vector<double> off{0.0};
  for (double sigma = kErrorStep; sigma <= kFarthest; sigma += kErrorStep) {
    const auto shut = ShutOf(motion, BuiltWith(motion, sigma * errors_mm), rim);
    if (!shut) break;
    off.push_back(std::max(off.back(), shut->off_mm));
  }
  return off;
}

// The largest error along a direction, in standard deviations, at which a lid is off by no more
// than q; where lids still shut if q is infinite.
double ErrorFor(const std::vector<double>& off, double q) {
  const std::size_t above =
      static_cast<std::size_t>(std::upper_bound(off.begin(), off.end(), q) - off.begin());
  // Between the last that shuts and the first that does not.
  const double sigma = kErrorStep * (static_cast<double>(above) - 0.5);
  if (above == off.size()) return sigma > kFarthest ? kInfinite : sigma;
  const double low = off[above - 1], high = off[above];
  return kErrorStep * (static_cast<double>(above) - 1.0 + (q - low) / (high - low));
}

}  // namespace

BuiltHinge AsDesigned(const LidMotion& motion) {
  return {motion.pivots(), motion.arm_a_mm(), motion.arm_b_mm()};
}

std::optional<ShutLid> ShutOf(const LidMotion& designed, const BuiltHinge& built,
                              const FlatRim& rim) {
  LW_REQUIRE(!designed.plain(), "a plain hinge has no four pivots");
  LW_REQUIRE(rim.front_mm > rim.back_mm, "rim from " << rim.back_mm << " to " << rim.front_mm);
  const BuiltMotion lid(designed, built, rim);
  const auto shut = lid.Lowest(0.0);
  return shut && *shut >= -kContact_mm ? Sinks(lid) : Rises(lid, rim.open_rad);
}

SeamOff SeamOffOneInTwenty(const LidMotion& motion, double drill_error_mm, const FlatRim& rim) {
  SeamOff seam;
  seam.off_mm = seam.first_order_mm =
      SeamOffToFirstOrder_mm(motion, drill_error_mm, rim.back_mm, rim.front_mm);
  if (drill_error_mm == 0.0) return seam;
  const auto shifts = ShiftsOf(motion);
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> solver(shifts * shifts.transpose());
  const Eigen::Matrix2d root = drill_error_mm * solver.operatorSqrt();
  // Of all errors that make a shift the most likely ones: shiftsᵀ (shifts shiftsᵀ)⁻¹ of it.
  const Eigen::Matrix<double, kErrors, 2> likely =
      drill_error_mm * shifts.transpose() * solver.operatorInverseSqrt();
  std::array<Errors, kFollowed> errors;
  double largest = 0.0, missed = 0.0;
  for (std::size_t i = 0; i < kFollowed; ++i) {
    const Vec2 along = kOneInTwenty * Direction(i);
    errors[i] = likely * Direction(i);
    const auto shut = ShutOf(motion, BuiltWith(motion, kOneInTwenty * errors[i]), rim);
    const double foretold = SeamMisfit_mm(motion, root * along, rim.back_mm, rim.front_mm);
    largest = std::max(largest, foretold);
    missed = std::max(missed, shut ? std::abs(shut->off_mm - foretold) : kInfinite);
  }
  if (missed <= kFirstOrderHolds * largest) return seam;
  std::vector<std::vector<double>> followed;
  double farthest = 0.0;
  for (const Errors& e : errors) {
    followed.push_back(Followed(motion, e, rim));
    farthest = std::max(farthest, followed.back().back());
  }
  const auto share = [&](double q) {
    double sum = 0.0;
    for (const auto& along : followed) {
      const double sigma = ErrorFor(along, q);
      sum += std::exp(-sigma * sigma / 2.0);
    }
    return sum / kFollowed;
  };
  seam.stuck_share = share(farthest);
  seam.off_mm = kUnset;
  if (seam.stuck_share >= kShare) return seam;
  double low = 0.0, high = farthest;
  for (int i = 0; i < kHalvings; ++i) {
    const double middle = (low + high) / 2.0;
    (share(middle) > kShare ? low : high) = middle;
  }
  seam.off_mm = high;
  return seam;
}

}  // namespace lidwright
