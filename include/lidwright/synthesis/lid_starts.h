// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "lidwright/base/low_discrepancy.h"
#include "lidwright/synthesis/lid_space.h"

namespace lidwright {

/// Linkages to begin a search with, numbered. The open pose comes first: one where the open lid
/// clears case and room; then two lid pivots, and a case pivot for each on the perpendicular
/// bisector of its shut and its open place. So every start reaches an open pose that is allowed,
/// whatever family it belongs to, and nothing is wasted on the others. Pinned pivots stay where
/// they are and others are drawn in their zones.
class LidStarts {
 public:
  LidStarts(const LidTask& task, const LidSpace& space);

  /// The start of a number; nothing where a bisector misses the case pivots' zone or the arms would
  /// be too short. Depends on the task's seed and the number alone.
  std::optional<PivotNumbers> At(std::uint64_t number) const;

  /// Places of the open lid's frame that are allowed, a few millimetres apart: none, no start.
  const std::vector<Vec2>& open_places() const { return open_; }

 private:
  PivotNumbers Anywhere(const std::array<double, 8>& unit) const;

  const LidTask& task_;
  std::vector<Vec2> open_;  // by growing room that the lid takes
  bool pinned_ = false;
  LowDiscrepancy<8> points_;
};

}  // namespace lidwright
