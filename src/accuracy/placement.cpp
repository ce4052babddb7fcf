// SPDX-License-Identifier: Apache-2.0
#include "lidwright/accuracy/placement.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

// [count] Directions of a shift that are looked at, and halvings to a millionth of a millimetre.
constexpr std::size_t kDirections = 180;
constexpr int kHalvings = 40;

}  // namespace

std::array<Vec2, 8> LidShift(const LidMotion& motion, double theta_rad, Fixing fixing) {
  LW_REQUIRE(!motion.plain(), "a plain hinge has no four pivots");
  const Pivots& p = motion.pivots();
  const LidState state = motion.At(theta_rad);
  const Vec2 ra = state.lid_a - p.case_a, rb = state.lid_b - p.case_b;
  const Vec2 shut_a = p.lid_a - p.case_a, shut_b = p.lid_b - p.case_b;
  Eigen::Matrix2d arms;
  arms << ra.transpose(), rb.transpose();
  const Eigen::Matrix2d solve = arms.inverse();
  std::array<Vec2, 8> shift;
  for (std::size_t k = 0; k < 8; ++k) {
    std::array<Vec2, 4> d{Vec2::Zero(), Vec2::Zero(), Vec2::Zero(), Vec2::Zero()};
    d[k / 2][static_cast<Eigen::Index>(k % 2)] = 1.0;
    const auto& [case_a, case_b, lid_a, lid_b] = d;
    // ra·dA = ra·dA0 (+ shut·(d lid − d ground) where the length follows), and for B, which is
    // carried by the lid: dB = dA + R (d lid b − d lid a).
    Vec2 right(ra.dot(case_a), rb.dot(case_b) - rb.dot(state.X_CL.Turn(Vec2(lid_b - lid_a))));
    if (fixing == Fixing::kInJig) {
      right += Vec2(shut_a.dot(lid_a - case_a), shut_b.dot(lid_b - case_b));
    }
    shift[k] = solve * right - state.X_CL.Turn(lid_a);
  }
  return shift;
}

double SeamMisfit_mm(const LidMotion& motion, const Vec2& shift, double rim_back_mm,
                     double rim_front_mm) {
  LW_REQUIRE(rim_front_mm > rim_back_mm, "rim_back=" << rim_back_mm);
  const Vec2 centre = motion.InstantCentre(motion.At(0.0));
  const double back = rim_back_mm - centre.x(), front = rim_front_mm - centre.x();
  // A turn t moves the rim's point at x by t (x − cx) upwards: the lid rests where the first end is
  // back at nothing.
  double turn = 0.0;
  if (back * front > 0.0) {
    const double a = -shift.y() / back, b = -shift.y() / front;
    turn = back > 0.0 ? std::max(a, b) : std::min(a, b);
  }
  const auto off = [&](double x) {
    return Vec2(shift + turn * Perp(Vec2(x - centre.x(), -centre.y()))).norm();
  };
  return std::max(off(rim_back_mm), off(rim_front_mm));
}

double SeamOffToFirstOrder_mm(const LidMotion& motion, double drill_error_mm, double rim_back_mm,
                              double rim_front_mm) {
  Eigen::Matrix2d spread = Eigen::Matrix2d::Zero();
  for (const Vec2& s : LidShift(motion, 0.0, Fixing::kByMeasure)) spread += s * s.transpose();
  for (const Vec2& s : LidShiftOfArms(motion, 0.0)) spread += 2.0 * s * s.transpose();
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> solver(spread);
  const Eigen::Matrix2d root = drill_error_mm * solver.operatorSqrt();
  std::array<double, kDirections> off{};
  double largest = 0.0;
  for (std::size_t i = 0; i < kDirections; ++i) {
    const double angle = 2.0 * kPi * static_cast<double>(i) / kDirections;
    const Vec2 shift = root * Vec2(std::cos(angle), std::sin(angle));
    off[i] = SeamMisfit_mm(motion, shift, rim_back_mm, rim_front_mm);
    largest = std::max(largest, off[i]);
  }
  // The share of lids off by more than q, which falls with q.
  const auto share = [&](double q) {
    double sum = 0.0;
    for (const double o : off) sum += o > 0.0 ? std::exp(-q * q / (2.0 * o * o)) : 0.0;
    return sum / kDirections;
  };
  double low = 0.0, high = 3.0 * largest;  // one in ninety in the worst direction
  for (int i = 0; i < kHalvings; ++i) {
    const double middle = (low + high) / 2.0;
    (share(middle) > 0.05 ? low : high) = middle;
  }
  return high;
}

std::array<Vec2, 2> LidShiftOfArms(const LidMotion& motion, double theta_rad) {
  LW_REQUIRE(!motion.plain(), "a plain hinge has no arms");
  const LidState state = motion.At(theta_rad);
  Eigen::Matrix2d arms;
  arms << (state.lid_a - motion.pivots().case_a).transpose(),
      (state.lid_b - motion.pivots().case_b).transpose();
  const Eigen::Matrix2d solve = arms.inverse();
  return {solve * Vec2(motion.arm_a_mm(), 0.0), solve * Vec2(0.0, motion.arm_b_mm())};
}

std::array<std::array<double, 8>, 3> PlateMoves(const Pivots& pivots, bool lid_plate) {
  const Vec2& a = lid_plate ? pivots.lid_a : pivots.case_a;
  const Vec2& b = lid_plate ? pivots.lid_b : pivots.case_b;
  const Vec2 half = Perp(Vec2(a - b)) / 2.0;
  const std::size_t at = lid_plate ? 4 : 0;
  std::array<std::array<double, 8>, 3> moves{};
  moves[0][at] = moves[0][at + 2] = 1.0;
  moves[1][at + 1] = moves[1][at + 3] = 1.0;
  moves[2][at] = half.x();
  moves[2][at + 1] = half.y();
  moves[2][at + 2] = -half.x();
  moves[2][at + 3] = -half.y();
  return moves;
}

double EdgePerArmPlay(const LidMotion& motion, double theta_rad, const Vec2& front_edge) {
  LW_REQUIRE(!motion.plain(), "a plain hinge has no arms");
  const LidState state = motion.At(theta_rad);
  const Vec2 edge = state.X_CL * front_edge;
  const Vec2 out = (edge - motion.InstantCentre(state)).normalized(), along = Perp(out);
  // Unknown: the edge's movement (x, y) and the lid's turn; rows: along arm A, arm B, the path.
  Eigen::Matrix3d rows;
  int row = 0;
  for (const auto& [lid, ground] :
       {std::pair(state.lid_a, motion.pivots().case_a), {state.lid_b, motion.pivots().case_b}}) {
    const Vec2 arm = (lid - ground).normalized();
    rows.row(row++) << arm.x(), arm.y(), arm.dot(Perp(Vec2(lid - edge)));
  }
  rows.row(2) << along.x(), along.y(), 0.0;
  const Eigen::Matrix3d moves = rows.inverse();
  return std::abs(out.dot(moves.block<2, 1>(0, 0))) + std::abs(out.dot(moves.block<2, 1>(0, 1)));
}

}  // namespace lidwright
