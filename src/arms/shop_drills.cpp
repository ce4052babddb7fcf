// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/shop_drills.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "lidwright/base/numbers.h"

namespace lidwright {
namespace {

// [in/10000] Number drills from #1 to #80.
constexpr std::array<int, 80> kNumbered{
    2280, 2210, 2130, 2090, 2055, 2040, 2010, 1990, 1960, 1935, 1910, 1890, 1850, 1820, 1800, 1770,
    1730, 1695, 1660, 1610, 1590, 1570, 1540, 1520, 1495, 1470, 1440, 1405, 1360, 1285, 1200, 1160,
    1130, 1110, 1100, 1065, 1040, 1015, 995,  980,  960,  935,  890,  860,  820,  810,  785,  760,
    730,  700,  670,  635,  595,  550,  520,  465,  430,  420,  410,  400,  390,  380,  370,  360,
    350,  330,  320,  310,  292,  280,  260,  250,  240,  225,  210,  200,  180,  160,  145,  135};

std::vector<Drill> MakeMetric() {
  std::vector<Drill> drills;
  for (int tenths = 5; tenths <= 130; ++tenths) {
    drills.push_back({Text(tenths / 10.0) + " mm", tenths / 10.0});
  }
  return drills;
}

std::vector<Drill> MakeInch() {
  std::vector<Drill> drills;
  for (int n = 1; n <= 32; ++n) {
    const double mm = n * kMmPerInch / 64.0;
    drills.push_back({InchFraction(mm) + " in", mm});
  }
  const std::vector<Drill> fractions = drills;
  for (std::size_t i = 0; i < kNumbered.size(); ++i) {
    const double mm = kNumbered[i] * kMmPerInch / 10000.0;
    const bool known = std::any_of(fractions.begin(), fractions.end(), [&](const Drill& d) {
      return std::abs(d.diameter_mm - mm) < kSameDrill_mm;
    });
    if (!known) drills.push_back({"#" + std::to_string(i + 1), mm});
  }
  std::sort(drills.begin(), drills.end(),
            [](const Drill& a, const Drill& b) { return a.diameter_mm < b.diameter_mm; });
  return drills;
}

bool Has(const ShopHas& has, const Drill& drill) {
  return has.drills_mm.empty() ||
         std::any_of(has.drills_mm.begin(), has.drills_mm.end(),
                     [&](double mm) { return std::abs(mm - drill.diameter_mm) < kSameDrill_mm; });
}

}  // namespace

const std::vector<Drill>& Drills(bool inch) {
  static const std::vector<Drill> kMetric = MakeMetric(), kInch = MakeInch();
  return inch ? kInch : kMetric;
}

std::optional<Drill> DrillAtMost(double diameter_mm, bool inch, const ShopHas& has) {
  std::optional<Drill> best;
  for (const Drill& drill : Drills(inch)) {
    if (drill.diameter_mm <= diameter_mm + kSameDrill_mm && Has(has, drill)) best = drill;
  }
  return best;
}

std::optional<Drill> DrillAtLeast(double diameter_mm, bool inch, const ShopHas& has) {
  for (const Drill& drill : Drills(inch)) {
    if (drill.diameter_mm >= diameter_mm - kSameDrill_mm && Has(has, drill)) return drill;
  }
  return std::nullopt;
}

std::optional<Drill> NearestDrill(double diameter_mm, bool inch, const ShopHas& has) {
  std::optional<Drill> best;
  for (const Drill& drill : Drills(inch)) {
    if (!Has(has, drill)) continue;
    if (!best ||
        std::abs(drill.diameter_mm - diameter_mm) < std::abs(best->diameter_mm - diameter_mm)) {
      best = drill;
    }
  }
  return best;
}

}  // namespace lidwright
