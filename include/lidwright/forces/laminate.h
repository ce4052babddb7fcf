// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <Eigen/Core>
#include <vector>

namespace lidwright {

/// One kind of veneer, by its own axes: 1 along its grain, 2 across it.
struct Veneer {
  double modulus_1_mpa = 0.0, modulus_2_mpa = 0.0, shear_modulus_mpa = 0.0;
  double poisson_12 = 0.0;
  double tension_1_mpa = 0.0, compression_1_mpa = 0.0, bending_1_mpa = 0.0;
  double across_mpa = 0.0;  ///< across the grain; unused if modulus_2_mpa is 0: then it bears none
  double shear_mpa = 0.0;
};

/// Birch veneer of the Handbook of Finnish Plywood: 17 500 MPa along and nothing across, 70 MPa in
/// bending, 75 in tension, 52 in compression, 9.5 in shear in its plane, shear modulus 620.
/// Strengths are the handbook's characteristic ones (19 of 20 specimens bear more). From memory:
/// the handbook's tables of whole sheets follow from these by lamination to every digit recalled.
const Veneer& BirchVeneer();

/// A plywood: plies from one face to the other, the first along the face grain, the next across it,
/// in turn.
struct Laminate {
  Veneer veneer;
  std::vector<double> ply_mm;
  double Thickness_mm() const;
};

/// Classical lamination of a symmetrical sheet: N = A ε in its plane, M = D κ out of it, in the
/// axes of the face grain; [MPa mm], [MPa mm³].
struct LaminateStiffness {
  Eigen::Matrix3d a = Eigen::Matrix3d::Zero();
  Eigen::Matrix3d d = Eigen::Matrix3d::Zero();
};

/// Requires an odd number of plies that mirror each other in the sheet's middle (no coupling of
/// stretching and bending).
LaminateStiffness StiffnessOf(const Laminate& laminate);

/// Young's modulus of the sheet as if it were one material, for a strip that runs at `angle_rad` to
/// the face grain and is free to narrow and to skew: pulled in its plane …
double InPlaneModulus_mpa(const Laminate& laminate, double angle_rad);
/// … and bent out of it (E of E t³/12).
double FlatwiseModulus_mpa(const Laminate& laminate, double angle_rad);

/// Stress over the whole section at which the first ply fails, for the same strips: pulled or
/// pushed in the plane (so too at the edges of a strip that is bent on edge) …
double TensionStrength_mpa(const Laminate& laminate, double angle_rad);
double CompressionStrength_mpa(const Laminate& laminate, double angle_rad);
/// … and bent flatwise, M / (b t²/6). A ply fails by Tsai and Hill:
/// (σ₁/X)² − σ₁σ₂/X² + (σ₂/Y)² + (τ/S)² = 1, a handbook's criterion (from memory).
double FlatwiseStrength_mpa(const Laminate& laminate, double angle_rad);

}  // namespace lidwright
