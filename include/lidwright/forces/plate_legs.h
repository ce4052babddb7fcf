// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/forces/grain.h"

namespace lidwright {

/// A force that a pin puts on the plate that holds it, in the plate's plane but above it.
struct PinPush {
  Vec2 at = Vec2::Zero();
  Vec2 force_n = Vec2::Zero();
  double height_mm = 0.0;  ///< from the middle of the plate's thickness to the middle of the arm
};

/// A plate, lid shut: flat, of one thickness, screwed to wood.
struct PlateBody {
  Ring outline;
  std::vector<Circle> pins;    ///< holes that hold pins
  std::vector<Circle> screws;  ///< holes for its screws
  double thickness_mm = 0.0;
  /// It lies on wood all over, which takes what would bend or twist it out of its plane.
  bool backed = false;
};

/// What a cut through a plate bears, put on it by the pins beyond the cut.
struct LegStress {
  double axial_mpa = 0.0;   ///< N / A, pull positive
  double edge_mpa = 0.0;    ///< largest at an edge, bent in its plane
  double flat_mpa = 0.0;    ///< at a face, bent out of its plane: 6 M / (b t²)
  double twist_mpa = 0.0;   ///< shear at the wide faces by torsion
  double narrow_mpa = 0.0;  ///< and at the narrow ones
  double shear_mpa = 0.0;   ///< 1.5 V / A
};

/// A straight cut from edge to edge that parts a pin from its screw.
struct PlateCut {
  std::size_t pin = 0;
  double way_mm = 0.0;  ///< from the pin to it, in the plate
  ArmSection section;   ///< `along` points to the pin's side; screws' and pins' holes are out of it
  std::vector<std::size_t> beyond;  ///< pins on that side
};

/// The cut through `at`, square to `along`, with the pins in the piece of plate that it parts on
/// that side. Requires a point of the plate.
PlateCut CutOf(const PlateBody& plate, const Vec2& at, const Vec2& along);

/// Stress on a cut, one push for each pin. A force F at height h over the plate puts the moment
/// h × F on the leg: torsion by the part of F across it, flat bending by the part along it. Beside
/// a hole the strips share torsion by their stiffness.
LegStress StressOf(const PlateBody& plate, const PlateCut& cut, const std::vector<PinPush>& pushes);

/// How much of its strength a leg uses at a cut, one being failure: the most of a corner (all
/// normal stresses), the middle of a wide face (axial, flat; torsion and shear) and of a narrow one
/// (axial, edge; torsion), each as √((Σ σ/F)² + (τ/S)²), which for metals is Mises' criterion.
double LegUse(const LegStress& stress, const StrapStrength& strength);

/// The weakest place of a plate under its pins' pushes.
struct PlateUse {
  double used = 0.0;
  StrapFailure how = StrapFailure::kNone;  ///< kEdge: a leg; kEye, kTorn, kCrushed: at a pin
  Vec2 at = Vec2::Zero();
  LegStress leg;          ///< of the worst cut (kEdge)
  std::size_t pin = 0;    ///< whose leg or eye it is
  double way_mm = 0.0;    ///< from that pin to the cut
  double width_mm = 0.0;  ///< of the cut
};

/// A plate made ready for many loads. A leg runs from each pin to the screw nearest to it within
/// the plate, in the middle of what material there is; every half millimetre of it is cut where
/// the plate is narrowest, the screw's own hole included (there the screws and the wood take over).
/// A cut bears the pushes of the pins beyond it; where a screw is beyond it too, its own pin's
/// alone, as if that screw were not there. Each pin's eye besides: net section, torn out, crushed,
/// as an arm's.
/// Requires a screw and a pin at least, all within the outline.
class PlateStrength {
 public:
  explicit PlateStrength(PlateBody plate);
  const std::vector<PlateCut>& cuts() const { return cuts_; }
  /// One push for each pin; `grain_rad` is the plate's grain from x, for wood.
  PlateUse Under(const std::vector<PinPush>& pushes, const StrapMaterial& material,
                 double grain_rad = 0.0) const;

 private:
  PlateBody plate_;
  std::vector<PlateCut> cuts_;
};

}  // namespace lidwright
