// SPDX-License-Identifier: Apache-2.0
#include "lidwright/accuracy/placement.h"

#include <Eigen/Dense>

#include "lidwright/base/check.h"

namespace lidwright {

std::array<Vec2, 8> LidShift(const LidMotion& motion, double theta_rad, Fixing fixing) {
  LW_REQUIRE(!motion.plain(), "a plain hinge has no four pivots");
  const Pivots& p = motion.pivots();
  const LidState state = motion.At(theta_rad);
  const Vec2 ra = state.lid_a - p.ground_a, rb = state.lid_b - p.ground_b;
  const Vec2 shut_a = p.lid_a - p.ground_a, shut_b = p.lid_b - p.ground_b;
  Eigen::Matrix2d arms;
  arms << ra.transpose(), rb.transpose();
  const Eigen::Matrix2d solve = arms.inverse();
  std::array<Vec2, 8> shift;
  for (std::size_t k = 0; k < 8; ++k) {
    std::array<Vec2, 4> d{Vec2::Zero(), Vec2::Zero(), Vec2::Zero(), Vec2::Zero()};
    d[k / 2][static_cast<Eigen::Index>(k % 2)] = 1.0;
    const auto& [ground_a, ground_b, lid_a, lid_b] = d;
    // ra·dA = ra·dA0 (+ shut·(d lid − d ground) where the length follows), and for B, which is
    // carried by the lid: dB = dA + R (d lid b − d lid a).
    Vec2 right(ra.dot(ground_a), rb.dot(ground_b) - rb.dot(state.X_CL.Turn(Vec2(lid_b - lid_a))));
    if (fixing == Fixing::kInJig) {
      right += Vec2(shut_a.dot(lid_a - ground_a), shut_b.dot(lid_b - ground_b));
    }
    shift[k] = solve * right - state.X_CL.Turn(lid_a);
  }
  return shift;
}

}  // namespace lidwright
