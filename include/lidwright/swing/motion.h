// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <memory>

#include "lidwright/linkage/lid_motion.h"
#include "lidwright/swing/motion_bounds.h"

namespace lidwright {

/// One body seen from another at one place of a motion: where its points are and how they move, per
/// unit of the motion's parameter: v(q) = v0 + turn · z × q for a point now at q in the frame that
/// looks.
struct RelativeMotion {
  Pose X_QP;
  Vec2 v0 = Vec2::Zero();
  double turn = 0.0;

  Vec2 VelocityAt(const Vec2& q) const { return v0 + turn * Perp(q); }
};

/// Poses and twists of all bodies at one place of a motion.
class BodiesAt {
 public:
  /// Everything at rest with the lid shut.
  BodiesAt() = default;
  /// The bodies of a linkage at one lid angle, moving per radian of it.
  BodiesAt(const LidMotion& motion, double theta_rad);

  const Pose& Of(Body body) const { return poses_[static_cast<std::size_t>(body)]; }
  RelativeMotion Seen(Body body, Body frame) const;

  /// Velocity of the point of `body` that is now at `p` in the case's frame.
  Vec2 VelocityAt(Body body, const Vec2& p) const {
    const Twist& twist = twists_[static_cast<std::size_t>(body)];
    return twist.v + twist.turn * Perp(p);
  }

  /// Puts one body at a pose, turning at `turn` while its point at the case's origin moves at `v`.
  void Put(Body body, const Pose& X_CB, double turn, const Vec2& v);

 private:
  struct Twist {
    double turn = 0.0;
    Vec2 v = Vec2::Zero();  // velocity of the body's point at the case's origin
  };
  std::array<Pose, kBodies> poses_;
  std::array<Twist, kBodies> twists_;
};

/// A motion of rigid bodies in the plane over a parameter s from `from` to `to`, with bounds on its
/// second derivative: all that a certified gap needs to know. Lengths in mm.
class Motion {
 public:
  virtual ~Motion() = default;

  double from() const { return from_; }
  double to() const { return to_; }

  /// False if nothing bounds the motion somewhere; it is then refused.
  virtual bool Bounded() const { return true; }
  virtual BodiesAt At(double s) const = 0;
  /// Of points of `body` seen from `frame`, both different, at every s in [low, high].
  virtual AccelerationBound Acceleration(Body body, Body frame, double low, double high) const = 0;
  /// Computed places of points of a body may be this far from the true ones.
  virtual double Rounding_mm(Body body) const = 0;
  /// A piece of the motion shorter than this is not halved further.
  virtual double Finest() const = 0;

 protected:
  Motion(double from, double to) : from_(from), to_(to) {}

 private:
  double from_, to_;
};

/// A stretch of a linkage's swing, or of a lid's on a plain hinge; s is the lid angle in radians.
class Swing : public Motion {
 public:
  /// Requires 0 ≤ from < to within the motion's range.
  Swing(const LidMotion& motion, double from_rad, double to_rad);
  /// A stretch of another swing, which shares its bounds.
  Swing(const Swing& whole, double from_rad, double to_rad);

  const LidMotion& linkage() const { return motion_; }
  bool Bounded() const override { return bounds_->ok(); }
  BodiesAt At(double s) const override { return BodiesAt(motion_, s); }
  AccelerationBound Acceleration(Body body, Body frame, double low, double high) const override {
    return bounds_->Acceleration(body, frame, low, high);
  }
  double Rounding_mm(Body body) const override { return bounds_->Rounding_mm(body); }
  double Finest() const override;

 private:
  LidMotion motion_;
  std::shared_ptr<const MotionBounds> bounds_;
};

/// A straight slide of one body while all others stand still: a lid that is lowered, a part that is
/// brought in. s runs from 0 to the length of the way in mm and ends where the body belongs.
class Slide : public Motion {
 public:
  /// `standing` holds all bodies where they are when the slide is over. Requires a way that is
  /// longer than nothing.
  Slide(const BodiesAt& standing, Body body, const Vec2& way_mm);

  BodiesAt At(double s) const override;
  AccelerationBound Acceleration(Body, Body, double, double) const override { return {}; }
  double Rounding_mm(Body body) const override;
  double Finest() const override;

 private:
  BodiesAt standing_;
  Body body_;
  Pose end_;
  Vec2 along_;  // unit
};

}  // namespace lidwright
