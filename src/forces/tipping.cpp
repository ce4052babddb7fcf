// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/tipping.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "lidwright/base/check.h"
#include "lidwright/forces/balance.h"

namespace lidwright {
namespace {

class Box {
 public:
  Box(const LoadCase& load, const LidMotion& motion) : load_(load), motion_(motion) {}

  // Moment of all weights that keeps the box on its feet.
  double Keeps(double theta, bool full, bool backwards) const {
    const LidState state = motion_.At(theta);
    const double feet = backwards ? load_.feet_back_x_mm : load_.feet_front_x_mm;
    double sum = 0.0;
    const auto add = [&](double mass, double x) {
      if (mass > 0.0) sum += mass * (backwards ? x - feet : feet - x);
    };
    add(load_.case_mass.mass_kg, load_.case_mass.centre.x());
    add(load_.lid.mass_kg, (state.X_CL * load_.lid.centre).x());
    add(load_.arm_a.mass_kg, (motion_.BodyPose(Body::kArmA, state) * load_.arm_a.centre).x());
    add(load_.arm_b.mass_kg, (motion_.BodyPose(Body::kArmB, state) * load_.arm_b.centre).x());
    if (full) add(load_.contents_kg, load_.contents_at.x());
    return kGravity_m_s2 * sum;
  }

 private:
  const LoadCase& load_;
  const LidMotion& motion_;
};

}  // namespace

Tipping TippingOf(const LoadCase& load, const LidMotion& motion, double open_rad, double bench_mm,
                  const Vec2& front_edge, int samples) {
  LW_REQUIRE(samples >= 2, "samples=" << samples);
  LW_REQUIRE(load.feet_front_x_mm > load.feet_back_x_mm, "feet_back=" << load.feet_back_x_mm);
  const Box box(load, motion);
  Tipping tipping;
  tipping.case_mass_kg = load.case_mass.mass_kg;
  for (int i = 0; i < samples; ++i) {
    const double theta = open_rad * i / (samples - 1);
    tipping.theta_rad.push_back(theta);
    tipping.margin_nmm.push_back(box.Keeps(theta, false, true));
  }
  const auto least = std::min_element(tipping.margin_nmm.begin(), tipping.margin_nmm.end());
  tipping.least_margin_nmm = *least;
  tipping.at_rad = tipping.theta_rad[static_cast<std::size_t>(least - tipping.margin_nmm.begin())];

  const Vec2 edge = motion.At(open_rad).X_CL * front_edge;
  for (const bool full : {false, true}) {
    for (const bool backwards : {true, false}) {
      const Vec2 feet(backwards ? load.feet_back_x_mm : load.feet_front_x_mm, bench_mm);
      Stance stance;
      stance.full = full;
      stance.backwards = backwards;
      stance.keeps_nmm = box.Keeps(0.0, full, backwards);
      tipping.cases.push_back(stance);
      stance.lid = Stance::Lid::kSwinging;
      stance.keeps_nmm = std::numeric_limits<double>::infinity();
      for (const double theta : tipping.theta_rad) {
        const double keeps = box.Keeps(theta, full, backwards);
        if (keeps >= stance.keeps_nmm) continue;
        stance.keeps_nmm = keeps;
        stance.theta_rad = theta;
      }
      tipping.cases.push_back(stance);
      stance.lid = Stance::Lid::kOpen;
      stance.theta_rad = open_rad;
      stance.keeps_nmm = box.Keeps(open_rad, full, backwards);
      tipping.cases.push_back(stance);
      stance.leaning = true;
      stance.tips_nmm = load.lean_n * (edge - feet).norm();
      tipping.cases.push_back(stance);
      if (!backwards) continue;
      (full ? tipping.pull_full_n : tipping.pull_n) =
          std::max(0.0, stance.keeps_nmm) / (edge - feet).norm();
      // Backwards over the back feet is counter-clockwise.
      const Vec2 pull = Perp(Vec2(edge - feet));
      tipping.pull_direction_rad = std::atan2(pull.y(), pull.x());
    }
  }
  return tipping;
}

TipCase TipCaseOf(const LoadCase& load, const LidMotion& motion, double open_rad, double bench_mm,
                  const Vec2& front_edge, bool full) {
  const Box box(load, motion);
  TipCase tip;
  tip.feet_back = {load.feet_back_x_mm, bench_mm};
  tip.feet_front = {load.feet_front_x_mm, bench_mm};
  tip.keeps_back_nmm = box.Keeps(open_rad, full, true);
  tip.keeps_front_nmm = box.Keeps(open_rad, full, false);
  tip.at = motion.At(open_rad).X_CL * front_edge;
  return tip;
}

double TipForce_n(const TipCase& box, double direction_rad) {
  const Vec2 along(std::cos(direction_rad), std::sin(direction_rad));
  // Backwards over the back feet is counter-clockwise, forwards over the front feet clockwise.
  const double back = Cross(Vec2(box.at - box.feet_back), along);
  const double front = -Cross(Vec2(box.at - box.feet_front), along);
  double force = std::numeric_limits<double>::infinity();
  if (back > 0.0) force = std::min(force, std::max(0.0, box.keeps_back_nmm) / back);
  if (front > 0.0) force = std::min(force, std::max(0.0, box.keeps_front_nmm) / front);
  return force;
}

}  // namespace lidwright
