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
/// The swing is halved `depth` times into a binary tree of pieces; on each finest piece the arms'
/// rates and their derivatives are enclosed by interval arithmetic on their closed forms, and each
/// coarser piece takes the largest of its two halves. Piece (level, index) is the index-th of
/// 2^level equal pieces; finer pieces than the tree has take the bound of the piece around them.
class MotionBounds {
 public:
  /// Requires 0 ≤ from < to within the motion's range. `ok()` is false if the interval arithmetic
  /// could not separate the arms from parallel: the motion is then refused.
  MotionBounds(const LidMotion& motion, double from_rad, double to_rad, int depth = 8);

  bool ok() const { return ok_; }
  double from_rad() const { return from_; }
  double to_rad() const { return to_; }

  /// Acceleration of points of `body` seen from `frame`, both different, on the given piece.
  AccelerationBound Acceleration(Body body, Body frame, int level, std::size_t index) const;

 private:
  struct Rates {                          // largest absolute values on a piece
    double a = 0.0, b = 0.0;              // arm rates
    double a_lid = 0.0, b_lid = 0.0;      // arm rates seen from the lid: |rate − 1|
    double a_slope = 0.0, b_slope = 0.0;  // their derivatives
  };
  Rates Enclose(double low, double high);

  LidMotion motion_;
  double from_, to_;
  int depth_;
  bool ok_ = true;
  std::vector<Rates> pieces_;  // heap order: 1 is the root
};

}  // namespace lidwright
