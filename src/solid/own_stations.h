// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/solid/solid.h"

namespace lidwright {

/// The job's own station outlines, with the end walls' solid stations added: there the section is
/// the convex hull of the outline beside it, so that a hollow section becomes its filled one.
void OwnStations(const Job& job, Solid& solid);

}  // namespace lidwright
