// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "lidwright/design/make_design.h"

namespace lidwright {

struct HingeSearchOptions {
  int threads = 0;
  long seeds = 400'000;
  int keep = 48;
  int angles = 13;
  bool polish = true;  ///< descend again from the complete ones towards each character
  Favour favour;
  std::function<void(const std::string&, double)> progress;
};

struct HingeSearchResult {
  std::vector<Hinge> hinges;    ///< complete and certified, all of them
  std::vector<Candidate> lids;  ///< what the lid search gave, least violation first
  SearchRecord record;
};

/// Lid search, snapping to the grid, certificates, arms. Deterministic.
HingeSearchResult SearchHinges(const BoxModel& box, const HingeSearchOptions& options);

/// A candidate on the shop's grid, certified with its arms; nothing if anything is not met. Where
/// plain rounding to the grid fails, the neighbouring grid points of one pivot are tried.
std::optional<Hinge> Completed(const BoxModel& box, const Candidate& candidate, bool* lid_met);

}  // namespace lidwright
