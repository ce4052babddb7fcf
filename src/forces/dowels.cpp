// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/dowels.h"

#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/units.h"
#include "lidwright/forces/grain.h"

namespace lidwright {
namespace {

constexpr double kMpaPerPsi = 0.00689475729;
constexpr double kThick_in = 0.25;
constexpr double kThin_in = 0.17;
constexpr double kThinFactor = 2.2;
constexpr double kBrassOverSteel = 1.0 / 3.0;

// The positive root of A P² + B P + C with A > 0, C < 0, without cancellation.
double Root(double a, double b, double c) {
  return -2.0 * c / (b + std::sqrt(b * b - 4.0 * a * c));
}

}  // namespace

double DowelBearing_mpa(double specific_gravity, double diameter_mm, double angle_rad) {
  LW_REQUIRE(specific_gravity > 0.0 && diameter_mm > 0.0, "gravity=" << specific_gravity);
  const double inches = diameter_mm / kMmPerInch;
  if (inches < kThick_in) return kMpaPerPsi * 16600.0 * std::pow(specific_gravity, 1.84);
  const double along = 11200.0 * specific_gravity;
  const double across = 6100.0 * std::pow(specific_gravity, 1.45) / std::sqrt(inches);
  return kMpaPerPsi * Hankinson(along, across, angle_rad, kHankinsonPressed);
}

DowelLoad DowelLoadOf(const Dowel& dowel, const DowelSide& side, const DowelSide& main,
                      double gap_mm) {
  const double inches = dowel.diameter_mm / kMmPerInch;
  LW_REQUIRE(inches > 0.0 && inches < kThick_in && dowel.yield_mpa > 0.0, "diameter=" << inches);
  LW_REQUIRE(side.bearing_mpa > 0.0 && side.length_mm > 0.0 && main.bearing_mpa > 0.0 &&
                 main.length_mm > 0.0 && gap_mm >= 0.0,
             "side=" << side.length_mm << " main=" << main.length_mm << " gap=" << gap_mm);
  const double qs = side.bearing_mpa * dowel.diameter_mm, ls = side.length_mm;
  const double qm = main.bearing_mpa * dowel.diameter_mm, lm = main.length_mm;
  const double m = dowel.yield_mpa * std::pow(dowel.diameter_mm, 3) / 6.0;
  DowelLoad load;
  const auto take = [&](DowelMode mode, double yield) {
    if (yield >= load.yield_n) return;
    load.yield_n = yield;
    load.mode = mode;
  };
  take(DowelMode::kCrushedMain, qm * lm);
  take(DowelMode::kCrushedSide, qs * ls);
  take(DowelMode::kTilted, Root(1.0 / (4.0 * qs) + 1.0 / (4.0 * qm), ls / 2.0 + gap_mm + lm / 2.0,
                                -qs * ls * ls / 4.0 - qm * lm * lm / 4.0));
  take(DowelMode::kBentInSide,
       Root(1.0 / (2.0 * qs) + 1.0 / (4.0 * qm), gap_mm + lm / 2.0, -m - qm * lm * lm / 4.0));
  take(DowelMode::kBentInMain,
       Root(1.0 / (4.0 * qs) + 1.0 / (2.0 * qm), ls / 2.0 + gap_mm, -qs * ls * ls / 4.0 - m));
  take(DowelMode::kBentInBoth, Root(1.0 / (2.0 * qs) + 1.0 / (2.0 * qm), gap_mm, -2.0 * m));
  load.allowed_n = load.yield_n / (inches < kThin_in ? kThinFactor : 10.0 * inches + 0.5);
  return load;
}

double ScrewYield_mpa(double diameter_mm, bool brass) {
  const double inches = diameter_mm / kMmPerInch;
  const double psi = inches <= 0.142 ? 100000.0 : inches <= 0.177 ? 90000.0 : 80000.0;
  return kMpaPerPsi * psi * (brass ? kBrassOverSteel : 1.0);
}

}  // namespace lidwright
