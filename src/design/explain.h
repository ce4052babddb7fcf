// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "hinge_search.h"

namespace lidwright {

/// Why `found` holds no hinge: the requirement the best linkage misses and by how much, and for
/// each thing the maker could give (room behind, a smaller opening angle, a later or smaller gap, a
/// lower rim, a deeper bay or lid drop, less access) the smallest step found to let a hinge in.
NoHinge ExplainNoHinge(const BoxModel& box, const HingeSearchResult& found,
                       const DesignOptions& options);

}  // namespace lidwright
