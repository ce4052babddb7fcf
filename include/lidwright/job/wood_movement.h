// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>

#include "lidwright/geometry/vec.h"

namespace lidwright {

/// Change of a length across the grain: ΔD = D C (M₂ − M₁), moistures in %. Source: Wood Handbook,
/// ch. 13, good from 6 to 14 %. The strain below is this with D = 1.
inline double MovementAcross_mm(double length_mm, double coefficient_per_percent,
                                double from_percent, double to_percent) {
  return length_mm * coefficient_per_percent * (to_percent - from_percent);
}

/// Moistures the wood sees. Indoors in most houses 6 to 11 %, worked at about 8 (common practice,
/// no source).
struct Seasons {
  double built_percent = 8.0;
  double dry_percent = 6.0;
  double damp_percent = 11.0;
};

/// Which way the grain of a board runs, in the frame of the box.
enum class GrainRun {
  kDepth,   ///< back to front (x)
  kHeight,  ///< up (y)
  kWidth,   ///< side to side (z)
  kStable,  ///< plywood, veneered core, frame and panel: the sheet's small movement each way
};

/// How a board was sawn: flat-sawn boards move by the tangential coefficient in their width,
/// quarter-sawn ones by the radial one. Unsaid counts as flat, the worse.
enum class Sawn { kUnsaid, kFlat, kQuarter };

/// What a body (case or lid) is built of. The usual box: boards all round with their grain along
/// the rim, a top with its grain from side to side.
struct Boards {
  std::string wood = "black cherry";  ///< a name of Woods()
  GrainRun ends = GrainRun::kDepth;
  GrainRun long_walls = GrainRun::kWidth;  ///< front and back
  GrainRun top = GrainRun::kWidth;         ///< a case's bottom counts as floating
  bool top_floats = true;                  ///< free in its frame; false: glued to the ends
  Sawn sawn = Sawn::kUnsaid;
};

/// Relative lengthening of a body's wood between two moistures, by x and y of the side view. The
/// ends carry the hinge's plates; the walls between them have their own heights but stand as far
/// apart as the ends let them.
struct SeasonStrain {
  Vec2 ends = Vec2::Zero();
  Vec2 between = Vec2::Zero();
};

/// A board moves across its grain by C (M₂ − M₁) and not along it (a tenth to a twentieth, left
/// out). A body of one piece with its grain side to side is Boards with kWidth everywhere: it moves
/// in both directions of the side view. Where a top is glued on, the larger movement in x counts.
/// Requires a wood of WoodGrains(), or "birch plywood" (kStable whatever it says).
SeasonStrain StrainOf(const Boards& boards, double from_percent, double to_percent);

/// Relative movement of plywood in its plane per % of moisture (0.2 per mille: from memory of the
/// Wood Handbook; a data sheet says under 0.2 per mille for 30 to 90 % of relative humidity, READ).
inline constexpr double kStableMovement = 0.0002;

/// Where a point goes when a body swells by `strain` with `anchor` kept: p + strain ∘ (p − anchor).
inline Vec2 Swollen(const Vec2& p, const Vec2& strain, const Vec2& anchor) {
  return p + strain.cwiseProduct(p - anchor);
}
Ring Swollen(const Ring& ring, const Vec2& strain, const Vec2& anchor);

/// The points that a season leaves where they are on one body: a plate is held by its screws, so
/// the wood moves about their centre and the pivots on the plate stay with it. Without a plate the
/// pins stand in the wood: the first pivot is kept and the second moves with the wood.
struct SeasonAnchors {
  Vec2 case_at = Vec2::Zero();
  Vec2 lid_at = Vec2::Zero();
};

/// How far the seam opens (positive) or bears harder (negative) at a place of the rim when case
/// and lid swell by these strains about their anchors, lid shut and held by its pivots alone: the
/// lid's movement less the case's along y, at the ends' rims or between them.
double SeamOpens_mm(const Vec2& rim, const Vec2& case_strain, const Vec2& lid_strain,
                    const SeasonAnchors& anchors);

}  // namespace lidwright
