// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/design/design.h"

namespace lidwright {

/// Everything of a design as JSON: "format": "lidwright hinge 1", lengths in millimetres in the
/// case's frame, angles in degrees, what is not known as null. The best hinge's "pivots" and "arms"
/// stand at the top, so that ReadPivots takes the file back to the last bit; all hinges stand under
/// "hinges". Same design, same bytes.
std::string WriteHingeJson(const Design& design);

}  // namespace lidwright
