// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/forces/plate_legs.h"

namespace lidwright {

/// What a kind of glue bears, and how it is used.
struct Glue {
  std::string name;
  double shear_mpa;   ///< breaking, on wood of enough strength
  double pull_mpa;    ///< breaking, square to the line
  double gap_mm;      ///< thickest line it fills
  bool metal;         ///< holds roughened metal
  double handling_h;  ///< until it bears a lid that is opened with care
  std::string source;
};

/// Wood glue, epoxy, thick superglue. All but the wood glue's shear (a third of the 25 MPa makers
/// print for maple, from memory) from memory and low: common practice, no source.
const std::vector<Glue>& Glues();
const Glue* FindGlue(const std::string& name);

/// What a glue line bears at its worst place.
struct GlueStress {
  double area_mm2 = 0.0;
  double shear_mpa = 0.0;
  double pull_mpa = 0.0;  ///< 0 if it is pressed everywhere
};

/// A glued area under forces in its plane that act `height_mm` above it: both parts stiff, the line
/// elastic. Shear: force over area and twist by distance from the centre, F/A + T r / I_p; pull:
/// the tilting moment by the area's own inertias, at its outline. `areas` are the glued rings,
/// outer ones counter-clockwise, holes clockwise. Requires a positive area.
GlueStress GlueStressOf(const std::vector<Ring>& areas, const std::vector<PinPush>& pushes);

/// How much of its strength a glue line uses on a wood: shear and pull against the weaker of glue
/// and wood (its shear along and tension across the grain), added. `rolling`: the glued face's
/// grain, or that of a crossed ply, runs across the force: a third of the shear (READ: shear across
/// taken as a third of that along in tests of glued joints).
double GlueUse(const GlueStress& stress, const Glue& glue, const StrapMaterial& wood,
               bool rolling = false);

}  // namespace lidwright
