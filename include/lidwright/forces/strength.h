// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/arms/arm.h"
#include "lidwright/job/job.h"

namespace lidwright {

/// Stress at the inside of a curved bar of rectangular section under a bending moment that
/// straightens or bends it, by Winkler and Bach: σ = M (r_n − r_i) / (A e r_i) with r_n = h /
/// ln(r_o / r_i), e = R − r_n. Source: the standard formula of machine design handbooks (from
/// memory; checked against direct integration in the tests). For a straight bar M h / (2 I).
double CurvedBarStress_mpa(double moment_nmm, double depth_mm, double thickness_mm,
                           double centre_radius_mm);

/// What a force along the line of its pivots does to an arm.
struct ArmStress {
  double eccentricity_mm =
      0.0;                   ///< largest distance of the centre line from the line of the pivots
  double body_mpa = 0.0;     ///< bending and direct stress at the worst place of the body
  double eye_mpa = 0.0;      ///< through the net section at a hole, without stress concentration
  double bearing_mpa = 0.0;  ///< bushing in arm
};
ArmStress StressOf(const Arm& arm, const Job& job, double force_n);

/// A pin held at one end (cantilever) under a load at a distance: bending and mean shear.
struct PinStress {
  double bending_mpa = 0.0;
  double shear_mpa = 0.0;
};
PinStress PinStressOf(double load_n, double reach_mm, double diameter_mm);

}  // namespace lidwright
