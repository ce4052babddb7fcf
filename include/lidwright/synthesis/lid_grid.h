// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/synthesis/arm_ways.h"
#include "lidwright/synthesis/quick_judge.h"

namespace lidwright {

/// A lid on pivots of the shop's grid, looked at closely.
struct GridLid {
  PivotNumbers x{};
  double merit = kUnset;      ///< LidMerit, the worst over the swing at steps of a degree
  double missed_mm = kUnset;  ///< the most that a requirement misses; exact gaps, 2 degrees apart
  double lacks_mm = kUnset;   ///< the most that arms and plates want of room, by ArmWays
  double builds = kUnset;     ///< share of builds that miss something (SharesThatMiss)
  double crooked = kUnset;    ///< both arms' ways over the straight ones
  double bend = kUnset;       ///< the larger of both ways' (ArmWay)
};

/// What a lid is worth in a search, less is better: its merit, and what it misses and lacks.
double ValueOf(const GridLid& lid);

/// All of GridLid for pivots as they are.
GridLid LookClosely(const QuickJudge& judge, const ArmWays& ways, const PivotNumbers& x);

/// The best lid on the grid near `x`: from the nearest grid points by moves of one, two and four
/// steps of one number or some, as long as one gains; what is missed, or lacks for arms, comes
/// first. Pinned pivots stay, zones are kept; `leaning` weighs while it looks, the answer has the
/// plain merit. Deterministic for its seed.
GridLid OnGrid(const QuickJudge& judge, const ArmWays& ways, const PivotNumbers& x, double grid_mm,
               std::uint64_t seed, const Leaning& leaning = {});

/// The same near each of several, which then are compared: after the first rounds, that gain the
/// most, only those go on that are not far behind the best of all.
std::vector<GridLid> OnGrid(const QuickJudge& judge, const ArmWays& ways,
                            const std::vector<PivotNumbers>& all, double grid_mm,
                            std::uint64_t seed, int threads);

/// [mm] What ways' wide meshes leave undecided counts as room enough.
inline constexpr double kEnoughRoom_mm = 0.3;

}  // namespace lidwright
