// SPDX-License-Identifier: Apache-2.0
#include "lidwright/linkage/lid_motion.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

// cross(A − A0, B − B0) = ± this: four times the squared area of the triangle a, b, |d| by Heron,
// as a function of u = |d|².
double CrossSquared(double a, double b, double u) {
  const double s = (a * a - b * b + u) / 2.0;
  return a * a * u - s * s;
}

double Acute(double angle) {
  return std::min(angle, kPi - angle);
}

double AngleBetween(const Vec2& u, const Vec2& v) {
  return std::atan2(std::abs(Cross(u, v)), u.dot(v));
}

// Lengths of the two arms, of the coupler and between the case pivots.
struct Lengths {
  double arm_a, arm_b, coupler, ground;
};

// The range of θ around 0 for which (a − b)² < |d|² < (a + b)². |d|² = g² + w² − 2 g w cos(θ −
// centre) is least, |g − w|, at θ = centre and grows on both sides of it to g + w.
AngleRange RangeOf(const Lengths& of, double centre) {
  double low = -kPi, high = kPi;
  if (of.ground == 0.0) return {low, high, false};
  const auto end_at = [&](double angle, double before) {
    const double theta = std::remainder(angle, 2.0 * kPi);
    for (const double turn : {theta - 2.0 * kPi, theta, theta + 2.0 * kPi}) {
      if (turn < 0.0) low = std::max(low, std::min(0.0, turn + before));
      if (turn > 0.0) high = std::min(high, std::max(0.0, turn - before));
    }
  };
  const double difference = std::abs(of.arm_a - of.arm_b), sum = of.arm_a + of.arm_b;
  const double least = std::abs(of.ground - of.coupler), most = of.ground + of.coupler;
  // 4 g w sin²(half/2) = |d|² − least², 4 g w cos²(half/2) = most² − |d|²: as products these keep
  // their digits where the lengths nearly balance.
  for (const double limit : {difference, sum}) {
    const double sine2 = (limit - least) * (limit + least);
    const double cosine2 = (most - limit) * (most + limit);
    if (sine2 <= 0.0 || cosine2 <= 0.0) continue;
    const double half = 2.0 * std::atan2(std::sqrt(sine2), std::sqrt(cosine2));
    for (const double side : {half, -half}) end_at(centre + side, 0.0);
  }
  // Where |d| only just reaches what the arms can span, they come to lie on one line with it, and
  // from there two motions go on.
  const double equal = kBalancedLengths * (sum + most), turns_back = high;
  if (std::abs(least - difference) <= equal) end_at(centre, kBeforeChange_rad);
  if (std::abs(most - sum) <= equal) end_at(centre + kPi, kBeforeChange_rad);
  return {low, high, high < turns_back};
}

}  // namespace

std::optional<LidMotion> LidMotion::Make(const Pivots& pivots) {
  LidMotion motion;
  motion.pivots_ = pivots;
  motion.ground_ = pivots.case_b - pivots.case_a;
  motion.coupler_ = pivots.lid_b - pivots.lid_a;
  const Vec2 ra = pivots.lid_a - pivots.case_a, rb = pivots.lid_b - pivots.case_b;
  LW_REQUIRE(ra.allFinite() && rb.allFinite() && motion.ground_.allFinite(), "pivots not finite");
  motion.a_ = ra.norm();
  motion.b_ = rb.norm();
  const double g = motion.ground_.norm(), w = motion.coupler_.norm();
  const double cross = Cross(ra, rb);
  if (motion.a_ == 0.0 || motion.b_ == 0.0 || w == 0.0) return std::nullopt;
  if (std::abs(cross) <= kParallelArms * motion.a_ * motion.b_) return std::nullopt;
  motion.side_ = cross > 0.0 ? 1.0 : -1.0;
  // |d|² = g² + w² − 2 g w cos(θ − (arg ground − arg coupler)).
  const double centre =
      std::atan2(Cross(motion.coupler_, motion.ground_), motion.coupler_.dot(motion.ground_));
  motion.range_ = RangeOf({motion.a_, motion.b_, w, g}, centre);
  return motion;
}

LidMotion LidMotion::MakePlain(const Vec2& pivot) {
  LidMotion motion;
  motion.pivots_ = {pivot, pivot, pivot, pivot};
  motion.plain_ = true;
  motion.range_ = {-kPi, kPi, false};
  return motion;
}

LidState LidMotion::At(double theta_rad) const {
  LidState state;
  state.theta_rad = theta_rad;
  if (plain_) {
    state.lid_a = state.lid_b = pivots_.case_a;
    state.X_CL = Pose::About(pivots_.case_a, theta_rad);
    return state;
  }
  const Pose turn = Pose::Make(theta_rad, Vec2::Zero());
  const Vec2 rw = turn.Turn(coupler_);
  const Vec2 d = ground_ - rw;
  const double u = d.squaredNorm();
  const double squared = CrossSquared(a_, b_, u);
  LW_REQUIRE(
      squared > 0.0 && range_.low_rad <= theta_rad && theta_rad <= range_.high_rad,
      "theta=" << theta_rad << " outside (" << range_.low_rad << ", " << range_.high_rad << ")");
  const double cross = side_ * std::sqrt(squared);
  const Vec2 ra = ((a_ * a_ - b_ * b_ + u) / 2.0 * d + cross * Perp(d)) / u;
  const Vec2 rb = ra - d;
  state.lid_a = pivots_.case_a + ra;
  state.lid_b = pivots_.case_b + rb;
  // The loop A' + z × rw = B' with A' = rate_a z × ra, B' = rate_b z × rb, crossed with rb and ra.
  state.rate_a = -Cross(rw, rb) / cross;
  state.rate_b = -Cross(rw, ra) / cross;
  state.X_CL = turn;
  state.X_CL.origin = state.lid_a - turn.Turn(pivots_.lid_a);
  return state;
}

