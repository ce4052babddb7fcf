// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "hinge_search.h"

namespace lidwright {

/// Why `found` holds no hinge: the requirement the best linkage misses and by how much, and of up
/// to three things the maker could give (room behind, a smaller opening angle, a smaller gap, a
/// lower rim, a deeper lid drop, less access, plates, thinner arms) the smallest step with which a
/// search finds one. More than the smallest may be told, as a search can miss what is there.
NoHinge ExplainNoHinge(const BoxModel& box, const HingeSearchResult& found,
                       const DesignOptions& options);

}  // namespace lidwright
