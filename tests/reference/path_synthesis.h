// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "reference/four_bar.h"
#include "reference/multi_start.h"

/// Four-bars whose coupler point passes through given points: the published benchmark of linkage
/// synthesis. It runs on the same least-squares core as the search for a hinge, so that what it
/// reaches here says how strong that core is.
///
/// The traced point is P = origin + R(tilt) (crank e^{iθ2} + point · e^{iθ3}), angles from the
/// ground line, always on the open branch; the error is the sum of squared distances to the
/// targets.
namespace lidwright {

enum class PathTiming {
  kPrescribed,  ///< the crank angle of every target is given
  kOffsets,     ///< given up to the angle of the first target
  kFree,        ///< each target has a crank angle of its own
};

struct PathLimits {
  double low, high;
};

struct PathTask {
  std::vector<Vec2> targets;
  PathTiming timing = PathTiming::kFree;
  std::vector<double> crank_rad;        ///< one for each target (kPrescribed, kOffsets); else empty
  bool in_place = false;                ///< origin and tilt are 0 instead of unknown
  PathLimits lengths{0.0, 50.0};        ///< of every link [mm]
  PathLimits coordinates{-50.0, 50.0};  ///< of the coupler point and the origin [mm]
};

struct PathDesign {
  TracingFourBar linkage;
  std::vector<double> crank_rad;  ///< for each target, from the ground line
};

/// Σ |P − target|² [mm²]; nothing if the linkage cannot be closed at one of its crank angles.
std::optional<double> PathError(const std::vector<Vec2>& targets, const PathDesign& design);

/// The design with each crank angle replaced by the one that brings the point nearest to its
/// target: every angle of a fine grid, then refined. For scoring linkages whose timing is not
/// given. Requires a linkage that closes somewhere.
PathDesign WithBestTiming(const std::vector<Vec2>& targets, const TracingFourBar& linkage);

/// The task as least squares. Parameters: ground, crank, coupler, rocker, point x, y; then origin
/// x, y and tilt unless in_place; then no, one or all crank angles. Residuals: P − target, x and y.
LeastSquaresProblem PathProblem(const PathTask& task);

/// Parameters to design and back.
PathDesign DesignOf(const PathTask& task, const std::vector<double>& x);
std::vector<double> ParametersOf(const PathTask& task, const PathDesign& design);

struct PathOptions {
  std::uint64_t seed = 1;
  MultiStartOptions many;
};

struct PathSummary {
  PathDesign design;
  double error = 0.0;  ///< Σ |P − target|²
  std::size_t started = 0, hits = 0;
};

/// The best design found from seeded random linkages of the targets' size, each first moved, turned
/// and scaled to where its curve fits best. Nothing if none of them closes at its crank angles.
std::optional<PathSummary> SolvePath(const PathTask& task, const PathOptions& options);

}  // namespace lidwright
