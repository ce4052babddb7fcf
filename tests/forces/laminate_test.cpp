// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/laminate.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/units.h"
#include "lidwright/job/plywood.h"

using namespace lidwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Laminate Birch(double nominal_mm) {
  return {BirchVeneer(), FindPlywood(nominal_mm, false)->ply_mm};
}

constexpr double kRight = kPi / 2.0;

}  // namespace

TEST_CASE("lamination of birch veneers gives every figure of the plywood handbook's table") {
  // Handbook of Finnish Plywood, birch (1.4 mm): characteristic bending strength, mean modulus in
  // bending, characteristic tension and compression, mean modulus in tension, along and across the
  // face grain. From memory; nothing of these enters the code but the veneer's 70, 75, 52, 17 500.
  struct Row {
    double nominal, thickness, bending, bending_across, modulus, modulus_across, tension,
        tension_across, compression, compression_across, stiff, stiff_across;
  };
  for (const Row& row :
       {Row{4.0, 3.6, 65.9, 10.6, 16471, 1029, 45.8, 29.2, 31.8, 20.2, 10694, 6806},
        {6.5, 6.4, 50.9, 29.0, 12737, 4763, 42.2, 32.8, 29.3, 22.8, 9844, 7656},
        {9.0, 9.2, 45.6, 32.1, 11395, 6105, 40.8, 34.2, 28.3, 23.7, 9511, 7989},
        {12.0, 12.0, 42.9, 33.2, 10719, 6781, 40.0, 35.0, 27.7, 24.3, 9333, 8167},
        {15.0, 14.8, 41.3, 33.8, 10316, 7184, 39.5, 35.5, 27.4, 24.6, 9223, 8277},
        {18.0, 17.6, 40.2, 34.1, 10048, 7452, 39.2, 35.8, 27.2, 24.8, 9148, 8352}}) {
    INFO(row.nominal);
    const Laminate sheet = Birch(row.nominal);
    CHECK_THAT(sheet.Thickness_mm(), WithinAbs(row.thickness, 1e-9));
    CHECK_THAT(FlatwiseStrength_mpa(sheet, 0.0), WithinAbs(row.bending, 0.06));
    CHECK_THAT(FlatwiseStrength_mpa(sheet, kRight), WithinAbs(row.bending_across, 0.06));
    CHECK_THAT(FlatwiseModulus_mpa(sheet, 0.0), WithinAbs(row.modulus, 1.0));
    CHECK_THAT(FlatwiseModulus_mpa(sheet, kRight), WithinAbs(row.modulus_across, 1.0));
    CHECK_THAT(TensionStrength_mpa(sheet, 0.0), WithinAbs(row.tension, 0.06));
    CHECK_THAT(TensionStrength_mpa(sheet, kRight), WithinAbs(row.tension_across, 0.06));
    CHECK_THAT(CompressionStrength_mpa(sheet, 0.0), WithinAbs(row.compression, 0.06));
    CHECK_THAT(CompressionStrength_mpa(sheet, kRight), WithinAbs(row.compression_across, 0.06));
    CHECK_THAT(InPlaneModulus_mpa(sheet, 0.0), WithinAbs(row.stiff, 1.0));
    CHECK_THAT(InPlaneModulus_mpa(sheet, kRight), WithinAbs(row.stiff_across, 1.0));
  }
}

