// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/tipping.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "lidwright/forces/statics.h"

namespace lidwright {

Tipping TippingOf(const Job& job, const Solid& solid, const LidMotion& motion,
                  const MassProperties& lid, const Vec2& front_edge) {
  Tipping tipping;
  const MassProperties box = MassOfCase(job, solid);
  tipping.case_mass_kg = box.mass_kg;
  tipping.least_margin_nmm = std::numeric_limits<double>::infinity();
  constexpr int kSamples = 96;
  double margin = 0.0;
  for (int i = 0; i < kSamples; ++i) {
    const double theta = job.swing.open_rad * i / (kSamples - 1);
    const Vec2 mass = motion.At(theta).X_CL * lid.centre;
    margin = kGravity_m_s2 * (box.mass_kg * (box.centre.x() - solid.stands_back_mm) +
                              lid.mass_kg * (mass.x() - solid.stands_back_mm));
    if (margin < tipping.least_margin_nmm) {
      tipping.least_margin_nmm = margin;
      tipping.at_rad = theta;
    }
  }
  const Vec2 edge = motion.At(job.swing.open_rad).X_CL * front_edge;
  const double lever = (edge - Vec2(solid.stands_back_mm, solid.bench_mm)).norm();
  tipping.pull_n = std::max(0.0, margin) / lever;
  return tipping;
}

}  // namespace lidwright
