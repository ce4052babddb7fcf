// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <limits>
#include <vector>

#include "lidwright/arms/arm.h"

namespace lidwright {

/// A cut through an arm, square to its centre line. `across` runs to the left of `along`.
struct ArmSection {
  Vec2 at = Vec2::Zero();           ///< on the centre line, lid shut
  Vec2 along = Vec2::Zero();        ///< unit, towards the lid pivot
  double from_case_pivot_mm = 0.0;  ///< along the centre line
  /// Radius of the centre line here: positive with its centre to the left, infinite if straight.
  double radius_mm = std::numeric_limits<double>::infinity();
  struct Stretch {
    double from_mm = 0.0, to_mm = 0.0;  ///< from `at` along `across`
  };
  std::vector<Stretch> solid;  ///< by growing place; two beside a hole
  Vec2 Across() const { return {-along.y(), along.x()}; }
};

/// The solid of the outline as cut, less the holes, on the line through `at` square to `along`: the
/// stretches of the one piece of outline that holds `at` (or the nearest one if none does). Arcs
/// count as chords within 0.005 mm.
ArmSection SectionOf(const Arm& arm, const Vec2& at, const Vec2& along);

/// The same of any outline as a ring, with any holes.
ArmSection SectionOf(const Ring& outline, const std::vector<Circle>& holes, const Vec2& at,
                     const Vec2& along);

/// The same for many sections of one arm: `outline` is ChordsOf(arm).
ArmSection SectionOf(const Arm& arm, const Ring& outline, const Vec2& at, const Vec2& along);
Ring ChordsOf(const Arm& arm);

/// Sections along the centre line, at most `step_mm` apart, both pivots included. Sections without
/// solid (a given arm whose centre line is unknown) are left out.
std::vector<ArmSection> SectionsOf(const Arm& arm, double step_mm);

/// Normal force, bending moment about the section's centre of area and shear,
/// put on it by what is beyond it towards the lid.
struct SectionLoad {
  double pull_n = 0.0;      ///< along `along`
  double shear_n = 0.0;     ///< along `across`
  double moment_nmm = 0.0;  ///< counter-clockwise, about SectionFigures::centre_mm
};

struct SectionFigures {
  double area_mm2 = 0.0;
  double centre_mm = 0.0;  ///< of area, from `at` along `across`
  double depth_mm = 0.0;   ///< from the first to the last solid
  bool curved = false;     ///< bends as a curved bar, by its neutral radius …
  double neutral_mm = 0.0;
  double second_mm4 = 0.0;  ///< … or else as a straight one, by its second moment of area
};
SectionFigures FiguresOf(const ArmSection& section, double thickness_mm);

/// The stress at the two outer edges (to the right, to the left; pull positive) of a plane section
/// that stays plane: σ = N/A + bending by Winkler and Bach for any stretches of a rectangular
/// section, σ_b = M (r_n − r) / (A (r_c − r_n) r), r_n = A / ∫dA/r; straight bars as M y / I. Bars
/// bent to a radius beyond 10⁴ depths count as straight (an error of 2·10⁻⁵). Sections that reach
/// nearer to their centre of curvature than a twentieth of their depth count as straight too: they
/// lie in an eye, where a centre line has no meaning.
/// Source: machine design handbooks (from memory; re-derived and checked by integration).
struct EdgeStress {
  double right_mpa = 0.0, left_mpa = 0.0;
  double Largest() const;
};
EdgeStress StressAt(const ArmSection& section, double thickness_mm, const SectionLoad& load);

/// The same for many loads of one section.
EdgeStress StressAt(const ArmSection& section, const SectionFigures& figures,
                    const SectionLoad& load);

}  // namespace lidwright
