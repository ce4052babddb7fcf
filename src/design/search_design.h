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
};

/// After a search with other sizes.
struct AfterOthers {
  std::vector<Pivots> lids;  ///< HingeSearchOptions::from
  bool thorough = true;      ///< as many rounds as if there were none
};

SearchedDesign SearchDesign(const BoxModel& box, const DesignOptions& options,
                            const AfterOthers& after);

}  // namespace lidwright
