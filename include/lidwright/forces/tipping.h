// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/forces/load_case.h"
#include "lidwright/linkage/lid_motion.h"

namespace lidwright {

/// One way the box stands. Moments are about the feet it would tip over.
struct Stance {
  enum class Lid { kShut, kSwinging, kOpen };
  Lid lid = Lid::kShut;
  bool full = false;
  bool leaning = false;       ///< with the case's abuse load on the open lid's edge
  bool backwards = true;      ///< over the feet at the back, else at the front
  double theta_rad = 0.0;     ///< kSwinging: where it is worst
  double keeps_nmm = kUnset;  ///< weights' moment that keeps it stance; negative: it tips
  double tips_nmm = 0.0;      ///< the leaning hand's, in its worst direction
  bool Stands() const { return keeps_nmm > tips_nmm; }
};

/// Does the box tip over? Side view, about the feet where they are, on a bench that holds them from
/// sliding.
struct Tipping {
  double case_mass_kg = kUnset;
  double least_margin_nmm = kUnset;  ///< empty, over the back feet, least over the swing
  double at_rad = kUnset;            ///< and where that is
  double pull_n = kUnset;  ///< force at the open lid's edge, worst direction, that tips it empty
  double pull_full_n = kUnset;                ///< and full
  double pull_direction_rad = kUnset;         ///< of that force: 0 to the front, π/2 up
  std::vector<double> theta_rad, margin_nmm;  ///< empty, over the back feet, by angle
  std::vector<Stance> cases;  ///< shut, swinging, open, open and leaning; empty and full; back
                              ///< and front feet
};
Tipping TippingOf(const LoadCase& load, const LidMotion& motion, double open_rad, double bench_mm,
                  const Vec2& front_edge, int samples = 96);

/// A box that stands on two rows of feet, with a force at one point of it.
struct TipCase {
  Vec2 feet_back = Vec2::Zero(), feet_front = Vec2::Zero();  ///< outer edges, on the bench
  double keeps_back_nmm = 0.0;   ///< moment of its weights about the back feet
  double keeps_front_nmm = 0.0;  ///< and about the front feet
  Vec2 at = Vec2::Zero();        ///< where the force acts
};

/// The same box with its lid open and the force at the lid's front edge.
TipCase TipCaseOf(const LoadCase& load, const LidMotion& motion, double open_rad, double bench_mm,
                  const Vec2& front_edge, bool full);

/// The force in one direction (0 to the front, π/2 up) that tips it over either feet; infinite
/// where it presses the box down between them. Tipping::pull_n is the least over the back feet.
double TipForce_n(const TipCase& box, double direction_rad);

}  // namespace lidwright