TEST_CASE("a sheet of one ply off its grain has the closed forms of a single layer") {
  // 1/E = c⁴/E₁ + (1/G − 2ν/E₁) s²c² + s⁴/E₂; Tsai and Hill's
  // 1/σ² = c⁴/X² + (1/S² − 1/X²) s²c² + s⁴/Y² (both textbook forms of composites).
  const Veneer v{12000.0, 600.0, 800.0, 0.35, 90.0, 50.0, 80.0, 6.0, 11.0};
  const Laminate sheet{v, {3.0}};
  for (double degrees = 0.0; degrees <= 180.0; degrees += 7.5) {
    const double c = std::cos(degrees * kRadPerDeg), s = std::sin(degrees * kRadPerDeg);
    const double cc = c * c, ss = s * s;
    const double compliance =
        cc * cc / v.modulus_1_mpa +
        (1.0 / v.shear_modulus_mpa - 2.0 * v.poisson_12 / v.modulus_1_mpa) * ss * cc +
        ss * ss / v.modulus_2_mpa;
    CHECK_THAT(InPlaneModulus_mpa(sheet, degrees * kRadPerDeg), WithinRel(1.0 / compliance, 1e-9));
    CHECK_THAT(FlatwiseModulus_mpa(sheet, degrees * kRadPerDeg), WithinRel(1.0 / compliance, 1e-9));
    const auto hill = [&](double x) {
      return 1.0 / std::sqrt(cc * cc / (x * x) +
                             (1.0 / (v.shear_mpa * v.shear_mpa) - 1.0 / (x * x)) * ss * cc +
                             ss * ss / (v.across_mpa * v.across_mpa));
    };
    CHECK_THAT(TensionStrength_mpa(sheet, degrees * kRadPerDeg), WithinRel(hill(90.0), 1e-9));
    CHECK_THAT(CompressionStrength_mpa(sheet, degrees * kRadPerDeg), WithinRel(hill(50.0), 1e-9));
    CHECK_THAT(FlatwiseStrength_mpa(sheet, degrees * kRadPerDeg), WithinRel(hill(80.0), 1e-9));
  }
}

TEST_CASE("equal crossed plies pulled half way between them bear by shear, worked by hand") {
  // Half of the thickness either way, nothing across: σ₁ = σ, |τ| = σ/2 in each ply, so
  // (σ/75)² + (σ/19)² = 1.
  const Laminate sheet{BirchVeneer(), {0.5, 1.0, 0.5}};
  const double by_hand = 1.0 / std::sqrt(1.0 / (75.0 * 75.0) + 1.0 / (19.0 * 19.0));
  CHECK_THAT(TensionStrength_mpa(sheet, kPi / 4.0), WithinRel(by_hand, 1e-9));
  CHECK_THAT(TensionStrength_mpa(sheet, -kPi / 4.0), WithinRel(by_hand, 1e-9));
  // Plywood is never as weak as solid wood there: 18 MPa, where Hankinson leaves an eighth.
  CHECK(by_hand > 18.0);
}

TEST_CASE("lopsided plies are refused, and any thickness has veneers that make it up") {
  CHECK_THROWS_AS(StiffnessOf({BirchVeneer(), {1.0, 1.0}}), ContractError);
  CHECK_THROWS_AS(StiffnessOf({BirchVeneer(), {1.0, 1.0, 1.1}}), ContractError);
  int sheets = 0;
  for (const PlywoodSheet& sheet : PlywoodSheets()) {
    INFO(sheet.name);
    double sum = 0.0;
    for (const double ply : sheet.ply_mm) {
      CHECK(ply >= 0.5);
      sum += ply;
    }
    CHECK_THAT(sum, WithinAbs(sheet.thickness_mm, 1e-9));
    CHECK(std::abs(sheet.nominal_mm - sheet.thickness_mm) < 0.8);
    CHECK_FALSE(sheet.source.empty());
    CHECK_NOTHROW(StiffnessOf({BirchVeneer(), sheet.ply_mm}));
    ++sheets;
  }
  CHECK(sheets > 12);
  for (const double t : {0.8, 2.5, 3.3, 5.0, 10.0, 30.0}) {
    double sum = 0.0;
    for (const double ply : PliesFor_mm(t)) sum += ply;
    CHECK_THAT(sum, WithinAbs(t, 1e-9));
  }
  CHECK(FindPlywood(3.175, true) != nullptr);
  CHECK(FindPlywood(7.0, false) == nullptr);
}
