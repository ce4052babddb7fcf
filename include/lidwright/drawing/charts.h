// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/design/design.h"
#include "lidwright/drawing/canvas.h"

namespace lidwright {

/// Three curves over the lid's angle on one sheet, one under the other on a common axis: the gap
/// between lid and case (with the gap asked for), the lift force at the front edge (with friction
/// dashed: about to rise and about to sink), and the load of one end's pins (arm B dashed). The
/// certified least gap is marked. For print, without colour. Requires a hinge with forces. No two
/// texts overlap. Same design, same bytes.
Canvas Charts(const Design& design, const Hinge& hinge);

std::string ChartsSvg(const Design& design, const Hinge& hinge);
std::string ChartsPdf(const Design& design, const Hinge& hinge);

}  // namespace lidwright
