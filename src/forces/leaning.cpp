// SPDX-License-Identifier: Apache-2.0
#include "leaning.h"

#include <algorithm>
#include <cmath>

namespace lidwright {
namespace {

constexpr int kDirections = 720;

// One end's joints and stop, as the weight's part and the parts of a unit force along x and y.
struct Parts {
  std::array<Vec2, kJoints> weight, x, y;
  double stop_weight = 0.0, stop_x = 0.0, stop_y = 0.0;
  bool stopped = false;
};

Parts PartsOf(const LoadCase& load, const LidMotion& motion, double open, const Vec2& front) {
  const LidState state = motion.At(open);
  Holder holder;
  holder.moment = !load.stop;
  if (load.stop) {
    holder.body = load.stop->body;
    holder.at = load.stop->at;
    holder.along = -load.stop->normal;
  }
  const Vec2 edge = state.X_CL * front;
  const Balance still = BalanceAt(motion, state, load, holder);
  const Balance x = BalanceAt(motion, state, load, holder, {{Vec2(1.0, 0.0), edge}});
  const Balance y = BalanceAt(motion, state, load, holder, {{Vec2(0.0, 1.0), edge}});
  Parts parts;
  parts.stopped = load.stop.has_value();
  for (std::size_t j = 0; j < kJoints; ++j) {
    parts.weight[j] = still.joint[j] / 2.0;
    parts.x[j] = load.lean_share * (x.joint[j] - still.joint[j]);
    parts.y[j] = load.lean_share * (y.joint[j] - still.joint[j]);
  }
  parts.stop_weight = still.held / 2.0;
  parts.stop_x = load.lean_share * (x.held - still.held);
  parts.stop_y = load.lean_share * (y.held - still.held);
  return parts;
}

LeaningHand At(const Parts& parts, double force_n, double direction) {
  const double x = force_n * std::cos(direction), y = force_n * std::sin(direction);
  LeaningHand leaning;
  for (std::size_t j = 0; j < kJoints; ++j) {
    leaning.joint[j] = parts.weight[j] + x * parts.x[j] + y * parts.y[j];
  }
  leaning.stop_n = parts.stop_weight + x * parts.stop_x + y * parts.stop_y;
  leaning.direction_rad = direction;
  return leaning;
}

std::vector<LeaningHand> Around(const Parts& parts, double force_n, int count) {
  std::vector<LeaningHand> leanings;
  for (int i = 0; i < count; ++i) {
    const LeaningHand leaning = At(parts, force_n, 2.0 * kPi * i / count);
    if (!parts.stopped || leaning.stop_n >= 0.0) leanings.push_back(leaning);
  }
  return leanings;
}

}  // namespace

std::vector<LeaningHand> Leanings(const LoadCase& load, const LidMotion& motion, double open_rad,
                                  const Vec2& front_edge, int count) {
  return Around(PartsOf(load, motion, open_rad, front_edge), load.lean_n, count);
}

void AddLeaning(const LoadCase& load, const LidMotion& motion, double open_rad,
                const Vec2& front_edge, Feel& feel) {
  const Parts parts = PartsOf(load, motion, open_rad, front_edge);
  if (parts.stopped && parts.stop_weight >= 0.0) feel.stop_n = parts.stop_weight;
  if (!parts.stopped || parts.stop_weight >= 0.0) {
    double pin = 0.0;
    for (const Vec2& joint : parts.weight) pin = std::max(pin, joint.norm());
    feel.stop_pin_n = pin;
  }
  double largest = -1.0;
  for (const LeaningHand& leaning : Around(parts, load.lean_n, kDirections)) {
    for (const Joint joint : {kCaseA, kCaseB, kLidA, kLidB}) {
      const double size = leaning.joint[joint].norm();
      if (size <= largest) continue;
      largest = feel.leaning_pin_n = size;
      feel.leaning_joint = joint;
      feel.leaning_rad = leaning.direction_rad;
    }
  }
  if (!parts.stopped) return;
  // Largest over directions: weight plus the length of the linear part.
  feel.leaning_stop_n = parts.stop_weight + load.lean_n * std::hypot(parts.stop_x, parts.stop_y);
}

}  // namespace lidwright
