// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/holding.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <optional>

#include "lidwright/forces/lift_curve.h"

namespace lidwright {
namespace {

// [N·mm] Less than this over the whole lid is nothing: a gram at a metre.
constexpr double kNothing_nmm = 10.0;
// [–] A joint that turns less than this per lid angle holds nothing to speak of.
constexpr double kIdleJoint = 0.05;
// [mm] A washer whose hole is wider than its pin by more than this lies beside it (a judgement).
constexpr double kLoose_mm = 1.5;

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
    if (feel.theta_rad[i] < kHandLeaves_rad) continue;
    const double over = std::abs(left(static_cast<Eigen::Index>(i))) - feel.friction_nmm[i];
    spring.left_nmm = std::max(spring.left_nmm, over);
  }
  spring.pops_open = -left(0) > feel.friction_nmm[0];
  return spring;
}

// The washer sold that fits a pin the nearest.
const StockFriction* WasherOn(double pin_mm) {
  const StockFriction* nearest = nullptr;
  for (const StockFriction& washer : StockFrictions()) {
    if (!(washer.inside_mm >= pin_mm && washer.inside_mm - pin_mm <= kLoose_mm)) continue;
    if (!nearest || washer.inside_mm < nearest->inside_mm) nearest = &washer;
  }
  return nearest;
}

// What a washer on one joint must hold at each end; nothing where the joint idles while it is
// needed.
std::optional<double> WasherTorque_nmm(Joint joint, const Feel& feel,
                                       const std::vector<LidState>& states) {
  double torque = 0.0;
  for (std::size_t i = 0; i < states.size(); ++i) {
    if (feel.theta_rad[i] < kHandLeaves_rad || feel.short_nmm[i] <= 0.0) continue;
    const double rate = std::abs(JointRate(states[i], joint));
    if (rate < kIdleJoint) return std::nullopt;
    torque = std::max(torque, feel.short_nmm[i] / rate / 2.0);
  }
  return torque;
}

}  // namespace

bool Holdings::ToBuy() const {
  return needed && std::isfinite(support_nmm) && support_nmm > kNothing_nmm;
}

Holdings HoldingsOf(const Feel& feel, const LidMotion& motion,
                    const std::array<double, kJoints>& pin_mm) {
  Holdings holdings;
  holdings.stay_nmm = feel.holding_nmm;
  holdings.stay_shut_nmm = feel.holding_shut_nmm;
  holdings.needed = feel.holding_nmm > kNothing_nmm;
  std::vector<LidState> states;
  for (std::size_t i = 0; i < feel.theta_rad.size(); ++i) {
    states.push_back(motion.At(feel.theta_rad[i]));
    if (feel.theta_rad[i] < kHandLeaves_rad) continue;
    holdings.support_nmm = std::max(holdings.support_nmm, feel.short_nmm[i]);
  }
  for (const Joint joint : {kCaseA, kCaseB, kLidA, kLidB}) {
    const StockFriction* stock = WasherOn(pin_mm[joint]);
    const std::optional<double> torque = WasherTorque_nmm(joint, feel, states);
    if (!stock || !torque || kFrictionInHand * *torque > TorqueOf_nmm(*stock)) continue;
    holdings.washers.push_back(
        {joint, *torque, stock->clamp_n * *torque / TorqueOf_nmm(*stock), *stock});
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
