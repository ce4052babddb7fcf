// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/solid/solid.h"
#include "lidwright/swing/clearance.h"

namespace lidwright {

/// Case and lid as ruled slabs between neighbouring stations, and what stands around the box, ready
/// for the one clearance checker.
struct BoxParts {
  std::vector<ShapedPart> case_slabs;
  std::vector<ShapedPart> lid_slabs;
  std::vector<ShapedPart> limits;  ///< wall behind and ceiling, where the job has them
  std::vector<ShapedPart> bench;   ///< the bench, if it goes on behind the box
  std::vector<ShapedPart> contents;
};

/// In mirror-image boxes only z ≥ 0 is made. The slabs' error_mm is the solid's blend error, plus
/// for the lid its chord error. Contents that do not reach over z ≥ 0 are mirrored there too.
BoxParts MakeBoxParts(const Job& job, const Solid& solid);

}  // namespace lidwright
