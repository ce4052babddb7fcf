// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <vector>

#include "lidwright/synthesis/lid_cost.h"

namespace lidwright {

struct SearchOptions {
  long seeds = 400'000;  ///< linkages drawn in the zones
  int keep = 48;         ///< the least violating ones, apart from each other, that are refined
  int angles = 13;       ///< angles sampled by the refinement
  int threads = 0;       ///< 0: as many as the machine has; the result does not depend on it
  Favour favour;
  /// Called now and then with the share done, 0…1; from any thread, one call at a time.
  std::function<void(double)> progress;
};

/// A linkage that meets the lid's requirements at the samples, to be certified.
struct Candidate {
  Pivots pivots;
  double violation = kUnset;  ///< Σ r² / 2 of the requirements at the samples; 0 if all are met
  double play_factor = kUnset;
  double lift_factor = kUnset;
  double arms_mm = kUnset;  ///< both arms' length
  double reach_behind_mm = kUnset;
};

struct SearchSummary {
  std::vector<Candidate> candidates;  ///< by growing violation, then arms' length
  long seeds = 0;                     ///< drawn
  long moving = 0;                    ///< of them: right first motion and range
  long promising = 0;                 ///< of them: open pose and sampled gaps not hopeless
  long refined = 0;                   ///< of them: refined
};

/// Draws low-discrepancy linkages in the zones, throws out by the cheapest test first (first
/// motion, range, open pose, sampled gaps) and refines the best by least squares. Deterministic for
/// a task and its seed, on any number of threads.
SearchSummary FindLinkages(const LidTask& task, const SearchOptions& options);

/// One more descent from given pivots with another favour.
Candidate Refine(const LidTask& task, const Pivots& start, const Favour& favour, int angles);

/// Fills the figures of a candidate from its pivots.
Candidate Assess(const LidTask& task, const Pivots& pivots);

/// Pivots moved to the nearest multiples of `grid_mm`, pinned ones excepted.
Pivots Snapped(const LidTask& task, const Pivots& pivots, double grid_mm);

/// Largest distance of corresponding pivots, the arms taken in the better order.
double Apart_mm(const Pivots& p, const Pivots& q);

}  // namespace lidwright
