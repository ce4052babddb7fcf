// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace lidwright {

/// How a saw is set for one end of a board that lies flat on its table.
struct SawSetting {
  double mitre_rad = 0.0;  ///< the cut's turn from square across the board, on the mitre scale
  double bevel_rad = 0.0;  ///< the blade's lean from upright, on the bevel scale
};

/// A corner of a box, square in plan, whose two sides lean out from upright.
struct LeaningCorner {
  SawSetting first, second;
  /// Between the outer faces, measured square to the arris: what a paper gauge for a test corner is
  /// cut to. π/2 for upright sides, more for leaning ones.
  double between_faces_rad = 0.0;
};

/// The corner of two sides that lean out by these angles from upright (negative: in), mitred so
/// that each takes half of the angle between them.
///
/// The sides' planes are x = h tan α and z = h tan β over the height h, so their arris runs along
/// (tan α, 1, tan β). In the first board's face it stands off the square line by
/// tan mitre = cos α tan β; the faces' normals give cos(between) = −sin α sin β, and
/// bevel = π/2 − between/2. With α = β these are the shop's mitre = atan(sin α) and
/// bevel = asin(cos α sin 45°) (both READ with the saws' marks in pages on compound mitres).
/// Requires leans under a right angle.
LeaningCorner CornerOf(double first_lean_rad, double second_lean_rad);

}  // namespace lidwright
