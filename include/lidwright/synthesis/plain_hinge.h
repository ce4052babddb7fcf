// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/certify/certify.h"
#include "lidwright/synthesis/lid_task.h"

namespace lidwright {

/// How a single pivot fares; the first thing that fails, in the order the lid meets it.
enum class PlainOutcome {
  kWorks,
  kRimDigsIn,  ///< the rim does not part at the first degree (R4)
  kCollides,   ///< lid and case come closer than allowed while swinging
  kNoAccess,   ///< the open lid stands over the mouth
  kNoRoom,     ///< wall behind, ceiling or bench
};

/// Would a plain hinge do? Every pivot of a grid, with its outcome by the search's sampled
/// sections; the best working one is certified.
struct PlainHinge {
  bool works = false;        ///< some pivot works and is certified
  Vec2 best = Vec2::Zero();  ///< the working pivot nearest to the case's back at the ends
  Vec2 low = Vec2::Zero();   ///< grid points are low + (column, row) · step
  double step_mm = 0.0;
  int columns = 0, rows = 0;
  std::vector<PlainOutcome> map;  ///< row by row from low
};

PlainHinge MapPlainHinges(const Solid& solid, const Assembly& box, const Limits& limits,
                          const LidTask& task, int threads);

}  // namespace lidwright
