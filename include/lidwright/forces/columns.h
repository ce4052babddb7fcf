// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace lidwright {

/// A straight strut of constant section. `ends` is 1 for hinged ends, 1/4 for one end free, 2.046
/// for hinged and fixed, 4 for both fixed (the critical load's factor).
struct Strut {
  double length_mm = 0.0;
  double area_mm2 = 0.0;
  double second_mm4 = 0.0;  ///< second moment of area about the axis it buckles over
  double modulus_mpa = 0.0;
  double yield_mpa = 0.0;  ///< or the strength in compression of what does not yield
  double ends = 1.0;
};

/// A strut of rectangular section that buckles over the thickness.
Strut RectangularStrut(double length_mm, double width_mm, double thickness_mm, double modulus_mpa,
                       double yield_mpa);

/// π² E I ends / L²: what a long strut bears.
double EulerLoad_n(const Strut& column);

/// A S (1 − S (L/k)² / (4 π² E ends)): J. B. Johnson's parabola for short ones, tangent to Euler's
/// curve where both are A S / 2.
double JohnsonLoad_n(const Strut& column);

/// Euler's above the slenderness L/k = √(2 π² E ends / S), Johnson's below it. Both formulas READ
/// (pages on machine design).
double StrutLoad_n(const Strut& column);

/// How much a bent strut's moment grows by its own bending under a push: 1 / (1 − P / P_critical),
/// the handbook's magnifier for a strut bowed like a half wave (from memory). Infinite at the
/// critical load and beyond; 1 for a pull.
double MomentMagnifier(double push_n, double critical_n);

}  // namespace lidwright
