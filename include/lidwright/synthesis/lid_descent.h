// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <vector>

#include "lidwright/synthesis/arm_ways.h"
#include "lidwright/synthesis/quick_judge.h"

namespace lidwright {

/// Ways that arms and plates are to keep free, as ArmWays told them.
struct Guides {
  std::array<std::vector<Vec2>, 2> arm, plate;
};

struct DescentOptions {
  Leaning leaning;
  Guides guides;
  double reserve_mm = 0.1;  ///< every requirement is kept with this to spare
  double first_mm = 8.0;    ///< no pivot number moves farther in the first step
  int most_steps = 60;
  double least_gain = 1e-3;  ///< stop when a step promises less merit
};

enum class DescentEnd {
  kSettled,    ///< no step promises more, or none as small as a fiftieth of a millimetre helps
  kStepLimit,  ///< by most_steps; the best so far
  kBadStart,   ///< the lid does not open there; x is the start
};

struct DescentSummary {
  PivotNumbers x{};
  double merit = kUnset;      ///< leaned, from the slices
  double missed_mm = kUnset;  ///< the most that any requirement misses, the reserve included
  int steps = 0;
  DescentEnd why = DescentEnd::kBadStart;
};

/// Downhill on the merit from `start`, all requirements kept or brought about on the way. The merit
/// is a sum of largest values over the swing and the requirements are many, so that its least lies
/// in a corner where a dozen of them meet; there least squares crawl. Instead each step solves the
/// linear programme of everything's derivatives (exact where they exist) within a box that grows
/// and shrinks as the promises come true; what is missed costs kPerMissed a millimetre. Zones are
/// kept, pinned pivots stay.
DescentSummary Descend(const QuickJudge& judge, const ArmWays& ways, const PivotNumbers& start,
                       const DescentOptions& options);

/// [merit/mm] A missed millimetre costs more than any way round it gains.
inline constexpr double kPerMissed = 6.0;

}  // namespace lidwright
