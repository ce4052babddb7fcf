// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>

#include "lidwright/linkage/lid_motion.h"

namespace lidwright {

/// One body seen from another at one lid angle: where its points are and how they move, per radian
/// of lid angle: v(q) = v0 + turn · z × q for a point now at q in the frame that looks.
struct RelativeMotion {
  Pose X_QP;
  Vec2 v0 = Vec2::Zero();
  double turn = 0.0;

  Vec2 VelocityAt(const Vec2& q) const { return v0 + turn * Perp(q); }
};

/// Poses and twists of all bodies at one lid angle.
class BodiesAt {
 public:
  BodiesAt(const LidMotion& motion, double theta_rad) {
    const LidState state = motion.At(theta_rad);
    const Pivots& pivots = motion.pivots();
    for (int i = 0; i < kBodies; ++i) {
      const Body body = static_cast<Body>(i);
      if (motion.plain() && (body == Body::kArmA || body == Body::kArmB)) continue;
      poses_[static_cast<std::size_t>(i)] = motion.BodyPose(body, state);
    }
    // Each body turns about a point that stands still: the lid about its instant centre is best
    // written from pivot A, v = rate_a z × (A − A0) + z × (p − A).
    twists_[1] = {1.0, state.rate_a * Perp(Vec2(state.lid_a - pivots.case_a)) - Perp(state.lid_a)};
    twists_[2] = {state.rate_a, -state.rate_a * Perp(pivots.case_a)};
    twists_[3] = {state.rate_b, -state.rate_b * Perp(pivots.case_b)};
  }

  const Pose& Of(Body body) const { return poses_[static_cast<std::size_t>(body)]; }

  RelativeMotion Seen(Body body, Body frame) const {
    const Pose& X_CQ = Of(frame);
    const Twist &p = twists_[static_cast<std::size_t>(body)],
                &q = twists_[static_cast<std::size_t>(frame)];
    RelativeMotion seen;
    seen.turn = p.turn - q.turn;
    seen.v0 = X_CQ.TurnBack(p.v - q.v + seen.turn * Perp(X_CQ.origin));
    seen.X_QP = X_CQ.Inverse() * Of(body);
    return seen;
  }

 private:
  struct Twist {
    double turn = 0.0;
    Vec2 v = Vec2::Zero();  // velocity of the body's point at the case's origin
  };
  std::array<Pose, kBodies> poses_;
  std::array<Twist, kBodies> twists_;
};

}  // namespace lidwright
