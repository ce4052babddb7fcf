// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <limits>
#include <vector>

#include "lidwright/synthesis/lid_space.h"

namespace lidwright {

/// A way for an arm, or for a plate that carries a lid pivot, through what is free over the swing.
struct ArmWay {
  double lacks_mm = 0.0;  ///< the most that half its width and its gap want of the room, or its
                          ///< corners of the least radius; 0: it is free all along
  double crooked = 1.0;   ///< an arm's: its length over the straight one's
  /// An arm's: how many times the stress of a straight one it has where it is farthest aside of its
  /// pivots' line, 1 + 6 e / w for a bar w wide that is pulled e beside its middle.
  double bend = 1.0;
  /// Places along it a centimetre apart. An arm's: (along, across) in lengths of the arm, from its
  /// case pivot to its lid pivot, so that they move with the pivots. A plate's: mm from its pivot.
  std::vector<Vec2> places;
};

/// Whether straps can be led from pivot to pivot past case, lid, contents and room (R3), as
/// quickly as a search needs it: wide meshes, the slices' angles. No proof, no outline.
class ArmWays {
 public:
  ArmWays(const Job& job, const LidSpace& space);

  /// Arm 0 or 1. Lacks more than any room where the lid does not open. Ways that lack more than
  /// `most_lack_mm` are not looked for: where there is no other, it lacks the most that is told.
  ArmWay Arm(const PivotNumbers& x, std::size_t arm, double most_lack_mm = kAny_mm) const;

  /// From a lid pivot to where the lid's end wall can hold a plate; nothing lacks where the job's
  /// lid pins go straight into the wood.
  ArmWay Plate(const PivotNumbers& x, std::size_t arm, double most_lack_mm = kAny_mm) const;

  /// What the arms want of room to each side of their middle, and plates.
  double arm_need_mm() const { return arm_need_mm_; }
  double plate_need_mm() const { return plate_need_mm_; }
  double pin_mm() const { return pin_mm_; }  ///< half of a pin's spacer

  static constexpr double kAny_mm = std::numeric_limits<double>::infinity();
  static constexpr double kPlateHold_mm = 4.0;  ///< a plate reaches so far into the end wall

 private:
  const LidSpace& space_;
  double arm_need_mm_, arm_width_mm_, plate_need_mm_, pin_mm_;
  double neck_mm_ = 0.0, least_radius_mm_ = 0.0;
  bool plates_ = true;
};

}  // namespace lidwright
