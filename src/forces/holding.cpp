// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/holding.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/forces/lift_curve.h"

namespace lidwright {
namespace {

// [N·mm] Less than this over the whole lid is nothing: a gram at a metre.
constexpr double kNothing_nmm = 10.0;
// [–] A joint that turns less than this per lid angle holds nothing to speak of.
constexpr double kIdleJoint = 0.05;

double ArmTurn(const LidMotion& motion, const std::vector<LidState>& states, bool arm_b,
               std::size_t to) {
  // Followed along the samples: the turn may pass a half circle.
  double turn = 0.0, last = 0.0;
  for (std::size_t i = 0; i <= to; ++i) {
    const double now = motion.ArmTurn_rad(arm_b ? Body::kArmB : Body::kArmA, states[i]);
    turn += std::remainder(now - last, 2.0 * kPi);
    last = now;
  }
  return turn;
}

TorsionSpring SpringOn(Joint joint, const Feel& feel, const LidMotion& motion,
                       const std::vector<LidState>& states) {
  const auto count = static_cast<Eigen::Index>(states.size());
  Eigen::MatrixX2d basis(count, 2);
  Eigen::VectorXd moment(count);
  for (std::size_t i = 0; i < states.size(); ++i) {
    const auto row = static_cast<Eigen::Index>(i);
    const double rate = JointRate(states[i], joint);  // two springs, one at each end
    basis(row, 0) = 2.0 * rate;
    basis(row, 1) = 2.0 * rate * ArmTurn(motion, states, joint == kCaseB, i);
    moment(row) = feel.moment_nmm[i];
  }
  const Eigen::Vector2d fit = basis.colPivHouseholderQr().solve(moment);
  const Eigen::VectorXd left = moment - basis * fit;
  TorsionSpring spring;
  spring.joint = joint;
  spring.turn_rad = ArmTurn(motion, states, joint == kCaseB, states.size() - 1);
  // Torque on the arm in the arm's own sense; it helps opening if the arm turns with the lid.
  const double sense = spring.turn_rad < 0.0 ? -1.0 : 1.0;
  spring.shut_nmm = sense * fit(0);
  spring.open_nmm = sense * (fit(0) + fit(1) * spring.turn_rad);
  spring.rate_nmm_rad = (spring.open_nmm - spring.shut_nmm) / std::abs(spring.turn_rad);
  spring.left_nmm = 0.0;
  for (std::size_t i = 0; i < states.size(); ++i) {
    const double over = std::abs(left(static_cast<Eigen::Index>(i))) - feel.friction_nmm[i];
    spring.left_nmm = std::max(spring.left_nmm, over);
  }
  spring.pops_open = -left(0) > feel.friction_nmm[0];
  return spring;
}

}  // namespace

Holdings HoldingsOf(const Feel& feel, const LidMotion& motion, const WasherWish& wish) {
  LW_REQUIRE(wish.outside_mm > wish.inside_mm && wish.inside_mm >= 0.0 && wish.friction > 0.0,
             "outside=" << wish.outside_mm << " inside=" << wish.inside_mm);
  Holdings holdings;
  holdings.stay_nmm = feel.holding_nmm;
  holdings.stay_shut_nmm = feel.holding_shut_nmm;
  holdings.needed = feel.holding_nmm > kNothing_nmm;
  holdings.washer_outside_mm = wish.outside_mm;
  holdings.washer_inside_mm = wish.inside_mm;
  holdings.washer_friction = wish.friction;
  std::vector<LidState> states;
  for (const double theta : feel.theta_rad) states.push_back(motion.At(theta));
  const double outside = wish.outside_mm / 2.0, inside = wish.inside_mm / 2.0;
  const double radius = 2.0 / 3.0 * (std::pow(outside, 3) - std::pow(inside, 3)) /
                        (std::pow(outside, 2) - std::pow(inside, 2));
  for (const Joint joint : {kCaseA, kCaseB, kLidA, kLidB}) {
    FrictionWasher washer{joint, 0.0, 0.0};
    bool idle = false;
    for (std::size_t i = 0; i < states.size(); ++i) {
      const double need = feel.short_nmm[i];
      const double rate = std::abs(JointRate(states[i], joint));
      if (need <= 0.0) continue;
      idle = idle || rate < kIdleJoint;
      if (!idle) washer.torque_nmm = std::max(washer.torque_nmm, need / rate / 2.0);
    }
    if (idle) continue;
    washer.clamp_n = washer.torque_nmm / (2.0 * wish.friction * radius);
    holdings.washers.push_back(washer);
  }
  std::stable_sort(
      holdings.washers.begin(), holdings.washers.end(),
      [](const FrictionWasher& a, const FrictionWasher& b) { return a.torque_nmm < b.torque_nmm; });
  for (const Joint joint : {kCaseA, kCaseB}) {
    holdings.springs.push_back(SpringOn(joint, feel, motion, states));
  }
  std::stable_sort(
      holdings.springs.begin(), holdings.springs.end(),
      [](const TorsionSpring& a, const TorsionSpring& b) { return a.left_nmm < b.left_nmm; });
  return holdings;
}

}  // namespace lidwright
