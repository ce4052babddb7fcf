// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "lidwright/design/make_design.h"

namespace lidwright {

/// One pivot moved so that a hinge that does not clear does.
struct Correction {
  Member pin = Member::kNone;  ///< which pivot
  Vec2 by = Vec2::Zero();      ///< where it sits with the lid shut [mm]
  Hinge hinge;  ///< what comes of it, by JudgeHinge: it clears with all parts; Does tells whether
                ///< it holds as well
};

struct CorrectionOptions {
  double reach_mm = 25.0;  ///< how far a pivot may be moved, whatever the direction
  int threads = 0;         ///< 0: as many as the machine has; results do not depend on it
  /// Called between steps with the share done; what it throws ends the search.
  std::function<void(double)> progress;
};

enum class CorrectionEnd {
  kFound,
  kClearsAlready,  ///< nothing is in the way: what is not met is strength, which no move is sought
                   ///< for
  kNoneFound,      ///< none of the moves tried mends it
};

struct CorrectionSearch {
  CorrectionEnd end = CorrectionEnd::kNoneFound;
  std::optional<Correction> found;
  double reach_mm = kUnset;  ///< how far a pivot might be moved
};

/// The smallest move of a single pivot found, within the reach, with which lid, arms and all other
/// parts clear, a stay given where it needs one: as `check` judges it. Each pivot descends alone
/// from where it is, and is tried on rings around its place that are nearer than what was found;
/// each move is shortened by halving as long as everything is still met. No proof that there is no
/// smaller one.
CorrectionSearch SmallestCorrection(const BoxModel& box, const Pivots& pivots,
                                    const CorrectionOptions& options = {});

}  // namespace lidwright
