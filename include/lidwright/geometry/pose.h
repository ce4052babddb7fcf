// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>

#include "lidwright/geometry/vec.h"

namespace lidwright {

/// A planar rigid motion X_AB: takes the coordinates of a point in frame B to those in frame A.
struct Pose {
  double cosine = 1.0;
  double sine = 0.0;
  Vec2 origin = Vec2::Zero();  ///< B's origin in A [mm]

  /// Turn by `angle_rad` about the origin, then move by `origin`.
  static Pose Make(double angle_rad, const Vec2& origin) {
    return {std::cos(angle_rad), std::sin(angle_rad), origin};
  }
  /// The turn by `angle_rad` that keeps `centre` where it is.
  static Pose About(const Vec2& centre, double angle_rad) {
    Pose pose = Make(angle_rad, Vec2::Zero());
    pose.origin = centre - pose.Turn(centre);
    return pose;
  }
  /// The turn by `angle_rad` that takes `from` to `to`.
  static Pose Taking(const Vec2& from, const Vec2& to, double angle_rad) {
    Pose pose = Make(angle_rad, Vec2::Zero());
    pose.origin = to - pose.Turn(from);
    return pose;
  }

  Vec2 Turn(const Vec2& v) const {
    return {cosine * v.x() - sine * v.y(), sine * v.x() + cosine * v.y()};
  }
  Vec2 TurnBack(const Vec2& v) const {
    return {cosine * v.x() + sine * v.y(), cosine * v.y() - sine * v.x()};
  }
  Vec2 operator*(const Vec2& p) const { return Turn(p) + origin; }
  Pose operator*(const Pose& other) const {
    return {cosine * other.cosine - sine * other.sine, sine * other.cosine + cosine * other.sine,
            *this * other.origin};
  }
  Pose Inverse() const { return {cosine, -sine, -TurnBack(origin)}; }
  double Angle_rad() const { return std::atan2(sine, cosine); }
};

}  // namespace lidwright
