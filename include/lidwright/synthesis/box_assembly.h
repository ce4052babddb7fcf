// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/certify/certify.h"
#include "lidwright/solid/solid.h"

namespace lidwright {

/// Case and lid as ruled slabs between neighbouring stations, what stands around the box (wall
/// behind, ceiling, bench, where the job has them) and what it holds, ready for the certifier.
/// In mirror-image boxes only z ≥ 0 is made. The slabs' error_mm is the solid's blend error and
/// chord error. Contents that do not reach over z ≥ 0 are mirrored there too.
Assembly BoxAssembly(const Job& job, const Solid& solid);

/// The numbers of a job that its hinge is held to.
Limits LimitsOf(const Job& job, const Solid& solid);

}  // namespace lidwright
