// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/design/design.h"

namespace lidwright {

/// Everything of a design as JSON: "format": "lidwright hinge 2", lengths in millimetres in the
/// case's frame with the lid shut, angles in degrees, what is not known or has no limit as null.
/// The best hinge's "pivots" and "arms" stand at the top, so that ReadPivots takes the file back to
/// the last bit; all hinges stand under "hinges", or "none" says why there is none. "job" is the
/// whole job as a job file (write_job.h), alone in the maker's unit. "plain_hinge"."map" has a row
/// of letters for each y from "low" upwards: + works, r the rim digs in, c collides, a stands over
/// the mouth, b no room. Same design, same bytes.
std::string WriteHingeJson(const Design& design);

/// A small file for what was built: the first hinge's pivots in the maker's unit, to be overwritten
/// with measured ones, and the job with the sizes that were cut, so that ReadPivots has them
/// judged with those. Requires a hinge.
std::string WriteBuiltJson(const Design& design);

}  // namespace lidwright
