// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/arms/shop_sheets.h"

namespace lidwright {

/// A twist drill as sold.
struct Drill {
  std::string name;  ///< "3.9 mm", "5/64 in", "#43"
  double diameter_mm;
};

/// Growing. Metric: 0.5 to 13 mm by tenths (sets in every shop; standards go finer, READ). Inch:
/// 1/64 to 1/2 in by 64ths and the number drills #80 to #1 (from memory; nine of them READ); of two
/// that are equal within a hundredth of a millimetre the fraction.
const std::vector<Drill>& Drills(bool inch);

/// The largest drill not over a diameter, the smallest not under it, and the nearest, of those the
/// maker has; nothing if there is none. Diameters agree within kSameDrill_mm.
std::optional<Drill> DrillAtMost(double diameter_mm, bool inch, const ShopHas& has = {});
std::optional<Drill> DrillAtLeast(double diameter_mm, bool inch, const ShopHas& has = {});
std::optional<Drill> NearestDrill(double diameter_mm, bool inch, const ShopHas& has = {});

/// [mm] Sizes nearer than this are one drill: less than a drill's own tolerance.
inline constexpr double kSameDrill_mm = 0.01;

}  // namespace lidwright
