// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/balance.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"

namespace lidwright {
namespace {

using Vec9 = Eigen::Matrix<double, 9, 1>;
using Mat9 = Eigen::Matrix<double, 9, 9>;

// Rows: forces x, y and moment (over kLength) of lid, arm A, arm B. Columns: the four joints' x, y
// in Joint's order, then the holder.
constexpr int kLid = 0, kArmA = 3, kArmB = 6, kHolder = 8;
// [mm] Moments are divided by this, so that all rows are of one size.
constexpr double kLength_mm = 100.0;
constexpr int kRounds = 200;
constexpr double kSettled = 1e-12;

int RowOf(Body body) {
  LW_REQUIRE(body != Body::kCase, "a holder on the case holds nothing");
  return body == Body::kLid ? kLid : body == Body::kArmA ? kArmA : kArmB;
}

void AddUnknown(Mat9& system, int row, int column, const Vec2& at, double sign) {
  system(row, column) += sign;
  system(row + 1, column + 1) += sign;
  system(row + 2, column) += -sign * at.y() / kLength_mm;
  system(row + 2, column + 1) += sign * at.x() / kLength_mm;
}

void AddForce(Vec9& known, int row, const Vec2& force, const Vec2& at) {
  known(row) += force.x();
  known(row + 1) += force.y();
  known(row + 2) += Cross(at, force) / kLength_mm;
}

void AddWeight(Vec9& known, int row, const MassProperties& body, const Vec2& centre) {
  if (!(body.mass_kg > 0.0)) return;
  AddForce(known, row, Vec2(0.0, -body.mass_kg * kGravity_m_s2), centre);
}

}  // namespace

Holder HandAt(const LidMotion& motion, const LidState& state, const Vec2& edge) {
  Holder hand;
  hand.at = state.X_CL * edge;
  hand.along = Perp(Vec2(hand.at - motion.InstantCentre(state))).normalized();
  return hand;
}

JointFriction FrictionOf(const LoadCase& load, double sense) {
  JointFriction friction{load.friction, {}, sense};
  for (std::size_t j = 0; j < kJoints; ++j) {
    friction.radius_mm[j] = load.pins[j].diameter_mm / 2.0;
  }
  return friction;
}

Balance BalanceAt(const LidMotion& motion, const LidState& state, const LoadCase& load,
                  const Holder& holder, const std::vector<LidLoad>& loads,
                  const JointFriction& friction) {
  LW_REQUIRE(!motion.plain(), "a plain hinge has no arms");
  const Pivots& pivots = motion.pivots();
  Mat9 system = Mat9::Zero();
  AddUnknown(system, kLid, 2 * kLidA, state.lid_a, 1.0);
  AddUnknown(system, kLid, 2 * kLidB, state.lid_b, 1.0);
  AddUnknown(system, kArmA, 2 * kCaseA, pivots.case_a, 1.0);
  AddUnknown(system, kArmA, 2 * kLidA, state.lid_a, -1.0);
  AddUnknown(system, kArmB, 2 * kCaseB, pivots.case_b, 1.0);
  AddUnknown(system, kArmB, 2 * kLidB, state.lid_b, -1.0);
  if (holder.moment) {
    system(kLid + 2, kHolder) = 1.0 / kLength_mm;
  } else {
    const int row = RowOf(holder.body);
    system(row, kHolder) = holder.along.x();
    system(row + 1, kHolder) = holder.along.y();
    system(row + 2, kHolder) = Cross(holder.at, holder.along) / kLength_mm;
  }
  const Eigen::FullPivLU<Mat9> solver(system);
  LW_REQUIRE(solver.isInvertible(), "theta=" << state.theta_rad << ": the holder holds nothing");

  Vec9 known = Vec9::Zero();
  AddWeight(known, kLid, load.lid, state.X_CL * load.lid.centre);
  AddWeight(known, kArmA, load.arm_a, motion.BodyPose(Body::kArmA, state) * load.arm_a.centre);
  AddWeight(known, kArmB, load.arm_b, motion.BodyPose(Body::kArmB, state) * load.arm_b.centre);
  for (const LidLoad& extra : loads) AddForce(known, kLid, extra.force_n, extra.at);

  // How the body that Balance::friction_nmm acts on turns in its joint while the lid opens.
  const std::array<double, kJoints> turning{state.rate_a, state.rate_b, 1.0 - state.rate_a,
                                            1.0 - state.rate_b};
  const bool rubs = friction.coefficient > 0.0 && friction.sense != 0.0;
  Balance balance;
  double before = 0.0;
  for (int round = 0; round < kRounds; ++round) {
    Vec9 right = -known;
    for (std::size_t j = 0; j < kJoints; ++j) {
      const double moment = balance.friction_nmm[j] / kLength_mm;
      const bool on_a = j == kCaseA || j == kLidA;
      if (j == kCaseA || j == kCaseB) {
        right((on_a ? kArmA : kArmB) + 2) -= moment;
      } else {
        right(kLid + 2) -= moment;
        right((on_a ? kArmA : kArmB) + 2) += moment;
      }
    }
    const Vec9 found = solver.solve(right);
    double size = 0.0, change = 0.0;
    for (std::size_t j = 0; j < kJoints; ++j) {
      const auto column = static_cast<Eigen::Index>(2 * j);
      const Vec2 force(found(column), found(column + 1));
      if (round > 0) change = std::max(change, (force - balance.joint[j]).norm());
      size = std::max(size, force.norm());
      balance.joint[j] = force;
      if (rubs) {
        const double sign = turning[j] * friction.sense > 0.0 ? -1.0 : 1.0;
        balance.friction_nmm[j] =
            turning[j] == 0.0 ? 0.0
                              : sign * friction.coefficient * friction.radius_mm[j] * force.norm();
      }
    }
    balance.held = found(kHolder);
    if (!rubs) return balance;
    if (round > 0 && change <= kSettled * size) return balance;
    // Loads that keep growing: the joints lock.
    if (round > 20 && size > 100.0 * before && before > 0.0) break;
    if (round == 0) before = size;
  }
  balance.settled = false;
  return balance;
}

double PullInArm_n(const LidMotion& motion, const LidState& state, const Balance& balance,
                   bool arm_b) {
  const Vec2& ground = arm_b ? motion.pivots().case_b : motion.pivots().case_a;
  const Vec2& lid = arm_b ? state.lid_b : state.lid_a;
  return balance.joint[arm_b ? kLidB : kLidA].dot((ground - lid).normalized());
}

}  // namespace lidwright
