// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "lidwright/design/make_design.h"
#include "lidwright/job/json_lines.h"

namespace lidwright {

/// The pivots as a mock-up names them, with their place in Pivots.
struct PivotName {
  const char* name;   ///< "case_a", as in hinge files
  const char* label;  ///< as on the report's drawings
  Vec2 Pivots::*at;
  Member pin;
};
const std::array<PivotName, 4>& PivotNames();
/// Null if there is none of this name.
const PivotName* FindPivot(const std::string& name);

/// Pivots to begin with, spread over their zones on the shop's grid.
Pivots PivotsToBeginWith(const BoxModel& box);

/// The point of the shop's grid next to `at`, within what a job may say.
Vec2 OnShopGrid(const Job& job, const Vec2& at);

/// The lid on these pivots, certified from scratch with all that is asked of it (CertifyLid), as a
/// page shows it: "hinge" for the report's views, "outcome", "says", "proofs".
Json LidFrame(const BoxModel& box, const Pivots& pivots);

/// The same of a hinge that was judged in all.
Json HingeFrame(const BoxModel& box, const Hinge& hinge);

/// A hinge that a search found on its way, as a small picture shows it: "hinge", "says" in a few
/// words, "does".
Json GlimpseOf(const BoxModel& box, const Hinge& hinge);

/// Clear if all are, violated if one is, else undecided.
Outcome OutcomeOf(const Verdicts& verdicts);

}  // namespace lidwright
