// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/linkage/lid_motion.h"

namespace lidwright {

/// Acceleration of the points of one body seen from another, over a piece of the swing:
/// |d²p/dθ²| ≤ constant_mm + slope · |p − centre| for a point p of the moving body [mm/rad²].
struct AccelerationBound {
  double constant_mm = 0.0;
  double slope = 0.0;
  Vec2 centre = Vec2::Zero();
  double At(double distance_mm) const { return constant_mm + slope * distance_mm; }
};

/// Bounds on the motion that hold at every angle of a swing, for certified clearance.
///
/// The swing is cut into 2^depth equal pieces; on each the arms' rates and their derivatives are
/// enclosed by interval arithmetic on their closed forms, and a binary tree over them keeps the
/// largest of every longer piece.
class MotionBounds {
 public:
  /// Requires 0 ≤ from < to within the motion's range. `ok()` is false if the interval arithmetic
  /// could not separate the arms from parallel: the motion is then refused.
  MotionBounds(const LidMotion& motion, double from_rad, double to_rad, int depth = 8);

  bool ok() const { return ok_; }
  double from_rad() const { return from_; }
  double to_rad() const { return to_; }

  /// Acceleration of points of `body` seen from `frame`, both different, at every angle in
  /// [low, high]. Taken from the tree's pieces that hold it, at most three: the bound is that of a
  /// stretch up to about twice as long, and never of one shorter than the finest piece.
  AccelerationBound Acceleration(Body body, Body frame, double low_rad, double high_rad) const;

  /// How far LidMotion may put a point of a body (within kFarthestPoint_mm of the origin, on an arm
  /// within that of its pivots) from where it is, at any angle of the swing.
  double Rounding_mm(Body body) const;

 private:
  struct Rates {                          // largest absolute values on a piece
    double a = 0.0, b = 0.0;              // arm rates
    double a_lid = 0.0, b_lid = 0.0;      // arm rates seen from the lid: |rate − 1|
    double a_slope = 0.0, b_slope = 0.0;  // their derivatives
  };
  static Rates Larger(const Rates& l, const Rates& r);
  Rates Enclose(double low, double high);

  LidMotion motion_;
  double from_, to_;
  int depth_;
  bool ok_ = true;
  double pivot_rounding_mm_ = 0.0;  // of the lid's pivots
  std::vector<Rates> pieces_;       // heap order: 1 is the root
};

}  // namespace lidwright
