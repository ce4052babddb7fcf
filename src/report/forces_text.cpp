// SPDX-License-Identifier: Apache-2.0
#include "lidwright/report/forces_text.h"

#include <cmath>

#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

// [m/s] A rim that arrives faster than this hurts (a drop from 5 cm; common practice, no source).
constexpr double kSoft_m_s = 1.0;

std::string Line(bool good, const std::string& text) {
  return std::string("  ") + (good ? "pass  " : "warn  ") + text + "\n";
}

std::string Deg(double rad) {
  return Fixed(rad * kDegPerRad, 0) + " deg";
}

}  // namespace

std::string ForcesText(const HingeForces& forces, const Job& job) {
  const Feel& feel = forces.feel;
  const bool weighed = !std::isnan(job.loads.lid_mass_kg);
  std::string text =
      "The lid weighs " + Fixed(feel.lid.mass_kg, 2) + " kg (" +
      (weighed ? "as weighed"
               : job.loads.wood + " at " + Fixed(job.loads.density_kg_m3, 0) + " kg/m3") +
      "). It takes " + Fixed(feel.largest_lift_n, 0) + " N at the front edge to lift.\n";
  if (std::isnan(feel.balance_rad)) {
    text += Line(false, "open, it still wants to shut: its weight never passes over");
  } else {
    text += Line(feel.over_centre_rad > 5.0 * kRadPerDeg,
                 "its weight passes over at " + Deg(feel.balance_rad) + "; open it leans " +
                     Deg(feel.over_centre_rad) + " beyond");
  }
  std::string stays;
  bool holds = false;
  for (const Feel::Stretch& s : feel.stays) {
    const std::string from = Deg(s.from_rad), to = Deg(s.to_rad);
    // A range within one degree is a point of balance, not a hold.
    stays += (stays.empty() ? "" : ", ") + (from == to ? "only about " + from : from + " to " + to);
    holds = holds || from != to;
  }
  text += Line(holds, stays.empty()
                          ? "friction alone keeps it nowhere"
                          : "friction of " + Text(job.loads.friction, 2) + " keeps it at " + stays);
  text += Line(feel.holding_nmm < 1.0,
               "to stay at every angle it needs " + Fixed(feel.holding_nmm / 1000.0, 2) +
                   " N m more (both sides together) from a stay or friction washers");
  text += Line(feel.slam_m_s < kSoft_m_s, "let go from its highest it reaches the rim at " +
                                              Fixed(feel.slam_m_s, 1) + " m/s (" +
                                              Fixed(feel.slam_j, 1) + " J)");
  text += Line(forces.safety >= forces.safety_wanted,
               "weakest: " + forces.weakest + ", strength over stress " + Fixed(forces.safety, 1) +
                   " (" + Fixed(forces.safety_wanted, 0) + " wanted) with " +
                   Fixed(forces.load_n, 0) + " N on one arm, of " + job.arms.material);
  const Tipping& tip = forces.tipping;
  text +=
      Line(tip.least_margin_nmm > 0.0 && tip.pull_n > job.loads.hand_n,
           tip.least_margin_nmm <= 0.0
               ? "empty, the box tips over at " + Deg(tip.at_rad)
               : "empty and open, the box tips if somebody pulls the lid's edge with more than " +
                     Fixed(tip.pull_n, 0) + " N");
  return text;
}

}  // namespace lidwright
