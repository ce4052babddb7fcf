// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/statics.h"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"

namespace lidwright {
namespace {

constexpr double kMmPerM = 1000.0;

double Weight_n(const MassProperties& lid) {
  return lid.mass_kg * kGravity_m_s2;
}

struct Directions {
  Vec2 a, b;  // along the arms, from lid pivot to ground pivot
};
Directions DirectionsOf(const LidMotion& motion, const LidState& state) {
  return {(motion.pivots().ground_a - state.lid_a).normalized(),
          (motion.pivots().ground_b - state.lid_b).normalized()};
}

// Velocity per radian of a lid point that is now at p.
Vec2 VelocityOf(const LidMotion& motion, const LidState& state, const Vec2& p) {
  return Perp(Vec2(p - motion.InstantCentre(state)));
}

// Work against friction per radian of lid angle: Σ μ r |load| |rate of the joint| [N·mm].
double Friction_nmm(const Job& job, const LidMotion&, const LidState& state, double arm_a_n,
                    double arm_b_n) {
  const double pin_radius = job.arms.bushing_mm / 2.0;
  const double joints_a = std::abs(state.rate_a) + std::abs(state.rate_a - 1.0);
  const double joints_b = std::abs(state.rate_b) + std::abs(state.rate_b - 1.0);
  return job.loads.friction * pin_radius *
         (std::abs(arm_a_n) * joints_a + std::abs(arm_b_n) * joints_b);
}

// Largest load on an arm over all directions of a unit force at the edge, the moment being taken by
// the stop: the arms resolve the force alone, so load = cross(f, other) / cross(a, b), largest
// 1 / |cross|.
double WorstLean(const Directions& u) {
  return 1.0 / std::abs(Cross(u.a, u.b));
}

}  // namespace

Holding HoldingAt(const LidMotion& motion, const MassProperties& lid, const Vec2& front_edge,
                  double theta_rad) {
  LW_REQUIRE(!motion.plain(), "a plain hinge has no arms");
  const LidState state = motion.At(theta_rad);
  const Directions u = DirectionsOf(motion, state);
  const Vec2 front = state.X_CL * front_edge, mass = state.X_CL * lid.centre;
  const Vec2 push = VelocityOf(motion, state, front).normalized();
  Eigen::Matrix3d system;
  system << u.a.x(), u.b.x(), push.x(),  //
      u.a.y(), u.b.y(), push.y(),        //
      Cross(state.lid_a, u.a), Cross(state.lid_b, u.b), Cross(front, push);
  const double weight = Weight_n(lid);
  const Eigen::Vector3d right(0.0, weight, mass.x() * weight);
  const Eigen::Vector3d forces = system.fullPivLu().solve(right);
  return {forces(2), forces(0), forces(1)};
}

double ClosingMoment_nmm(const LidMotion& motion, const MassProperties& lid, double theta_rad) {
  const LidState state = motion.At(theta_rad);
  return Weight_n(lid) * VelocityOf(motion, state, state.X_CL * lid.centre).y();
}

Feel FeelOf(const Job& job, const Solid& solid, const LidMotion& motion, const Vec2& front_edge,
            int samples) {
  LW_REQUIRE(samples >= 2, "samples=" << samples);
  Feel feel;
  feel.lid = MassOfLid(job, solid);
  const double open = job.swing.open_rad;
  double largest_lift = 0.0, largest_pin = 0.0, holding = 0.0;
  for (int i = 0; i < samples; ++i) {
    const double theta = open * i / (samples - 1);
    const LidState state = motion.At(theta);
    const Holding held = HoldingAt(motion, feel.lid, front_edge, theta);
    const double moment = ClosingMoment_nmm(motion, feel.lid, theta);
    const double friction = Friction_nmm(job, motion, state, held.arm_a_n, held.arm_b_n);
    feel.theta_rad.push_back(theta);
    feel.moment_nmm.push_back(moment);
    feel.friction_nmm.push_back(friction);
    feel.hand_n.push_back(held.hand_n);
    feel.arm_a_n.push_back(held.arm_a_n);
    feel.arm_b_n.push_back(held.arm_b_n);
    largest_lift = std::max(largest_lift, held.hand_n);
    largest_pin = std::max({largest_pin, std::abs(held.arm_a_n), std::abs(held.arm_b_n)});
    holding = std::max(holding, std::abs(moment) - friction);
    const bool stays = std::abs(moment) <= friction;
    if (stays && (i == 0 || std::abs(feel.moment_nmm[feel.moment_nmm.size() - 2]) >
                                feel.friction_nmm[feel.friction_nmm.size() - 2])) {
      feel.stays.push_back({theta, theta});
    } else if (stays) {
      feel.stays.back().to_rad = theta;
    }
  }
  feel.largest_lift_n = largest_lift;
  feel.largest_pin_n = largest_pin / 2.0;  // two ends
  feel.holding_nmm = std::max(0.0, holding);
  // The last angle at which the weight passes over, by bisection between samples.
  for (std::size_t i = feel.theta_rad.size() - 1; i > 0; --i) {
    if (!(feel.moment_nmm[i] < 0.0 && feel.moment_nmm[i - 1] >= 0.0)) continue;
    double low = feel.theta_rad[i - 1], high = feel.theta_rad[i];
    for (int step = 0; step < 50; ++step) {
      const double middle = (low + high) / 2.0;
      (ClosingMoment_nmm(motion, feel.lid, middle) >= 0.0 ? low : high) = middle;
    }
    feel.balance_rad = (low + high) / 2.0;
    break;
  }
  feel.over_centre_rad = std::isnan(feel.balance_rad) ? kUnset : open - feel.balance_rad;
  const LidState at_open = motion.At(open);
  feel.leaning_pin_n = job.loads.hand_n * WorstLean(DirectionsOf(motion, at_open)) / 2.0;
  // Let go where the mass centre is highest: all of that height becomes speed at the rim.
  double highest = 0.0;
  for (const double theta : feel.theta_rad) {
    highest = std::max(highest, (motion.At(theta).X_CL * feel.lid.centre).y());
  }
  const LidState shut = motion.At(0.0);
  const double drop_mm = highest - feel.lid.centre.y();
  feel.slam_j = Weight_n(feel.lid) * drop_mm / kMmPerM;
  // ½ (m |v|² + I) ω² = energy, with v per radian.
  const double moving = feel.lid.mass_kg * VelocityOf(motion, shut, feel.lid.centre).squaredNorm() +
                        feel.lid.inertia_kg_mm2;  // kg mm²
  const double omega = std::sqrt(2.0 * feel.slam_j / (moving / (kMmPerM * kMmPerM)));
  feel.slam_m_s = omega * VelocityOf(motion, shut, front_edge).norm() / kMmPerM;
  return feel;
}

}  // namespace lidwright
