// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/dowels.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/units.h"

using namespace lidwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double kPsi = 0.00689475729;
constexpr double kPound = 4.4482216;

// The code's yield limit equations as it prints them (READ), with k₁, k₂, k₃.
double ByTheCode(double d, double yield, double fes, double ls, double fem, double lm) {
  const double re = fem / fes, rt = lm / ls;
  const double k1 =
      (std::sqrt(re + 2 * re * re * (1 + rt + rt * rt) + rt * rt * re * re * re) - re * (1 + rt)) /
      (1 + re);
  const double k2 =
      -1 + std::sqrt(2 * (1 + re) + 2 * yield * (1 + 2 * re) * d * d / (3 * fem * lm * lm));
  const double k3 =
      -1 + std::sqrt(2 * (1 + re) / re + 2 * yield * (2 + re) * d * d / (3 * fem * ls * ls));
  return std::min({d * lm * fem, d * ls * fes, k1 * d * ls * fes, k2 * d * lm * fem / (1 + 2 * re),
                   k3 * d * ls * fem / (2 + re),
                   d * d * std::sqrt(2 * fem * yield / (3 * (1 + re)))});
}

}  // namespace

TEST_CASE("dowel bearing has the timber code's table under a quarter inch and its formulas above") {
  // NDS table 12.3.3, rounded to 50 psi (from memory): G 0.50: 4650; 0.55: 5550; 0.67: 7950 psi.
  for (const auto& [gravity, psi] : {std::pair(0.50, 4650.0), {0.55, 5550.0}, {0.67, 7950.0}}) {
    CHECK_THAT(DowelBearing_mpa(gravity, 3.0, 0.7) / kPsi, WithinAbs(psi, 25.0));
  }
  // 1/2 in in G 0.50: 5600 along; 3150 across (the same table, from memory).
  CHECK_THAT(DowelBearing_mpa(0.50, 12.7, 0.0) / kPsi, WithinAbs(5600.0, 25.0));
  CHECK_THAT(DowelBearing_mpa(0.50, 12.7, kPi / 2.0) / kPsi, WithinAbs(3150.0, 25.0));
  CHECK(DowelBearing_mpa(0.50, 12.7, 0.5) < DowelBearing_mpa(0.50, 12.7, 0.4));
}

TEST_CASE("a nail's lateral value is the published verification's") {
  // READ (a finite element package's verification of the American Wood Council's solved example):
  // nail of 0.148 in, G 0.50 both, 0.75 in side, 2.25 in main, 90 000 psi: 467.488 N allowed.
  const double bearing = DowelBearing_mpa(0.5, 0.148 * 25.4, 0.0);
  const Dowel nail{0.148 * 25.4, 90000.0 * kPsi};
  const DowelLoad load = DowelLoadOf(nail, {bearing, 0.75 * 25.4}, {bearing, 2.25 * 25.4});
  // That package's k₂ has (2 + R_e) where the code has (1 + 2 R_e), and here R_e = 1.
  CHECK_THAT(load.allowed_n, WithinRel(467.488421732, 2e-4));
  CHECK_THAT(load.allowed_n / kPound, WithinAbs(105.0, 0.5));
  CHECK(load.mode == DowelMode::kBentInMain);
}

TEST_CASE("the quadratic forms are the code's equations where nothing is between the parts") {
  int modes[6] = {};
  for (const double fes : {20.0, 60.0, 300.0}) {
    for (const double fem : {15.0, 32.0, 55.0}) {
      for (const double ls : {0.8, 2.0, 6.0, 20.0, 60.0}) {
        for (const double lm : {2.0, 8.0, 12.0, 25.0, 80.0}) {
          const Dowel screw{2.0, 690.0};
          const DowelLoad load = DowelLoadOf(screw, {fes, ls}, {fem, lm});
          CHECK_THAT(load.yield_n, WithinRel(ByTheCode(2.0, 690.0, fes, ls, fem, lm), 1e-9));
          ++modes[static_cast<int>(load.mode)];
        }
      }
    }
  }
  for (const int mode : modes) CHECK(mode > 0);
}

TEST_CASE("with a gap a dowelled joint bears what its plastic mechanisms bear, found by search") {
  // Upper bound of plasticity: the dowel turns about a point in a part, or bends in a hinge there,
  // and every length that moves presses with the full bearing. Dissipation over the slip, least
  // over all places of the hinges or turning points, is the load. Lengths are searched, no formula.
  const double d = 2.5, yield = 620.0, m = yield * d * d * d / 6.0;
  const double qs = 120.0 * d, qm = 32.0 * d;
  for (const double gap : {0.0, 1.5, 4.0, 9.0}) {
    for (const double ls : {1.5, 4.0, 15.0}) {
      for (const double lm : {6.0, 12.0, 30.0}) {
        // Between the two points at depths a in the side and b in the main part the dowel is
        // straight and turns by 1/(a + gap + b) per slip; each side is hinged at its depth (beyond
        // it still) or turns on through to its end.
        const auto work = [&](double q, double length, double depth, bool hinged) {
          const double beyond = length - depth;
          return q * depth * depth / 2.0 + (hinged ? m : q * beyond * beyond / 2.0);
        };
        double least = std::min(qs * ls, qm * lm);
        const int steps = 400;
        for (int i = 0; i <= steps; ++i) {
          const double a = ls * i / steps;
          for (int k = 0; k <= steps; ++k) {
            const double b = lm * k / steps, arm = a + gap + b;
            if (arm <= 0.0) continue;
            for (const bool in_side : {false, true}) {
              for (const bool in_main : {false, true}) {
                least =
                    std::min(least, (work(qs, ls, a, in_side) + work(qm, lm, b, in_main)) / arm);
              }
            }
          }
        }
        const double ours = DowelLoadOf({d, yield}, {120.0, ls}, {32.0, lm}, gap).yield_n;
        INFO(gap << " " << ls << " " << lm);
        CHECK_THAT(ours, WithinRel(least, 2e-3));
      }
    }
  }
}

TEST_CASE("what a joint cannot be is refused") {
  CHECK_THROWS_AS(DowelLoadOf({7.0, 600.0}, {30.0, 5.0}, {30.0, 5.0}), ContractError);
  CHECK_THROWS_AS(DowelLoadOf({3.0, 600.0}, {30.0, 0.0}, {30.0, 5.0}), ContractError);
  CHECK(ScrewYield_mpa(3.0) > ScrewYield_mpa(4.0));
  CHECK(ScrewYield_mpa(3.0, true) < ScrewYield_mpa(3.0));
  // READ: a #10's bending yield is 80 000 psi.
  CHECK_THAT(ScrewYield_mpa(0.19 * 25.4) / kPsi, WithinAbs(80000.0, 1.0));
}