Pose LidMotion::BodyPose(Body body, const LidState& state) const {
  const auto arm = [](const Vec2& ground, const Vec2& closed, const Vec2& now) {
    const Vec2 from = closed - ground, to = now - ground;
    const double length2 = std::sqrt(from.squaredNorm() * to.squaredNorm());
    Pose pose{from.dot(to) / length2, Cross(from, to) / length2, Vec2::Zero()};
    pose.origin = ground - pose.Turn(ground);
    return pose;
  };
  switch (body) {
    case Body::kCase:
      return Pose{};
    case Body::kLid:
      return state.X_CL;
    case Body::kArmA:
      LW_REQUIRE(!plain_, "a plain hinge has no arms");
      return arm(pivots_.case_a, pivots_.lid_a, state.lid_a);
    case Body::kArmB:
      LW_REQUIRE(!plain_, "a plain hinge has no arms");
      return arm(pivots_.case_b, pivots_.lid_b, state.lid_b);
    case Body::kBrought:
      LW_REQUIRE(false, "what is brought in is no part of the linkage");
  }
  return Pose{};
}

double LidMotion::ArmTurn_rad(Body arm, const LidState& state) const {
  LW_REQUIRE(arm == Body::kArmA || arm == Body::kArmB, "not an arm");
  return BodyPose(arm, state).Angle_rad();
}

Vec2 LidMotion::InstantCentre(const LidState& state) const {
  if (plain_) return pivots_.case_a;
  // A' = z × (A − I) and A' = rate_a z × (A − A0).
  return state.lid_a - state.rate_a * (state.lid_a - pivots_.case_a);
}

double LidMotion::ArmsAngle_rad(const LidState& state) const {
  return Acute(AngleBetween(state.lid_a - pivots_.case_a, state.lid_b - pivots_.case_b));
}

double LidMotion::TransmissionAngle_rad(const LidState& state) const {
  return Acute(AngleBetween(state.lid_b - state.lid_a, state.lid_b - pivots_.case_b));
}

std::vector<double> LidMotion::DeadPoints(double to_rad) const {
  std::vector<double> angles;
  if (plain_) return angles;
  const double w = coupler_.norm(), g = ground_.norm();
  const double coupler_heading = std::atan2(coupler_.y(), coupler_.x());
  const double high = std::min(to_rad, range_.high_rad);
  // Coupler in line with the arm `near` (length n, about ground `base`): the coupler's far end is
  // w ± n from `base` and on the other arm's circle (length f, about base + span). `toward` is +1
  // when the coupler points from the far end to the near one along its own direction.
  const auto search = [&](const Vec2& base, const Vec2& span, double n, double f, bool near_is_b) {
    for (const double reach : {w + n, std::abs(w - n)}) {
      if (reach == 0.0 || g == 0.0) continue;
      const double c = (reach * reach + g * g - f * f) / (2.0 * reach * g);
      if (std::abs(c) > 1.0) continue;
      for (const double half : {std::acos(c), -std::acos(c)}) {
        const double heading = std::atan2(span.y(), span.x()) + half;  // base → far end
        const Vec2 far = base + reach * Vec2(std::cos(heading), std::sin(heading));
        // The near end lies n from base on the same line, on the far end's side when w + n or
        // w − n < 0 … both signs are tried and the one at distance w from the far end kept.
        for (const double sign : {1.0, -1.0}) {
          const Vec2 near = base + sign * n * Vec2(std::cos(heading), std::sin(heading));
          if (std::abs((far - near).norm() - w) > kInOneLine * (w + n)) continue;
          const Vec2 along = near_is_b ? Vec2(near - far) : Vec2(far - near);
          double theta =
              std::remainder(std::atan2(along.y(), along.x()) - coupler_heading, 2.0 * kPi);
          if (theta < 0.0) theta += 2.0 * kPi;
          if (theta >= high) continue;
          const Vec2& expected = near_is_b ? far : near;  // where pivot A must be
          if ((At(theta).lid_a - expected).norm() < kThisBranch * (1.0 + a_))
            angles.push_back(theta);
        }
      }
    }
  };
  search(pivots_.case_b, -ground_, b_, a_, true);
  search(pivots_.case_a, ground_, a_, b_, false);
  std::sort(angles.begin(), angles.end());
  angles.erase(std::unique(angles.begin(), angles.end(),
                           [](double x, double y) { return std::abs(x - y) < kSameAngle_rad; }),
               angles.end());
  return angles;
}

}  // namespace lidwright
