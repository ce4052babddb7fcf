// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <vector>

#include "reference/dyads.h"
#include "reference/multi_start.h"

namespace lidwright {

/// Linkages on two given fixed pivots whose coupler point passes through given points at free crank
/// angles and free coupler angles: both arms as dyads (moving pivots at the first point) and the
/// coupler's turn at each point since the first.
struct PlacedPath {
  Dyad a, b;
  std::vector<double> turn_rad;  ///< turn_rad[0] = 0
};

/// The task as least squares. Parameters: the moving pivots of a and of b relative to the coupler
/// point at the first point (x, y each), then the turns at the other points. Residuals: for each of
/// those and each arm (|arm now|² − |arm at first|²) / 2, over the size of the task.
LeastSquaresProblem FixedPivotProblem(const Vec2& fixed_a, const Vec2& fixed_b,
                                      const std::vector<Vec2>& points);

/// All different solutions that descents from seeded starts run into (with five points there are
/// finitely many: A. P. Morgan & C. W. Wampler, J. Mech. Design 112, 1990). Solutions: both lengths
/// are the same at all points to 1e-10 of the points' size. Sorted by the first turn.
/// Requires at least two points.
std::vector<PlacedPath> SolveFixedPivots(const Vec2& fixed_a, const Vec2& fixed_b,
                                         const std::vector<Vec2>& points, std::uint64_t seed,
                                         const MultiStartOptions& options);

}  // namespace lidwright
