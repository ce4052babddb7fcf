// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "lidwright/design/make_design.h"

namespace lidwright {

struct HingeSearchOptions {
  int threads = 0;
  /// Of the lid search while nothing is complete; 0: only what it begins from.
  int most_rounds = 8;
  /// No rounds of its own if what it begins from stays far from clearing.
  bool only_if_near = false;
  /// Go on after the first complete hinges: more rounds, characters, moves. False: it ends with the
  /// first that has all its parts, or after the round that brought the first complete ones.
  bool improve = true;
  double pin_bears_n = kUnset;  ///< as DesignOptions has it
  /// Lids that a search with other sizes of arms thought most of. What lids clear does not hang on
  /// sizes: it begins with them.
  std::vector<Pivots> from;
  int rounds_before = 0;  ///< that such searches made: the starts of these are looked at already
  int least_rounds = 3;   ///< of the lid search, of which the last brings nothing better
  /// Ends after its first rounds if they found hinges of which none does all that is required: for
  /// other sizes to be chosen by them.
  bool ends_if_weak = false;
  std::function<void(const std::string&, double)> progress;
  /// Called with each hinge that is the best so far, parts and all, between the search's steps.
  std::function<void(const Hinge&)> found;
};

struct HingeSearchResult {
  std::vector<Hinge> hinges;      ///< complete and certified, by growing merit
  std::optional<Pivots> nearest;  ///< the lid that misses least where none is complete
  std::vector<Pivots> lids;  ///< that promise most, complete or not, for HingeSearchOptions::from
  /// Of hinges with all their parts that are too weak, the one that would be clearly better than
  /// the first, did it hold, where the first does.
  std::optional<Hinge> weak;
  bool cut_short = false;  ///< it ended as HingeSearchOptions::ends_if_weak has it
  SearchRecord record;
};

/// Rounds of the lid search until they find nothing better; certificates, arms and parts in the
/// order of what the lids promise; the merit of the few that lead, and small moves of the best on
/// it. Deterministic on any number of threads.
HingeSearchResult SearchHinges(const BoxModel& box, const HingeSearchOptions& options);

/// A hinge on these pivots, certified with its arms; nothing if anything is not met.
std::optional<Hinge> Completed(const BoxModel& box, const Pivots& pivots, bool* lid_met = nullptr);

}  // namespace lidwright
