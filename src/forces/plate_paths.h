// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/forces/plate_legs.h"

namespace lidwright {

/// Ways within a plate, on a lattice of points inside its outline.
class PlateWays {
 public:
  explicit PlateWays(const PlateBody& plate);
  /// From a point to the nearest of the plate's screws (by the way itself), both ends included, at
  /// most half a millimetre between points: near the middle line, since steps cost more the nearer
  /// they are to an edge. A straight line where the lattice has no way.
  std::vector<Vec2> ToScrew(const Vec2& from) const;

 private:
  Vec2 At(std::size_t i) const;
  std::size_t Nearest(const Vec2& p) const;
  void WaysFrom(std::size_t from, std::vector<std::size_t>& before,
                std::vector<double>& length) const;

  std::vector<Vec2> screws_;
  Vec2 low_ = Vec2::Zero();
  int columns_ = 0, rows_ = 0;
  std::vector<double> clear_;  // to the edge, negative outside
};

}  // namespace lidwright
