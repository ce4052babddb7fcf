// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/synthesis/lid_merit.h"
#include "lidwright/synthesis/lid_space.h"

namespace lidwright {

/// What a glance at the slices says of a linkage.
struct Glance {
  /// Σ r² / 2 of what the lid's requirements miss, in mm; infinite where the lid does not open.
  /// Not added up beyond the limit it was asked with.
  double missed = 0.0;
  double merit = kUnset;  ///< LidMerit from the slices; only where less than the limit is missed
};

/// Requirements that a search for the lid keeps besides those of LidTask.
inline constexpr double kLeastArmsSine = 0.05;   ///< [–] arms nearer to parallel hold nothing
inline constexpr double kPivotsApart_mm = 12.0;  ///< two pins of one body do not stand closer
inline constexpr double kShortestArm_mm = 12.0;  ///< nor those of one arm

/// Judges linkages by LidSpace's slices, some hundred thousand a second. Not proof of anything.
class QuickJudge {
 public:
  QuickJudge(const LidTask& task, const LidUse& use, const LidSpace& space)
      : task_(task), use_(use), space_(space) {}

  Glance At(const PivotNumbers& x, double limit) const;

  const LidTask& task() const { return task_; }
  const LidUse& use() const { return use_; }
  const LidSpace& space() const { return space_; }

 private:
  const LidTask& task_;
  const LidUse& use_;
  const LidSpace& space_;
};

}  // namespace lidwright
