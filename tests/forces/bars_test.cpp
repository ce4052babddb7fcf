// SPDX-License-Identifier: Apache-2.0
#include <catch2/catch.hpp>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/units.h"
#include "lidwright/forces/columns.h"
#include "lidwright/forces/torsion.h"

using namespace lidwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

TEST_CASE("a pipe strut bears what a textbook's solutions print for four kinds of ends") {
  // READ: Gere's Mechanics of Materials, solution 11.4-2: pipe 40/36 mm, 1.2 m, 210 GPa: 62.2,
  // 15.6, 127 and 249 kN for hinged, one end free, fixed and hinged, fixed ends; I = 43.22e3 mm⁴.
  Strut pipe;
  pipe.length_mm = 1200.0;
  pipe.second_mm4 = kPi / 64.0 * (std::pow(40.0, 4) - std::pow(36.0, 4));
  pipe.area_mm2 = kPi / 4.0 * (40.0 * 40.0 - 36.0 * 36.0);
  pipe.modulus_mpa = 210000.0;
  pipe.yield_mpa = 1e6;
  CHECK_THAT(pipe.second_mm4, WithinRel(43220.0, 1e-4));
  for (const auto& [ends, kn] :
       {std::pair(1.0, 62.2), {0.25, 15.6}, {2.046, 127.0}, {4.0, 249.0}}) {
    pipe.ends = ends;
    CHECK_THAT(EulerLoad_n(pipe) / 1000.0, WithinRel(kn, 0.005));
  }
}

TEST_CASE("Johnson's parabola touches Euler's curve at half the yield and starts at all of it") {
  const double modulus = 69000.0, yield = 255.0;
  const double k = 3.0 / std::sqrt(12.0);  // of a strap 3 mm thick
  const double bound = std::sqrt(2.0 * kPi * kPi * modulus / yield) * k;
  const auto at = [&](double length) {
    return RectangularStrut(length, 10.0, 3.0, modulus, yield);
  };
  CHECK_THAT(EulerLoad_n(at(bound)), WithinRel(30.0 * yield / 2.0, 1e-12));
  CHECK_THAT(JohnsonLoad_n(at(bound)), WithinRel(30.0 * yield / 2.0, 1e-12));
  const double h = 1e-4 * bound;
  const double slope_e = (EulerLoad_n(at(bound + h)) - EulerLoad_n(at(bound - h))) / (2 * h);
  const double slope_j = (JohnsonLoad_n(at(bound + h)) - JohnsonLoad_n(at(bound - h))) / (2 * h);
  CHECK_THAT(slope_e, WithinRel(slope_j, 1e-6));
  CHECK_THAT(StrutLoad_n(at(1e-3)), WithinRel(30.0 * yield, 1e-6));
  double before = 30.0 * yield;
  for (double length = 1.0; length < 400.0; length += 1.0) {
    const double now = StrutLoad_n(at(length));
    CHECK(now < before);
    CHECK(now <= EulerLoad_n(at(length)) * (1.0 + 1e-12));
    before = now;
  }
  CHECK_THROWS_AS(StrutLoad_n(at(0.0)), ContractError);
}

TEST_CASE("a bowed strut's moment grows as its differential equation says") {
  // E I y'' = −P (y + e sin(π x / L)): its deflection found by shooting, with our steps and no
  // formula; the moment at mid-length over P e is the magnifier.
  const double length = 120.0, stiffness = 210.0, bow = 1.5;
  const double critical = kPi * kPi * stiffness / (length * length);
  for (const double share : {0.1, 0.5, 0.8}) {
    const double push = share * critical;
    const auto end_of = [&](double slope, double& middle) {
      const int steps = 20000;
      const double h = length / steps;
      double y = 0.0, v = slope;
      const auto bend = [&](double x, double at) {
        return -push / stiffness * (at + bow * std::sin(kPi * x / length));
      };
      for (int i = 0; i < steps; ++i) {
        const double x = i * h;
        if (i == steps / 2) middle = y;
        const double k1 = bend(x, y), k2 = bend(x + h / 2, y + h / 2 * v);
        const double k3 = bend(x + h / 2, y + h / 2 * v + h * h / 4 * k1);
        const double k4 = bend(x + h, y + h * v + h * h / 2 * k2);
        y += h * v + h * h / 6 * (k1 + k2 + k3);
        v += h / 6 * (k1 + 2 * k2 + 2 * k3 + k4);
      }
      return y;
    };
    double at_0 = 0.0, at_1 = 0.0;
    const double e0 = end_of(0.0, at_0), e1 = end_of(1.0, at_1);  // linear in the slope
    const double slope = -e0 / (e1 - e0);
    const double middle = at_0 + slope * (at_1 - at_0);
    CHECK_THAT(MomentMagnifier(push, critical), WithinRel((middle + bow) / bow, 1e-6));
  }
  CHECK(std::isinf(MomentMagnifier(critical, critical)));
  CHECK(MomentMagnifier(-50.0, critical) == 1.0);
}

TEST_CASE("torsion of rectangular bars has the handbooks' table") {
  // READ: a table of k (J = k a b³) and k₁ (W = k₁ a b²) and the narrow face's share, by a/b;
  // held to a unit of the last digit printed.
  struct Row {
    double ratio, j, w, narrow;
  };
  for (const Row& row : {Row{1.0, 0.141, 0.208, 1.0},
                         {1.5, 0.196, 0.231, 0.859},
                         {2.0, 0.229, 0.246, 0.796},
                         {3.0, 0.263, 0.267, 0.753},
                         {4.0, 0.281, 0.282, 0.745},
                         {6.0, 0.298, 0.299, 0.743},
                         {8.0, 0.307, 0.307, 0.743}}) {
    INFO(row.ratio);
    const double b = 3.0, a = row.ratio * b;
    const BarTorsion bar = TorsionOfBar(a, b), turned = TorsionOfBar(b, a);
    CHECK_THAT(bar.j_mm4 / (a * b * b * b), WithinAbs(row.j, 0.001));
    CHECK_THAT(bar.w_mm3 / (a * b * b), WithinAbs(row.w, 0.001));
    CHECK_THAT(bar.narrow_over_wide, WithinAbs(row.narrow, 0.001));
    CHECK(bar.j_mm4 == turned.j_mm4);
  }
  CHECK_THAT(TorsionOfBar(1e5, 1.0).j_mm4 / 1e5, WithinRel(1.0 / 3.0, 1e-5));
  // The exact value of a square (Saint-Venant, from memory): 0.1405770.
  CHECK_THAT(TorsionOfBar(1.0, 1.0).j_mm4, WithinAbs(0.1405770, 5e-8));
}
