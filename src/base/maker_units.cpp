// SPDX-License-Identifier: Apache-2.0
#include "lidwright/base/maker_units.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

constexpr double kNPerLbf = kKgPerLb * kGravity_m_s2;  // with standard gravity
constexpr double kMmPerFoot = 12.0 * kMmPerInch;
constexpr double kMmPerMetre = 1000.0;
constexpr double kOuncesPerPound = 16.0;
// [steps] What is this near to a step is on it: the rounding of a product.
constexpr double kOnFigure = 1e-6;

// Whole ones, to the kind's side.
double Whole(double value, Bench kind) {
  const bool up = kBenchRules[static_cast<std::size_t>(kind)].side > 0;
  return up ? std::ceil(value - kOnFigure) : std::floor(value + kOnFigure);
}

}  // namespace

double ForceInUnit(double n, bool inches) {
  return inches ? n / kNPerLbf : n;
}

const char* ForceUnit(bool inches) {
  return inches ? "lbf" : "N";
}

std::string ForceText(double n, Bench kind, bool inches) {
  if (!std::isfinite(n)) return "-";
  return ForceNumber(ForceInUnit(n, inches), kind) + " " + ForceUnit(inches);
}

std::string TorqueText(double nmm, bool inches) {
  return inches ? Fixed(nmm / (kNPerLbf * kMmPerInch), 1) + " lbf in"
                : Fixed(nmm / kMmPerMetre, 2) + " N m";
}

std::string MassText(double kg, bool inches) {
  return inches ? Fixed(kg / kKgPerLb, 2) + " lb" : Fixed(kg, 2) + " kg";
}

std::string SpeedText(double m_s, bool inches) {
  return inches ? Fixed(m_s * kMmPerMetre / kMmPerFoot, 1) + " ft/s" : Fixed(m_s, 1) + " m/s";
}

std::string EnergyText(double j, bool inches) {
  return inches ? Fixed(j * kMmPerMetre / (kNPerLbf * kMmPerFoot), 1) + " ft lbf"
                : Fixed(j, 1) + " J";
}

std::string DensityText(double kg_m3, bool inches) {
  const double foot_m = kMmPerFoot / kMmPerMetre;
  return inches ? Fixed(kg_m3 / kKgPerLb * foot_m * foot_m * foot_m, 0) + " lb/ft3"
                : Fixed(kg_m3, 0) + " kg/m3";
}

std::string PointText(double x_mm, double y_mm, bool inches) {
  const auto say = [&](double mm) { return inches ? Text(mm / kMmPerInch, 2) : Text(mm, 1); };
  return "(" + say(x_mm) + ", " + say(y_mm) + ")";
}

std::string HeftText(double n, Bench kind, bool inches) {
  const double kg = std::max(0.0, n) / kGravity_m_s2, lb = kg / kKgPerLb;
  if (!inches) {
    const double hundredths = Whole(100.0 * kg, kind);
    return hundredths < 100.0 ? Fixed(hundredths / 100.0, 2) + " kg"
                              : Fixed(Whole(10.0 * kg, kind) / 10.0, 1) + " kg";
  }
  const double ounces = Whole(kOuncesPerPound * lb, kind);
  return ounces < kOuncesPerPound ? Fixed(ounces, 0) + " oz"
                                  : Fixed(Whole(10.0 * lb, kind) / 10.0, 1) + " lb";
}

}  // namespace lidwright
