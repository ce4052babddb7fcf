// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "known_lids.h"
#include "lidwright/design/merit.h"

namespace lidwright {

/// [mm] Lids whose pivots are so far from each other's are of another family.
inline constexpr double kLeanApart_mm = 12.0;

/// The descents towards each character: from the best hinge, and from the lids that promise most of
/// it among those worth trying, other families too.
std::vector<LidSearch::Leant> LeanFrom(const LidTask& task, const LidUse& use,
                                       const KnownLids& known, const PivotNumbers& best);

}  // namespace lidwright
