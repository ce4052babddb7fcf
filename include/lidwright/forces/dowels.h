// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <limits>

namespace lidwright {

/// Pressure that wood of a specific gravity bears under a pin, dowel or screw pushed across its
/// length, at `angle_rad` to the grain. American timber code (NDS): 16 600 G^1.84 psi under 1/4 in
/// of diameter, at every angle; from there on 11 200 G along and 6100 G^1.45 / √D (in) across, with
/// Hankinson's formula between. READ (a page of the code's formulas, which prints 16 000 for the
/// first; the code's own table, from memory, only follows from 16 600).
double DowelBearing_mpa(double specific_gravity, double diameter_mm, double angle_rad);

/// One side of a joint that a dowel holds: it presses into `bearing_mpa` over `length_mm`.
struct DowelSide {
  double bearing_mpa = 0.0;
  double length_mm = 0.0;
};

/// A screw, nail or pin across the joint of two parts.
struct Dowel {
  double diameter_mm = 0.0;  ///< root diameter of a screw
  double yield_mpa = 0.0;    ///< in bending, of its metal
};

/// How a dowelled joint gives way.
enum class DowelMode { kCrushedMain, kCrushedSide, kTilted, kBentInSide, kBentInMain, kBentInBoth };

struct DowelLoad {
  double yield_n = std::numeric_limits<double>::infinity();  ///< least over the modes
  DowelMode mode = DowelMode::kCrushedMain;
  double allowed_n = 0.0;  ///< over the code's factor: 2.2 under 0.17 in, 10 D(in) + 0.5 to 1/4 in
};

/// What one dowel bears across the joint of a side and a main part with `gap_mm` between them (a
/// packing that bears nothing), both plastic: the American Wood Council's general dowel equations
/// (Technical Report 12, from memory), which without a gap are the timber code's yield limit
/// equations (READ). With q = bearing × diameter and m = yield × diameter³/6 each mode solves
/// A P² + B P + C = 0.
/// Requires positive sizes and a diameter under 1/4 in.
DowelLoad DowelLoadOf(const Dowel& dowel, const DowelSide& side, const DowelSide& main,
                      double gap_mm = 0.0);

/// Bending yield of steel nails and wood screws by diameter: 100 000 psi from 0.099 to 0.142 in,
/// 90 000 to 0.177, 80 000 to 0.236 (NDS, from memory; 80 000 for a #10 READ). Brass screws: no
/// figure in the code; a third of it is taken (soft brass over hardened steel, no source).
double ScrewYield_mpa(double diameter_mm, bool brass = false);

/// Root of a wood screw's thread over its diameter: 0.113 of 0.138 in (#6), 0.131 of 0.164 (#8),
/// 0.152 of 0.190 (#10) in the code's table (the last READ, the others from memory); the least of
/// these, 0.8.
inline constexpr double kScrewRoot = 0.8;

/// A steel or brass sheet under 1/4 in bears 1.375 of its breaking strength under a dowel (NDS,
/// READ).
inline constexpr double kSheetBearing = 1.375;

}  // namespace lidwright
