// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/certify/certify.h"
#include "lidwright/synthesis/lid_task.h"

namespace lidwright {

/// What is left of one requirement at one spot and what holes that are off do to it, to first
/// order.
struct HoleSlope {
  double over = 0.0;      ///< left over what is asked, as designed, in the requirement's unit
  PivotNumbers per_mm{};  ///< its change per mm of each pivot number, lid shut in place
};

/// One requirement that holes can spoil, with the spots at which they may.
struct Spoilable {
  Requirement what = Requirement::kLidToCase;
  Member of = Member::kNone;
  std::vector<HoleSlope> spots;

  /// Is it missed with the pivot numbers off by `errors` [mm]?
  bool Missed(const PivotNumbers& errors) const;
};

/// Every requirement of box and hinge that errors of the holes up to `reach_mm` may spoil, but for
/// lid to case, which is looked at again in every trial build, and the opening angle, which every
/// build's own motion tells: gaps of the lid and of every part, the rim's parting, the open lid's
/// place.
///
/// A gap's slope is that of its tightest spot (the envelope theorem), by central differences of
/// the distance of the two parts there. The lid moves as the linkage that was built makes it; every
/// part of the hinge goes with the two holes of its body, which carry it: its middle as theirs and
/// turned as the line between them.
///
/// Requires a motion that reaches the opening angle; `assembly` holds the box and as many parts of
/// the hinge as there are.
std::vector<Spoilable> SpoiltByHoles(const Assembly& assembly, const LidMotion& motion,
                                     const Limits& limits, double reach_mm);

}  // namespace lidwright
