// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "trace/mesh_cuts.h"

namespace lidwright {

/// One part's outlines at each cut of a stretch, with the same number of rings and vertices
/// throughout, vertex k of one going on in vertex k of the next: as few vertices as keep every
/// section's outline within `error_mm` of the section. Rings may then be blended straight.
std::vector<std::vector<Ring>> Unified(const MeshStretch& stretch, std::size_t part,
                                       double error_mm);

}  // namespace lidwright
