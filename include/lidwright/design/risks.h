// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/design/design.h"

namespace lidwright {

/// How bad it is: somebody is hurt or the hinge breaks in use; it can be, if the box is not used as
/// it should; wood is spoiled.
enum class RiskLevel { kDanger, kCare, kWaste };

/// Something that a finished hinge may do to its box or its user, and what helps, each in a
/// sentence that somebody without mechanics knows.
struct Risk {
  RiskLevel level = RiskLevel::kCare;
  std::string text;
  std::string remedy;
};

/// "danger", "care", "waste": the levels are told by word.
const char* NameOf(RiskLevel level);

/// Do more than two of 100 builds rub or not open, drilled as the shop drills? What clears as drawn
/// is then no answer by itself.
bool ManyBuildsFail(const Hinge& hinge);

/// The angle past which the lid, let go, falls open; nothing if it never does.
std::optional<double> FallsOpenFrom_rad(const Feel& feel);

/// What a lid that falls open comes to rest on: "onto its stop", "until its stays are taut".
std::string OntoWhat(const Hinge& hinge);

/// A hinge's risks, the worst first, kMostRisks at most: a requirement missed, builds that rub or
/// do not open, a part that breaks, a lid that falls, a box that tips, what breaks it where it does
/// not, fingers, and how many builds miss something else. A hinge without forces has those that
/// need none. Forces are told as weights, rounded down.
std::vector<Risk> RisksOf(const Design& design, const Hinge& hinge);

inline constexpr std::size_t kMostRisks = 3;

}  // namespace lidwright
