// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/job/job.h"
#include "lidwright/solid/solid.h"

namespace lidwright {

/// Faces that a square reaches and from which the pivots are measured, in the case's frame [mm].
struct ReachableFaces {
  double back_x_mm = 0.0;  ///< the back wall's inner face at the rim, where the end wall begins
  double rim_y_mm = 0.0;   ///< the rim over (in the lid: under) the back wall there
};

/// Those of the case. A bowed or arched box has them elsewhere than at its ends.
ReachableFaces FacesAtEnd(const Job& job, const Solid& solid);
/// Those of the lid, as it lies when shut: its back's inner face at its own rim, and that rim;
/// where a lip at the back alone reaches past the end walls, their lower edge.
ReachableFaces LidFacesAtEnd(const Job& job, const Solid& solid);

}  // namespace lidwright
