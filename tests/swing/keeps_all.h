// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <limits>

#include "lidwright/swing/clearance.h"

namespace lidwright::testing {

/// What several pairs keep: the first that does not, the slowest to part.
inline KeepReport KeepsClosedGap(const Motion& motion, const std::vector<PartPair>& pairs,
                                 double cap_mm) {
  KeepReport all;
  all.outcome = Outcome::kClear;
  all.separation_mm = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < pairs.size(); ++i) {
    KeepReport one = lidwright::KeepsClosedGap(motion, ShutPair(pairs[i], cap_mm));
    if (one.worst) one.worst->pair = i;
    const double slowest = std::min(all.separation_mm, one.separation_mm);
    if (one.separation_mm == slowest) all.slowest_contact = one.slowest_contact;
    if (all.kept()) {
      const Vec2 contact = all.slowest_contact;
      all = one;
      all.slowest_contact = contact;
    }
    all.separation_mm = slowest;
  }
  return all;
}

}  // namespace lidwright::testing
