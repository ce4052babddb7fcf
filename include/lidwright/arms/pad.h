// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "lidwright/arms/hinge_parts.h"
#include "lidwright/arms/shape_arms.h"

namespace lidwright {

/// A slip of hardwood glued to the outside of the lid's back near each end of the box, which comes
/// down on the case when the lid is open and stops it there.
struct Pad {
  Outline outline;        ///< in side view, lid shut
  LayerSpan span;         ///< its stretch of the width at the +z end
  double width_mm = 0.0;  ///< along the lid's back
  /// Off the lid's back at its lower and its upper edge, lid shut: its face lies on the case when
  /// the lid is open, and its foot on a back that may be bowed.
  struct Thickness {
    double lower_mm = 0.0, upper_mm = 0.0;
  };
  Thickness outer_end, inner_end;
  double bears_mm = 0.0;        ///< of its width, on the case, where that is least
  Vec2 foot = Vec2::Zero();     ///< middle of its foot on the lid's back, lid shut
  Vec2 contact = Vec2::Zero();  ///< in the case's frame, lid open
  Vec2 normal = Vec2::Zero();   ///< there, from the pad into the case
  double approach_mm = 0.0;  ///< how fast it comes down there, per radian of lid angle: its force
                             ///< times this is the open lid's moment
  double Length_mm() const { return span.z_max_mm - span.z_min_mm; }
};

/// [mm] A thinner slip breaks while it is planed, a thicker one is a block in everybody's way.
inline constexpr double kThinnestPad_mm = 1.5, kThickestPad_mm = 15.0;

/// [mm] The length of a pad that need bear no more, and of the longest.
double UsualPad_mm(bool inches);
inline constexpr double kLongestPad_mm = 60.0;

using PadProof = std::function<bool(const Pad&)>;

/// Where a pad can stop the lid: for places along the lid's outline at the opening angle, as thick
/// as the room between lid and case is there, its face planed to lie on the case; where the lid
/// comes on and is flat enough to be glued to. Of those with about the largest approach (so the
/// least force) the thinnest and with most of its face on the case that `proof` accepts. It has
/// `length_mm` of the width, and there is one at each side of the box.
std::optional<Pad> FindPad(const ArmsTask& task, const LidMotion& motion, double length_mm,
                           const PadProof& proof);

/// "planed to 4 mm", or what it is at which edge and end.
std::string PlanedWords(const Pad& pad, bool inches);

/// The pad as a piece of the hinge.
HingePiece PadPiece(const Pad& pad, bool inches);

/// The pad meets the case at the opening angle, within kStopContact_mm, and is clear of it before:
/// the certified gap until kStopFree_rad before it.
Verdicts PadVerdicts(const ArmsTask& task, const Swing& swing, const Pad& pad);

/// Are all of these met, and does the pad keep the arms' gap from the case until it comes down on
/// it?
bool PadDoes(const ArmsTask& task, const Swing& swing, const Pad& pad);

}  // namespace lidwright
