// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "lidwright/synthesis/search.h"

namespace lidwright {

/// Lids on the shop's grid that a search has looked at, the most promising first.
class KnownLids {
 public:
  struct Known {
    GridLid lid;
    bool tried = false;  ///< put before the certificate
  };

  /// Those that are not known yet.
  void Keep(const std::vector<GridLid>& lids);
  std::vector<Known>& all() { return known_; }
  const std::vector<Known>& all() const { return known_; }

  /// Whether a certificate may come out well.
  static bool WorthTrying(const GridLid& lid);
  /// The first ones, and the first of those that are so far apart from each other.
  std::vector<Pivots> First(std::size_t most) const;
  std::vector<PivotNumbers> FirstApart(std::size_t most, double apart_mm) const;
  /// [mm] The larger of what a lid misses and what its arms lack of room, of the lid that has least
  /// of it: 0 if one is worth trying, infinity without lids.
  double LeastMissed_mm() const;
  /// The lid that misses least by itself.
  std::optional<Pivots> Nearest() const;

 private:
  std::vector<Known> known_;
};

}  // namespace lidwright
