// SPDX-License-Identifier: Apache-2.0
#include "lidwright/design/block_words.h"

#include "lidwright/base/bench.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "lidwright/solid/mounting_block.h"

namespace lidwright {

std::string MountingBlockText(const MountingBlock& block, bool inches, const std::string& degrees) {
  if (!NeedsBlock(block)) return "";
  const auto length = [&](double mm) {
    return BenchText(PlanedTo_mm(mm, inches), Bench::kHole, inches);
  };
  return "Glue a mounting block to each end: in the case " + length(block.at_rim_mm) +
         " thick at the rim and " + length(block.at_floor_mm) + " at the floor, its back " +
         (block.wedge_rad > 0.0 ? "bevelled by " + Fixed(block.wedge_rad * kDegPerRad, 1) + degrees
                                : std::string("fitted to the hollow")) +
         (block.lid_mm > 0.0 ? "; in the lid " + length(block.lid_mm) + " thick" : std::string()) +
         ". So the plates stand upright and the pins run level.";
}

}  // namespace lidwright
