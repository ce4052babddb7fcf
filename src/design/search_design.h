// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "lidwright/design/make_design.h"

namespace lidwright {

/// MakeDesign's work, with what a search with other sizes of arms goes on from.
struct SearchedDesign {
  Design design;
  std::vector<Pivots> lids;   ///< HingeSearchResult::lids
  std::optional<Hinge> weak;  ///< HingeSearchResult::weak
  bool cut_short = false;     ///< HingeSearchResult::cut_short
};

/// After a search with other sizes, or before one.
struct AfterOthers {
  std::vector<Pivots> lids;   ///< HingeSearchOptions::from
  int rounds = 0;             ///< HingeSearchOptions::rounds_before
  bool thorough = true;       ///< as many rounds as if there were none
  bool ends_if_weak = false;  ///< HingeSearchOptions::ends_if_weak
};

SearchedDesign SearchDesign(const BoxModel& box, const DesignOptions& options,
                            const AfterOthers& after);

/// What a search that was cut short left out: the first hinge's accuracy, all hinges' gaps by
/// angle.
void AddRest(const BoxModel& box, int threads, Design& design);

}  // namespace lidwright
