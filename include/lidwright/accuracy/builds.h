// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <string>
#include <vector>

#include "lidwright/accuracy/placement.h"
#include "lidwright/synthesis/box_parts.h"
#include "lidwright/synthesis/certificate.h"

namespace lidwright {

/// How exactly a hinge must be made.
struct Accuracy {
  double gap_mm = kUnset;  ///< certified, as designed
  std::array<double, 8>
      gap_slope{};             ///< change of the tightest gap per mm of each pivot number, in a jig
  double gap_spread = kUnset;  ///< length of that gradient: standard deviation per mm of error
  double worst_drop = kUnset;  ///< Σ |slope|: mm of gap lost per mm if every error is against it
  double seam_spread =
      kUnset;  ///< standard deviation of the shut lid's place per mm of error, by measure
  double error_it_stands_mm = kUnset;  ///< standard deviation with which 99 of 100 lids still clear

  // The trial of many builds.
  int builds = 0;
  double drill_error_mm = kUnset;
  double touching_share = kUnset;     ///< of builds whose lid touches the case
  double short_share = kUnset;        ///< of builds that miss the gap asked for
  double gap_5_percent_mm = kUnset;   ///< one build in twenty has less than this
  double seam_5_percent_mm = kUnset;  ///< by measure: one in twenty shuts farther off than this
};

struct BuildOptions {
  int builds = 10'000;
  unsigned seed = 1;
  int threads = 0;
};

/// The slopes come from the tightest spot (the envelope theorem: to first order only the spot's own
/// distance changes). The trial draws every pivot coordinate with the job's drill error, normally
/// distributed, and looks at each build's gap again: at every slab's own tightest angle and beside
/// it (not certified: no build is claimed to clear, shares are estimated). Deterministic for a seed
/// on any number of threads.
/// Requires a motion that reaches the opening angle and clears.
Accuracy AccuracyOf(const Job& job, const BoxParts& parts, const LidMotion& motion,
                    const BuildOptions& options);

}  // namespace lidwright
