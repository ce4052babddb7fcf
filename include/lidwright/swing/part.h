// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/geometry/vec.h"
#include "lidwright/linkage/lid_motion.h"

namespace lidwright {

/// A solid fixed to a body over an interval of z: the ruled solid between the rings at its two
/// ends. Corresponding vertices are joined by straight lines along z, so a part with the same rings
/// at both ends is a prism. Rings stand in the case's frame with the lid shut, z across the width.
struct Part {
  std::string name;
  Body body = Body::kCase;
  double z_min_mm = 0.0;
  double z_max_mm = 0.0;
  std::vector<Ring> at_z_min;
  std::vector<Ring> at_z_max;  ///< same vertex counts as at_z_min
  double error_mm = 0.0;       ///< the true surface stands at most this far outside the ruled one
  bool end_wall = false;       ///< of case or lid: across an end wall of the box, not between them
};

/// A prism.
Part MakePrism(std::string name, Body body, double z_min_mm, double z_max_mm,
               std::vector<Ring> rings, double error_mm = 0.0);

/// Do the z intervals overlap in more than a point?
inline bool Overlap(const Part& p, const Part& q) {
  return p.z_min_mm < q.z_max_mm && q.z_min_mm < p.z_max_mm;
}

}  // namespace lidwright
