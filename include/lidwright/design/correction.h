// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>

#include "lidwright/design/make_design.h"

namespace lidwright {

/// One pivot moved so that a hinge that does not do does.
struct Correction {
  Member pin = Member::kNone;  ///< which pivot
  Vec2 by = Vec2::Zero();      ///< where it sits with the lid shut [mm]
  Hinge hinge;                 ///< what comes of it, by CertifyHinge: every requirement met
};

/// The smallest move of a single pivot found that meets every requirement of the lid and lets arms
/// be routed, within `reach_mm`; nothing if none was found. Each pivot descends alone from where
/// it is, then the move is shortened by halving as long as everything is still met.
std::optional<Correction> SmallestCorrection(const BoxModel& box, const Pivots& pivots,
                                             double reach_mm = 25.0);

}  // namespace lidwright
