// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <Eigen/Core>
#include <vector>

namespace lidwright {

/// A point or a vector of the side view [mm]: x from the back to the front, y up.
using Vec2 = Eigen::Vector2d;

/// A closed polygon without a repeated last vertex. Solid lies to the left of its edges: outer
/// rings run counter-clockwise, holes clockwise.
using Ring = std::vector<Vec2>;

/// z component of a × b.
template <typename T>
T Cross(const Eigen::Matrix<T, 2, 1>& a, const Eigen::Matrix<T, 2, 1>& b) {
  return a.x() * b.y() - a.y() * b.x();
}

/// z × v: the vector turned a quarter counter-clockwise.
template <typename T>
Eigen::Matrix<T, 2, 1> Perp(const Eigen::Matrix<T, 2, 1>& v) {
  return {-v.y(), v.x()};
}

}  // namespace lidwright
