// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/base/units.h"
#include "lidwright/forces/laminate.h"
#include "lidwright/forces/strength.h"

namespace lidwright {

/// Strength at an angle to the grain, P Q / (P sinⁿα + Q cosⁿα), P along and Q across: Hankinson's
/// formula (READ). n = 2 for compression and bearing, 1.5 to 2 for tension and bending.
double Hankinson(double along, double across, double angle_rad, double power);

inline constexpr double kHankinsonPressed = 2.0;
inline constexpr double kHankinsonPulled = 1.5;  ///< the lower end of its range: the weaker

/// Young's modulus across the grain over that along it, mean of radial and tangential (Wood
/// Handbook: 0.04 to 0.12).
inline constexpr double kModulusAcross = 1.0 / 15.0;

/// What a flat strap, arm or plate leg is made of.
enum class StrapKind { kMetal, kPlastic, kSolidWood, kPlywood };

/// Figures of one material in one thickness. For solid wood those without `across` are along the
/// grain; plywood has its layers instead.
struct StrapMaterial {
  StrapKind kind = StrapKind::kMetal;
  std::string name;
  double density_kg_m3 = kUnset;
  double modulus_mpa = kUnset;
  double tension_mpa = kUnset;  ///< also at an edge in bending
  double compression_mpa = kUnset;
  double shear_mpa = kUnset;
  double bearing_mpa = kUnset;  ///< metal and plastic; wood by DowelBearing_mpa
  double tension_across_mpa = kUnset, compression_across_mpa = kUnset;
  double specific_gravity = kUnset;  ///< wood and plywood
  std::optional<Laminate> laminate;
  std::string source;
};

/// A material by its name in job/arm_materials.h, FindMaterial or Woods(), in a thickness.
/// "hardwood" is the wood named `wood`. Nothing if the name is unknown.
std::optional<StrapMaterial> StrapOf(const std::string& material, double thickness_mm,
                                     const std::string& wood = "black cherry");

/// Strength of a strap that runs at an angle to the grain (face grain of plywood).
struct StrapStrength {
  double bending_mpa = kUnset;  ///< at an edge, bent on edge
  double tension_mpa = kUnset;
  double compression_mpa = kUnset;
  double shear_mpa = kUnset;
  double flatwise_mpa = kUnset;          ///< bent over its thickness
  double modulus_mpa = kUnset;           ///< in its plane
  double flatwise_modulus_mpa = kUnset;  ///< for buckling sideways
};

/// Metal and plastic: the same whatever the angle. Solid wood: Hankinson's formula, tension and
/// bending from the modulus of rupture along the grain to the tension across it with n = 1.5 (wood
/// pulled along its grain bears more than its modulus of rupture: left out), compression with
/// n = 2, shear the same at every angle (it always runs along the grain), modulus down to
/// kModulusAcross of itself with n = 2. Plywood: first ply to fail (laminate.h).
StrapStrength StrengthAt(const StrapMaterial& material, double angle_rad);

/// How a strap with a grain is used up.
enum class StrapFailure { kNone, kEdge, kShear, kSplit, kEye, kTorn, kCrushed, kBuckled };

/// The largest use of strength over all sections and loads, one being failure.
struct StrapUse {
  double used = 0.0;
  StrapFailure how = StrapFailure::kNone;
  Vec2 at = Vec2::Zero();  ///< lid shut
  double angle_rad = 0.0;  ///< of strap (kSplit, kEye, kTorn: of the pull) to the grain there
  std::size_t load = 0;    ///< which of the loads
};

/// Every section of an arm against the strength at its own angle to a grain that runs at
/// `grain_rad` (from x, lid shut): edges |bending| / F_b + direct / F, 1.5 V / A, the pull across
/// the layers of a bend against the tension at right angles to it; both eyes: net section with the
/// peak at the hole (mean for metals), torn out, crushed (wood: dowel bearing at the angle of the
/// pin's push); a push along the line of the pivots against StrutLoad_n.
StrapUse UseOf(const ArmStrength& arm, const std::vector<ArmLoad>& loads,
               const StrapMaterial& material, double grain_rad);

/// What an arm bears pushed along the line of its pivots before it buckles sideways, over its
/// thickness: ColumnLoad_n of its narrowest section on that line, hinged at both ends, with the
/// material's modulus and compression along the line. Bowing in the arm's plane is in the edges'
/// bending; that it grows with the push (MomentMagnifier) is left out: an arm is several times as
/// wide as it is thick, so it would have buckled sideways long before.
double StrutLoad_n(const ArmStrength& arm, const StrapMaterial& material, double grain_rad);

/// The largest angle between the arm's centre line, between its eyes, and a grain.
double SteepestRun_rad(const ArmStrength& arm, double grain_rad);

/// From here on a strap runs across its grain: nearer to across than to along.
inline constexpr double kAcrossGrain_rad = 45.0 * kRadPerDeg;

/// The grain for an arm: the direction, to a degree, in which it is used least of those in which
/// no part of it runs across the grain (solid wood; plywood may lie as it likes). `refused`: there
/// is none, the direction with the least steepest run is given. Metal and plastic: 0.
struct GrainChoice {
  bool refused = false;
  double grain_rad = 0.0;  ///< from x, 0 … π, lid shut
  double steepest_rad = 0.0;
  StrapUse use;
};
GrainChoice ChooseGrain(const ArmStrength& arm, const std::vector<ArmLoad>& loads,
                        const StrapMaterial& material);

}  // namespace lidwright
