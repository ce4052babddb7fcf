// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/statics.h"

#include <algorithm>
#include <cmath>

#include "leaning.h"
#include "lidwright/base/check.h"
#include "lidwright/forces/virtual_work.h"

namespace lidwright {
namespace {

constexpr double kMmPerM = 1000.0;
// [rad] Ends of the stretches where the lid stays.
constexpr double kStaysEnd_rad = 1e-6;

// A hand about to raise the lid, to let it down, and holding it on joints without friction.
struct Hands {
  LidState state;
  Balance still;
  double lever_mm = 0.0;  // the front edge's distance from the instant centre
  double raise_n = 0.0, lower_n = 0.0;
  bool Stays() const { return lower_n <= 0.0 && raise_n >= 0.0; }
};

class Hanging {
 public:
  Hanging(const LoadCase& load, const LidMotion& motion, const Vec2& front_edge)
      : load_(load), motion_(motion), front_(front_edge) {}

  Hands At(double theta) const {
    Hands hands;
    hands.state = motion_.At(theta);
    const Holder hand = HandAt(motion_, hands.state, front_);
    hands.lever_mm = (hand.at - motion_.InstantCentre(hands.state)).norm();
    hands.still = BalanceAt(motion_, hands.state, load_, hand);
    const Balance up = BalanceAt(motion_, hands.state, load_, hand, {}, FrictionOf(load_, 1.0));
    const Balance down = BalanceAt(motion_, hands.state, load_, hand, {}, FrictionOf(load_, -1.0));
    const double infinite = std::numeric_limits<double>::infinity();
    hands.raise_n = up.settled ? up.held : infinite;
    hands.lower_n = down.settled ? down.held : -infinite;
    return hands;
  }

  // The angle between a (where the lid stays, or not) and b (where the other holds) that parts
  // them.
  double Boundary(double a, double b) const {
    const bool at_a = At(a).Stays();
    while (std::abs(b - a) > kStaysEnd_rad) {
      const double middle = (a + b) / 2.0;
      (At(middle).Stays() == at_a ? a : b) = middle;
    }
    return (a + b) / 2.0;
  }

