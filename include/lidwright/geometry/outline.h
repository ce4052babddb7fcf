// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/geometry/pose.h"
#include "lidwright/geometry/vec.h"

namespace lidwright {

/// A vertex of an outline and the shape of the edge that leaves it: bulge = tan(angle / 4) of the
/// arc to the next vertex, positive when it turns counter-clockwise, 0 for a straight edge.
struct OutlineVertex {
  Vec2 point = Vec2::Zero();
  double bulge = 0.0;
};

/// A closed curve of straight lines and circular arcs, counter-clockwise around solid.
struct Outline {
  std::vector<OutlineVertex> vertices;
};

struct Circle {
  Vec2 centre = Vec2::Zero();
  double radius_mm = 0.0;
};

/// An arc from a to b as centre, radius and signed included angle.
struct Arc {
  Vec2 centre = Vec2::Zero();
  double radius_mm = 0.0;
  double start_rad = 0.0;
  double sweep_rad = 0.0;  ///< positive counter-clockwise
};

/// The arc with chord a–b and the given bulge ≠ 0: radius = chord (1 + b²) / (4 |b|).
Arc ArcOf(const Vec2& a, const Vec2& b, double bulge);

/// Bulge of an arc that turns by `sweep_rad`.
double BulgeOf(double sweep_rad);

enum class Chords {
  kInside,   ///< vertices on the arc: the polygon's edges are chords
  kOutside,  ///< vertices outside by 1/cos: the polygon's edges touch the arc from outside of it
};

/// The outline as a polygon within `error_mm` of it. kOutside makes every arc that bulges out of
/// the solid (a counter-clockwise one) stand out a little, so that the polygon contains the
/// outline; arcs that bulge in keep their chords, which then also lie on the solid's outside.
Ring Flatten(const Outline& outline, double error_mm, Chords chords = Chords::kInside);

/// Same for a full circle, as a counter-clockwise ring.
Ring Flatten(const Circle& circle, double error_mm, Chords chords = Chords::kInside);

/// Exact area of an outline: shoelace of the chords plus the segments of the arcs [mm²].
double SignedArea(const Outline& outline);

/// Exact length of an outline [mm].
double Length(const Outline& outline);

Outline Moved(const Outline& outline, const Pose& pose);

/// Mirrored in the line x = 0; keeps it counter-clockwise.
Outline Mirrored(const Outline& outline);

/// The circle as an outline of two half-turn arcs.
Outline AsOutline(const Circle& circle);

/// [mm] The smallest radius of an arc that turns clockwise (an inside curve a cutter must enter), 0
/// if two straight edges or arcs meet in an inside corner (turning clockwise by more than 1e-6
/// rad), infinity for an outline without inside curves.
double SmallestInsideRadius(const Outline& outline);

}  // namespace lidwright
