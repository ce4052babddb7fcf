// SPDX-License-Identifier: Apache-2.0
#include "lidwright/swing/motion.h"

#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"

namespace lidwright {

BodiesAt::BodiesAt(const LidMotion& motion, double theta_rad) {
  const LidState state = motion.At(theta_rad);
  const Pivots& pivots = motion.pivots();
  // Each body turns about a point that stands still: the lid about its instant centre is best
  // written from pivot A, v = rate_a z × (A − A0) + z × (p − A).
  Put(Body::kLid, motion.BodyPose(Body::kLid, state), 1.0,
      state.rate_a * Perp(Vec2(state.lid_a - pivots.case_a)) - Perp(state.lid_a));
  if (motion.plain()) return;
  Put(Body::kArmA, motion.BodyPose(Body::kArmA, state), state.rate_a,
      -state.rate_a * Perp(pivots.case_a));
  Put(Body::kArmB, motion.BodyPose(Body::kArmB, state), state.rate_b,
      -state.rate_b * Perp(pivots.case_b));
}

RelativeMotion BodiesAt::Seen(Body body, Body frame) const {
  const Pose& X_CQ = Of(frame);
  const Twist &p = twists_[static_cast<std::size_t>(body)],
              &q = twists_[static_cast<std::size_t>(frame)];
  RelativeMotion seen;
  seen.turn = p.turn - q.turn;
  seen.v0 = X_CQ.TurnBack(p.v - q.v + seen.turn * Perp(X_CQ.origin));
  seen.X_QP = X_CQ.Inverse() * Of(body);
  return seen;
}

void BodiesAt::Put(Body body, const Pose& X_CB, double turn, const Vec2& v) {
  poses_[static_cast<std::size_t>(body)] = X_CB;
  twists_[static_cast<std::size_t>(body)] = {turn, v};
}

Swing::Swing(const LidMotion& motion, double from_rad, double to_rad)
    : Motion(from_rad, to_rad),
      motion_(motion),
      bounds_(std::make_shared<MotionBounds>(motion, from_rad, to_rad)) {}

Swing::Swing(const Swing& whole, double from_rad, double to_rad)
    : Motion(from_rad, to_rad), motion_(whole.motion_), bounds_(whole.bounds_) {
  LW_REQUIRE(whole.from() <= from_rad && from_rad < to_rad && to_rad <= whole.to(),
             "from=" << from_rad << " to=" << to_rad);
}

double Swing::Finest() const {
  return kFinestSwing_rad;
}

Slide::Slide(const BodiesAt& standing, Body body, const Vec2& way_mm)
    : Motion(0.0, way_mm.norm()),
      standing_(standing),
      body_(body),
      end_(standing.Of(body)),
      along_(way_mm.normalized()) {
  LW_REQUIRE(way_mm.allFinite() && to() > 0.0, "a slide goes somewhere");
}

BodiesAt Slide::At(double s) const {
  BodiesAt bodies = standing_;
  Pose pose = end_;
  pose.origin += (s - to()) * along_;
  bodies.Put(body_, pose, 0.0, along_);
  return bodies;
}

double Slide::Rounding_mm(Body body) const {
  return body == body_ ? kDistanceRounding_mm : 0.0;
}

double Slide::Finest() const {
  return kFinestSlide_mm;
}

}  // namespace lidwright
