// SPDX-License-Identifier: Apache-2.0
#include "lidwright/solid/mounting_block.h"

#include <cmath>

#include "lidwright/base/bench.h"

namespace lidwright {

bool NeedsBlock(const MountingBlock& block) {
  return block.at_rim_mm > 0.0 || block.at_floor_mm > 0.0 || block.lid_mm > 0.0;
}

double PlanedTo_mm(double thickness_mm, bool inches) {
  const BenchRule& rule = kBenchRules[static_cast<std::size_t>(Bench::kRoom)];
  const double steps = inches ? rule.steps_per_inch / kMmPerInch : rule.steps_per_mm;
  return std::round(steps * thickness_mm) / steps;
}

}  // namespace lidwright
