// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/laminate.h"

#include <Eigen/LU>
#include <cmath>
#include <limits>
#include <numeric>

#include "lidwright/base/check.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;

constexpr double kSamePly_mm = 1e-9;  // [mm] plies mirror each other within this

// Stress by strain (ε₁, ε₂, γ₁₂) of a veneer in its own axes.
Matrix3d Reduced(const Veneer& v) {
  const double poisson_21 =
      v.modulus_2_mpa > 0.0 ? v.poisson_12 * v.modulus_2_mpa / v.modulus_1_mpa : 0.0;
  const double share = 1.0 - v.poisson_12 * poisson_21;
  Matrix3d q = Matrix3d::Zero();
  q(0, 0) = v.modulus_1_mpa / share;
  q(1, 1) = v.modulus_2_mpa / share;
  q(0, 1) = q(1, 0) = poisson_21 * v.modulus_1_mpa / share;
  q(2, 2) = v.shear_modulus_mpa;
  return q;
}

// A crossed ply: its own axes 1 and 2 change places.
Matrix3d Crossed(const Matrix3d& q) {
  Matrix3d crossed = q;
  std::swap(crossed(0, 0), crossed(1, 1));
  return crossed;
}

// Unit pull along a direction at `angle` to the face grain, as (N₁, N₂, N₁₂) in the face's axes.
Vector3d Along(double angle) {
  const double c = std::cos(angle), s = std::sin(angle);
  return {c * c, s * s, c * s};
}

// How much of its strength a ply uses under a stress in its own axes, squared.
double Used(const Veneer& v, const Vector3d& stress, double along_mpa) {
  const double a = stress[0] / along_mpa, t = stress[2] / v.shear_mpa;
  double used = a * a + t * t;
  if (v.modulus_2_mpa > 0.0) {
    const double b = stress[1] / v.across_mpa;
    used += b * b - stress[0] * stress[1] / (along_mpa * along_mpa);
  }
  return used;
}

// The largest use of all plies' faces under strains ε + z κ.
double MostUsed(const Laminate& laminate, const Vector3d& strain, const Vector3d& curvature,
                double tension_mpa, double compression_mpa) {
  const Matrix3d q = Reduced(laminate.veneer);
  double z = -laminate.Thickness_mm() / 2.0, most = 0.0;
  bool crossed = false;
  for (const double ply : laminate.ply_mm) {
    for (const double at : {z, z + ply}) {
      Vector3d e = strain + at * curvature;
      if (crossed) e = {e[1], e[0], -e[2]};
      const Vector3d stress = q * e;
      most = std::max(
          most, Used(laminate.veneer, stress, stress[0] >= 0.0 ? tension_mpa : compression_mpa));
    }
    z += ply;
    crossed = !crossed;
  }
  return std::sqrt(most);
}

double InPlaneStrength(const Laminate& laminate, double angle, bool pulled) {
  const LaminateStiffness stiffness = StiffnessOf(laminate);
  const double unit = pulled ? laminate.Thickness_mm() : -laminate.Thickness_mm();  // 1 MPa
  const Vector3d strain = stiffness.a.inverse() * (unit * Along(angle));
  return 1.0 / MostUsed(laminate, strain, Vector3d::Zero(), laminate.veneer.tension_1_mpa,
                        laminate.veneer.compression_1_mpa);
}

}  // namespace

const Veneer& BirchVeneer() {
  static const Veneer kBirch{17500.0, 0.0, 620.0, 0.0, 75.0, 52.0, 70.0, 0.0, 9.5};
  return kBirch;
}

double Laminate::Thickness_mm() const {
  return std::accumulate(ply_mm.begin(), ply_mm.end(), 0.0);
}

LaminateStiffness StiffnessOf(const Laminate& laminate) {
  const std::vector<double>& plies = laminate.ply_mm;
  LW_REQUIRE(plies.size() % 2 == 1, "plies=" << plies.size());
  for (std::size_t i = 0; i < plies.size(); ++i) {
    LW_REQUIRE(plies[i] > 0.0 && std::abs(plies[i] - plies[plies.size() - 1 - i]) < kSamePly_mm,
               "ply " << i << " of " << plies[i]);
  }
  const Matrix3d q = Reduced(laminate.veneer), across = Crossed(q);
  LaminateStiffness stiffness;
  double z = -laminate.Thickness_mm() / 2.0;
  for (std::size_t i = 0; i < plies.size(); ++i) {
    const double next = z + plies[i];
    const Matrix3d& ply = i % 2 == 0 ? q : across;
    stiffness.a += plies[i] * ply;
    stiffness.d += (next * next * next - z * z * z) / 3.0 * ply;
    z = next;
  }
  return stiffness;
}

double InPlaneModulus_mpa(const Laminate& laminate, double angle_rad) {
  const Vector3d along = Along(angle_rad);
  // The strain along the direction is along · (ε₁, ε₂, γ₁₂).
  return 1.0 / (laminate.Thickness_mm() * along.dot(StiffnessOf(laminate).a.inverse() * along));
}

double FlatwiseModulus_mpa(const Laminate& laminate, double angle_rad) {
  const Vector3d along = Along(angle_rad);
  return 12.0 / (std::pow(laminate.Thickness_mm(), 3) *
                 along.dot(StiffnessOf(laminate).d.inverse() * along));
}

double TensionStrength_mpa(const Laminate& laminate, double angle_rad) {
  return InPlaneStrength(laminate, angle_rad, true);
}

double CompressionStrength_mpa(const Laminate& laminate, double angle_rad) {
  return InPlaneStrength(laminate, angle_rad, false);
}

double FlatwiseStrength_mpa(const Laminate& laminate, double angle_rad) {
  const double unit = std::pow(laminate.Thickness_mm(), 2) / 6.0;  // 1 MPa at the faces
  const Vector3d curvature = StiffnessOf(laminate).d.inverse() * (unit * Along(angle_rad));
  const double bending = laminate.veneer.bending_1_mpa;
  return 1.0 / MostUsed(laminate, Vector3d::Zero(), curvature, bending, bending);
}

}  // namespace lidwright
