// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>

#include "lidwright/geometry/vec.h"

namespace lidwright {

/// Which way the arms' lines cross when shut, over the eight pivot numbers: 1 or -1.
inline double SideOf(const double* x) {
  return Cross(Vec2(x[4] - x[0], x[5] - x[1]), Vec2(x[6] - x[2], x[7] - x[3])) > 0.0 ? 1.0 : -1.0;
}

/// The loop of LidMotion written once more for derivatives: T is double or a dual number over the
/// eight pivot numbers (case a, case b, lid a, lid b).
template <typename T>
struct Loop {
  using V = Eigen::Matrix<T, 2, 1>;

  V case_a, case_b, closed_a, closed_b;
  V lid_a, lid_b;    ///< now
  V origin;          ///< of the lid's frame in the case
  T rate_a, rate_b;  ///< per radian of lid angle
  bool valid = false;

  Loop(const T* x, double theta_rad, double side)
      : Loop(x, std::cos(theta_rad), std::sin(theta_rad), side) {}

  Loop(const T* x, double cosine, double sine, double side)
      : case_a(x[0], x[1]), case_b(x[2], x[3]), closed_a(x[4], x[5]), closed_b(x[6], x[7]) {
    const T c(cosine), s(sine);
    const auto turn = [&](const V& v) -> V {
      return {c * v.x() - s * v.y(), s * v.x() + c * v.y()};
    };
    const V rw = turn(V(closed_b - closed_a));
    const V d = case_b - case_a - rw;
    const T u = d.squaredNorm();
    const T a2 = (closed_a - case_a).squaredNorm(), b2 = (closed_b - case_b).squaredNorm();
    const T half = (a2 - b2 + u) / T(2.0);
    const T squared = a2 * u - half * half;
    if (!(squared > T(1e-9) * a2 * b2)) return;
    using std::sqrt;
    const T cross = T(side) * sqrt(squared);
    const V ra = (half * d + cross * Perp(d)) / u;
    const V rb = ra - d;
    lid_a = case_a + ra;
    lid_b = case_b + rb;
    origin = lid_a - turn(closed_a);
    rate_a = -Cross(rw, rb) / cross;
    rate_b = -Cross(rw, ra) / cross;
    valid = true;
  }

  /// Velocity per radian of the lid's point that is now at p.
  V VelocityAt(const V& p) const { return rate_a * Perp(V(lid_a - case_a)) + Perp(V(p - lid_a)); }

  /// Sine of the angle between the arms' lines.
  T ArmsSine() const {
    const V ra = lid_a - case_a, rb = lid_b - case_b;
    using std::sqrt;
    return Cross(ra, rb) / sqrt(ra.squaredNorm() * rb.squaredNorm());
  }

  /// Front-edge play per unit of play along the arms (R8). With the front edge (now at f) held
  /// against moving along its path, what is left is movement towards and from the instant centre.
  /// By virtual work it equals the arms' forces under a unit force there: resolve the direction
  /// from f to the instant centre along both arms and add the sizes.
  T PlayFactor(const V& f) const {
    const V ra = lid_a - case_a, rb = lid_b - case_b;
    using std::sqrt;
    const V ua = ra / sqrt(ra.squaredNorm()), ub = rb / sqrt(rb.squaredNorm());
    const V to = lid_a - rate_a * ra - f;
    const V e = to / sqrt(to.squaredNorm() + T(1e-12));
    const T cross = Cross(ua, ub);
    const T na = Cross(e, ub) / cross, nb = Cross(ua, e) / cross;
    return sqrt(na * na + T(1e-12)) + sqrt(nb * nb + T(1e-12));
  }

  /// Force on the worse pin, per unit of force of a hand at f (now), in its worst direction, when a
  /// post stops one of the arms `post_mm` from its case pivot: of the two arms the one that leaves
  /// less. About the instant centre only the stopped arm's pin can hold the hand's moment, across
  /// the arm; the post then pushes the case pin by its lever. Accuracy: up to √2 too much, as both
  /// directions of the hand are added.
  T LeantPin(const V& f, double post_mm) const {
    const V ra = lid_a - case_a, rb = lid_b - case_b;
    using std::sqrt;
    const T la = sqrt(ra.squaredNorm()), lb = sqrt(rb.squaredNorm());
    const V ua = ra / la, ub = rb / lb;
    const T cross = Cross(ua, ub);
    const V lever = Perp(V(f - (lid_a - rate_a * ra)));  // of the hand, about the instant centre
    const auto leant = [&](const V& u, const V& other, const T& sine, const T& length,
                           const T& rate) -> T {
      // Across the stopped arm, along it, along the other, each a vector to be taken with the
      // hand's. The pin lies rate · length from the instant centre.
      const V n = Perp(u);
      const V across = lever / (rate * length);
      const V along = (Perp(other) + Cross(n, other) * across) / sine;
      const V of_other = (Cross(u, n) * across - Perp(u)) / sine;
      T post = length / T(post_mm) - T(1.0);
      if (post < T(1.0)) post = T(1.0);
      const T own = sqrt(along.squaredNorm() + post * post * across.squaredNorm() + T(1e-12));
      const T others = sqrt(of_other.squaredNorm() + T(1e-12));
      return own > others ? own : others;
    };
    const T by_a = leant(ua, ub, cross, la, rate_a),
            by_b = leant(ub, ua, T(-1.0) * cross, lb, rate_b);
    return by_a < by_b ? by_a : by_b;
  }

  /// Where a post would meet an arm (0 or 1) that ran straight, on the side that comes on as the
  /// lid opens: `along_mm` from its case pivot, `beside_mm` from its middle line.
  V PostPlace(int arm, double along_mm, double beside_mm) const {
    const V& pivot = arm == 0 ? case_a : case_b;
    const V r = (arm == 0 ? lid_a : lid_b) - pivot;
    using std::sqrt;
    const V u = r / sqrt(r.squaredNorm());
    const T& rate = arm == 0 ? rate_a : rate_b;
    const double side = rate > T(0.0) ? 1.0 : -1.0;
    return pivot + T(along_mm) * u + T(side * beside_mm) * Perp(u);
  }
};

}  // namespace lidwright
