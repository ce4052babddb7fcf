// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/base/bench.h"

/// Forces, weights and what goes with them as the maker reads them, each with its unit: newtons and
/// kilograms, or for an inch job pounds-force, pounds and inches. One of them, never both: where a
/// metric figure helps an inch maker (a standard's own size, what ribbon is sold as) it stands in
/// brackets behind the inch one. hinge.json alone is in millimetres and newtons for every job.
namespace lidwright {

/// "5.8 N", "1.4 lbf"; to the safe side of its kind, as ForceNumber is. "-" if unknown or endless.
std::string ForceText(double n, Bench kind, bool inches);
/// "0.70 N m", "6.2 lbf in".
std::string TorqueText(double nmm, bool inches);
/// "1.23 kg", "2.71 lb".
std::string MassText(double kg, bool inches);
/// "2.0 m/s", "6.6 ft/s".
std::string SpeedText(double m_s, bool inches);
/// "0.4 J", "0.3 ft lbf".
std::string EnergyText(double j, bool inches);
/// "560 kg/m3", "35 lb/ft3".
std::string DensityText(double kg_m3, bool inches);

/// A force as what weighs as much, to the safe side of its kind: "0.63 kg", "1.4 kg"; "14 oz" under
/// a pound, "1.4 lb". Somebody knows how heavy that is.
std::string HeftText(double n, Bench kind, bool inches);

/// Where something lies, for a message: "(139.3, -50.9)" in mm, "(5.48, -2.00)" in inches.
std::string PointText(double x_mm, double y_mm, bool inches);

/// A force in the unit of ForceText, for a chart's axis; and that unit: "N", "lbf".
double ForceInUnit(double n, bool inches);
const char* ForceUnit(bool inches);

}  // namespace lidwright
