// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "lidwright/forces/sections.h"

namespace lidwright {

/// Stress at the inside of a curved bar of rectangular section under a bending moment, by Winkler
/// and Bach: σ = M (r_n − r_i) / (A e r_i) with r_n = h / ln(r_o / r_i), e = R − r_n; M h / (2 I)
/// for a bar that is not curved (infinite radius). The plain formula, beside StressAt.
double CurvedBarStress_mpa(double moment_nmm, double depth_mm, double thickness_mm,
                           double centre_radius_mm);

/// Peak over mean stress on the net section of a flat bar with a round hole in the middle, pulled:
/// K = 3 − 3.13 q + 3.66 q² − 1.53 q³, q = hole / width. READ (handbook table of stress
/// concentration, as reproduced on a page). An eye pulled by its own pin is worse by up to half
/// (from memory); that is not added.
double HoleConcentration(double hole_over_width);

/// What acts on an arm at rest, in its place with the lid shut: the case joint answers it.
struct ArmLoad {
  Vec2 lid_n = Vec2::Zero();   ///< on the arm at its lid hole
  Vec2 stop_n = Vec2::Zero();  ///< on the arm by a stop …
  Vec2 stop_at = Vec2::Zero();
};

/// Stresses of one arm under one load.
struct ArmStress {
  double eccentricity_mm =
      0.0;                      ///< largest distance of the sections' centres from the pivots' line
  double body_mpa = 0.0;        ///< bending and direct stress at the worst edge of the body
  Vec2 body_at = Vec2::Zero();  ///< and where, lid shut
  double shear_mpa = 0.0;       ///< largest 1.5 V / A
  double eye_mpa = 0.0;         ///< mean through the net section of the worse eye
  double eye_peak_mpa = 0.0;    ///< with HoleConcentration
  double tear_mpa = 0.0;        ///< eye torn out along two planes behind the pin
  double bearing_mpa = 0.0;     ///< bushing in arm
};

/// One section of an arm under a load.
struct SectionState {
  SectionLoad load;
  EdgeStress edge;
  double direct_mpa = 0.0;  ///< N / A, pull positive
  double shear_mpa = 0.0;   ///< 1.5 V / A
  double radial_mpa = 0.0;  ///< pull that opens the layers of a bend (RadialPull_mpa), else 0
};

/// Stresses round a pin that pushes with a force in an eye.
struct EyeStress {
  double mean_mpa = 0.0;  ///< through the net section square to the force
  double peak_mpa = 0.0;  ///< with HoleConcentration
  double tear_mpa = 0.0;  ///< shear on two planes in front of the pin; 0 if there is no end there
  double bearing_mpa = 0.0;  ///< on the hole's wall
};

/// What a force on a flat part does at one of its holes: `holes` are all of them, `hole` among
/// them. Requires a force.
EyeStress EyeStressOf(const Ring& outline, const std::vector<Circle>& holes, double thickness_mm,
                      const Circle& hole, const Vec2& force_n);

/// Pull across the layers of a bend, largest over its depth, by the balance of Winkler's stresses:
/// σ_r = M (r_n − r*) / (A e r*) at r* = r_i exp(1 − r_i / r_n); 1.5 M / (A R) for gentle bends
/// (the timber codes' formula). For a moment that opens the bend; closing it presses the layers
/// together by as much.
double RadialPull_mpa(double moment_nmm, double depth_mm, double thickness_mm,
                      double centre_radius_mm);

/// An arm made ready for many loads: its sections along the centre line, as cut, holes included.
class ArmStrength {
 public:
  explicit ArmStrength(const Arm& arm);
  const Arm& arm() const { return arm_; }
  /// Two forces (and a stop's) on a bent bar: each section bears what is beyond it towards the lid,
  /// about its own centre of area. Eyes: the ligaments beside the hole square to the pin's force.
  ArmStress Under(const ArmLoad& load) const;
  /// The same section by section, in the order of sections().
  std::vector<SectionState> Along(const ArmLoad& load) const;
  const std::vector<ArmSection>& sections() const { return sections_; }
  /// What a force on the arm does at one of its two eyes. Requires a force.
  EyeStress EyeUnder(const Circle& hole, const Vec2& force_n) const;
  /// Euler's load of the arm sideways (out of its plane, the thin way), both ends hinged, on the
  /// straight line of its pivots: π² E I / L², I of its narrowest body section.
  double Buckling_n(double modulus_mpa) const;

 private:
  double StopPlace_mm(const ArmLoad& load) const;
  SectionLoad LoadAt(const ArmSection& section, double centre_mm, const ArmLoad& load,
                     double stop_place_mm) const;

  Arm arm_;
  double thickness_mm_;
  Ring outline_;
  std::vector<ArmSection> sections_;
  std::vector<SectionFigures> figures_;  // of sections_
};

/// A pin held at one end (cantilever) under a load at a distance: bending σ = 32 F a / (π d³) and
/// mean shear τ = 4 F / (π d²).
struct PinStress {
  double bending_mpa = 0.0;
  double shear_mpa = 0.0;
};
PinStress PinStressOf(double load_n, double reach_mm, double diameter_mm);

/// One thing that a stiff pin is pressed into, by depth from the face it stands out of.
struct SeatLayer {
  double from_mm = 0.0, to_mm = 0.0;
  double modulus_mpa = 1.0;
};

/// Largest pressure in each layer on a stiff pin loaded `reach_mm` outside the face: pressure
/// k (u + φ x) / d with k in the ratio of the layers' moduli, u and φ from balance of forces and
/// moments. One layer of depth L gives F/(d L) (4 + 6 a/L) at the face.
std::vector<double> SeatPressures_mpa(double load_n, double reach_mm, double diameter_mm,
                                      const std::vector<SeatLayer>& layers);

}  // namespace lidwright
