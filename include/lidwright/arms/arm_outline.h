// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>

#include "lidwright/arms/arm.h"

namespace lidwright {

struct ArmShape {
  double width_mm = 0.0;
  double eye_mm = 0.0;     ///< diameter, ≥ width
  double hole_mm = 0.0;    ///< diameter
  double inside_mm = 0.0;  ///< least radius of inside curves: half the cutter's diameter
};

/// Length of straight arm that the fillet between eye and arm takes up, from the pivot:
/// √((eye/2 + f)² − (width/2 + f)²) for a fillet of radius f; 0 where the eye is no wider.
double NeckLength_mm(const ArmShape& shape, double fillet_mm);

/// The fillet used at the eyes: as large as a quarter of the eye, never under the cutter's radius.
double NeckFillet_mm(const ArmShape& shape);

/// A centre line through `points` with each inner corner rounded by the largest radius that fits
/// (at most `largest_mm`): half of each inner stretch belongs to each of its corners, of the outer
/// stretches all but `neck_mm`. Nothing if a corner would get less than `least_mm`.
std::optional<Centreline> RoundedCentreline(const std::vector<Vec2>& points, double least_mm,
                                            double largest_mm, double neck_mm);

/// Points along a centre line at most `step_mm` apart, both ends included.
std::vector<Vec2> PointsAlong(const Centreline& centreline, double step_mm);

/// The arm as cut: a band of constant width along the centre line between two eyes, joined by
/// fillets. All lines and arcs are true ones, tangent to each other.
/// Requires a centre line whose first and last pieces are straight and at least a neck long.
Outline ArmOutline(const Centreline& centreline, const ArmShape& shape);

}  // namespace lidwright
