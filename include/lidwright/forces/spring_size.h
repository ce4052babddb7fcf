// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

namespace lidwright {

/// A torsion spring of round wire on a pin.
struct SpringSize {
  double wire_mm = 0.0;
  double mean_mm = 0.0;  ///< diameter of the coil, middle of the wire
  double turns = 0.0;    ///< that work
  double rate_nmm_rad = 0.0;
  double wound_rad = 0.0;   ///< from free to the most wound
  double torque_nmm = 0.0;  ///< there
  double stress_mpa = 0.0;  ///< there, at the inside of the wire
  double allowed_mpa = 0.0;
  double inside_mm = 0.0;  ///< of the coil wound: it must clear its pin
  double length_mm = 0.0;  ///< closed coils, along the pin
};

/// Breaking strength of music wire, 2211 / d^0.145 MPa for 0.1 to 6.5 mm (READ: 2025.7 MPa for
/// 1.829 mm and 1705.1 for 6 mm on a page that computes Shigley's table).
double MusicWire_mpa(double wire_mm);
/// Of that a torsion spring may bear for good in bending (Shigley's table over √(1/3), READ: 0.78).
inline constexpr double kSpringShare = 0.78;
/// [MPa] Young's modulus of music wire from 1.6 mm up (READ); thinner wire is up to 4 % stiffer.
inline constexpr double kSpringWire_mpa = 196500.0;

/// Torque per radian: d⁴ E / (67.86 D N), the 10.8 per turn of the spring makers (READ) over 2π,
/// friction between coils in it.
double SpringRate_nmm_rad(double wire_mm, double mean_mm, double turns,
                          double modulus_mpa = kSpringWire_mpa);

/// Bending stress at the inside of the wire: K 32 M / (π d³), K = (4C² − C − 1) / (4C (C − 1)),
/// C = D/d (handbook, from memory; a published example agrees).
double SpringStress_mpa(double torque_nmm, double wire_mm, double mean_mm);

/// What a lid asks of a spring.
struct SpringWish {
  double shut_nmm = 0.0;    ///< torque of one spring, lid shut, and …
  double open_nmm = 0.0;    ///< … open; the larger is the more wound
  double turn_rad = 0.0;    ///< of its joint between them, positive
  double pin_mm = 0.0;      ///< it sits on
  double room_mm = 0.0;     ///< along the pin
  double outside_mm = 0.0;  ///< it may take
};

/// The thinnest wire of those given that bears the torque, coiled on the pin with the turns that
/// give the rate asked for; wound it still clears the pin by kSpringClears of it. Nothing if no
/// wire does, or torque and rate have no sense together (a spring cannot push while it is unwound:
/// both torques of one sign).
std::optional<SpringSize> SizeSpring(const SpringWish& wish, const std::vector<double>& wires_mm);

/// [1] The wound coil's inside over its pin (common practice: a tenth, no source).
inline constexpr double kSpringClears = 1.1;

}  // namespace lidwright
