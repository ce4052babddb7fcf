// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>

#include "lidwright/synthesis/quick_judge.h"

namespace lidwright {

/// Of many lids that are built on given pivots, the shares that miss something.
struct BuildShares {
  double gap = 0.0;   ///< the gap to the case that is asked for
  double room = 0.0;  ///< wall, ceiling, bench or access
  double Most() const { return std::min(1.0, gap + room); }  ///< as if none missed both
};

/// By trial, to first order: every pivot number is off by LidUse::drill_error_mm (standard
/// deviation), the arms are fitted in place, and at each of the close slices gap and room follow
/// their slopes. The same errors are tried for all pivots, so that what is compared differs by the
/// pivots alone; with 512 of them a share of one in twenty is good to a fifth of itself.
/// Requires pivots that open.
BuildShares SharesThatMiss(const QuickJudge& judge, const PivotNumbers& x);

}  // namespace lidwright
