// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>

#include "lidwright/design/make_design.h"
#include "lidwright/synthesis/lid_merit.h"

namespace lidwright::bench {

struct BruteOptions {
  long draws = 40'000'000;  ///< a hundred times what the first search drew
  int descents = 160;       ///< of the best that look clear
  int completed = 40;       ///< complete hinges that are looked for among them …
  int tried = 400;          ///< … at most so many times
  int climbs = 12;          ///< of the best complete ones, each move certified
  unsigned seed = 1;
  int threads = 0;
};

struct BruteAnswer {
  std::optional<Pivots> pivots;  ///< of the best certified hinge with arms, on the shop's grid
  double merit = kUnset;         ///< LidMerit of those
  long looked_clear = 0;         ///< draws without a fault at sampled angles
  long complete = 0;             ///< certified hinges on the way
};

/// The hinge of least merit by force: uniform draws in the zones, sorted by a plain sampled check
/// of its own; Nelder–Mead on the merit of those that look clear (on what they miss where too few
/// do); then certificate and arms, and moves on the shop's grid, every one certified. It shares
/// with the program the motion, the certificate, the arms and the merit's formula, and nothing of
/// any search. Deterministic for its seed.
BruteAnswer BruteForce(const BoxModel& box, const BruteOptions& options);

}  // namespace lidwright::bench