 private:
  const LoadCase& load_;
  const LidMotion& motion_;
  const Vec2 front_;
};

void AddStays(const Hanging& hanging, const std::vector<bool>& stays, Feel& feel) {
  const std::vector<double>& theta = feel.theta_rad;
  for (std::size_t i = 0; i < stays.size(); ++i) {
    if (!stays[i]) continue;
    if (i == 0 || !stays[i - 1]) {
      const double from = i == 0 ? theta[0] : hanging.Boundary(theta[i - 1], theta[i]);
      feel.stays.push_back({from, theta[i]});
    }
    feel.stays.back().to_rad =
        i + 1 == stays.size() || stays[i + 1] ? theta[i] : hanging.Boundary(theta[i], theta[i + 1]);
  }
}

void AddOverCentre(const LoadCase& load, const LidMotion& motion, double open, Feel& feel) {
  const auto moment = [&](double theta) {
    return ClosingMoment_nmm(motion, motion.At(theta), load);
  };
  for (std::size_t i = feel.theta_rad.size() - 1; i > 0; --i) {
    if (!(feel.moment_nmm[i] < 0.0 && feel.moment_nmm[i - 1] >= 0.0)) continue;
    double low = feel.theta_rad[i - 1], high = feel.theta_rad[i];
    for (int step = 0; step < 50; ++step) {
      const double middle = (low + high) / 2.0;
      (moment(middle) >= 0.0 ? low : high) = middle;
    }
    feel.balance_rad = (low + high) / 2.0;
    break;
  }
  feel.over_centre_rad = std::isnan(feel.balance_rad) ? kUnset : open - feel.balance_rad;
  feel.over_centre_nmm = -moment(open);
  // Tilted forward by α, gravity pulls along (sin α, −cos α): its work per radian over all bodies,
  // sin α · X − cos α · Y, is nothing at tan α = Y / X with X, Y the sums of m g v.
  const LidState at_open = motion.At(open);
  Vec2 sum = Vec2::Zero();
  for (const auto& [mass, body] :
       {std::pair(&load.lid, Body::kLid), {&load.arm_a, Body::kArmA}, {&load.arm_b, Body::kArmB}}) {
    if (!(mass->mass_kg > 0.0)) continue;
    sum += mass->mass_kg *
           VelocityOf(motion, at_open, body, motion.BodyPose(body, at_open) * mass->centre);
  }
  feel.over_centre_tilt_rad = std::atan2(-sum.y(), -sum.x());
}

void AddFall(const LoadCase& load, const LidMotion& motion, double open, const Vec2& front,
             Feel& feel) {
  double top = -std::numeric_limits<double>::infinity();
  for (const double theta : feel.theta_rad) {
    top = std::max(top, WeightHeight_kg_mm(motion, motion.At(theta), load));
  }
  const auto fall = [&](double theta, double& energy_j, double& speed_m_s) {
    const LidState state = motion.At(theta);
    energy_j = kGravity_m_s2 * (top - WeightHeight_kg_mm(motion, state, load)) / kMmPerM;
    // ½ J ω² = energy; J in kg mm².
    const double inertia = MovingInertia_kg_mm2(motion, state, load) / (kMmPerM * kMmPerM);
    const double rate = std::sqrt(2.0 * std::max(0.0, energy_j) / inertia);
    speed_m_s = rate * VelocityOf(motion, state, Body::kLid, state.X_CL * front).norm() / kMmPerM;
  };
  fall(0.0, feel.slam_j, feel.slam_m_s);
  fall(open, feel.thrown_j, feel.thrown_m_s);
}

}  // namespace

Feel FeelOf(const LoadCase& load, const LidMotion& motion, double open_rad, const Vec2& front_edge,
            int samples) {
  LW_REQUIRE(samples >= 2, "samples=" << samples);
  LW_REQUIRE(open_rad > 0.0 && motion.Range().high_rad > open_rad, "open_rad=" << open_rad);
  Feel feel;
  feel.lid = load.lid;
  const Hanging hanging(load, motion, front_edge);
  std::vector<bool> stays;
  double lift = 0.0, pin = 0.0, holding = 0.0, holding_shut = 0.0;
  for (int i = 0; i < samples; ++i) {
    const double theta = open_rad * i / (samples - 1);
    const Hands hands = hanging.At(theta);
    feel.theta_rad.push_back(theta);
    feel.moment_nmm.push_back(ClosingMoment_nmm(motion, hands.state, load));
    feel.friction_nmm.push_back((hands.raise_n - hands.lower_n) / 2.0 * hands.lever_mm);
    feel.hand_n.push_back(hands.still.held);
    feel.raise_n.push_back(hands.raise_n);
    feel.lower_n.push_back(hands.lower_n);
    feel.arm_a_n.push_back(PullInArm_n(motion, hands.state, hands.still, false));
    feel.arm_b_n.push_back(PullInArm_n(motion, hands.state, hands.still, true));
    std::array<double, kJoints> loads{};
    for (std::size_t j = 0; j < kJoints; ++j) loads[j] = hands.still.joint[j].norm() / 2.0;
    feel.pin_n.push_back(loads);
    pin = std::max(pin, *std::max_element(loads.begin(), loads.end()));
    lift = std::max(lift, hands.raise_n);
    const double falls = hands.lower_n * hands.lever_mm, rises = -hands.raise_n * hands.lever_mm;
    feel.short_nmm.push_back(std::max({0.0, falls, rises}));
    holding_shut = std::max(holding_shut, falls);
    holding = std::max(holding, feel.short_nmm.back());
    stays.push_back(hands.Stays());
  }
  feel.largest_lift_n = lift;
  feel.largest_pin_n = pin;
  feel.holding_nmm = holding;
  feel.holding_shut_nmm = holding_shut;
  feel.shut_push_n = std::max(0.0, -feel.lower_n.back());
  AddStays(hanging, stays, feel);
  AddOverCentre(load, motion, open_rad, feel);
  AddFall(load, motion, open_rad, front_edge, feel);
  AddLeaning(load, motion, open_rad, front_edge, feel);
  return feel;
}

}  // namespace lidwright
