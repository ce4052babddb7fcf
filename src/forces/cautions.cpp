// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/cautions.h"

#include <algorithm>
#include <array>

#include "lidwright/base/check.h"

namespace lidwright {
namespace {

constexpr double kChestRoom_mm3 = 0.031e9;
// [mm] Bounds between the kinds of FingerGap, check rods and ISO 13854 (all READ).
constexpr std::array<double, 3> kBounds_mm{5.0, 12.0, 25.0};

}  // namespace

const std::vector<Caution>& ForceCautions() {
  static const std::vector<Caution> kCautions{
      {"strength",
       "Strengths are means of clear wood and low ends of sheets as read, not of your board: "
       "knots, "
       "slanting grain, damp and age take more than half away. Break a spare arm before you trust "
       "one.",
       "USDA Wood Handbook, Table 5-3a; handbooks of metals"},
      {"strength",
       "Nothing here counts glue lines, screws driven twice, end grain, or wood that moves over "
       "the "
       "seasons.",
       ""},
      {"strength",
       "Forces are at rest. A lid that is dropped, slammed open or carried by loads its pins "
       "several "
       "times as hard.",
       ""},
      {"strength",
       "Pins are reckoned to bend as one beam held by what they are pressed into; a loose fit "
       "bends "
       "them more.",
       ""},
      {"children",
       "Children have been killed by falling lids of chests. Chests that children can reach have "
       "rules of their own: the support must hold the lid wherever it is let go, by a spring, "
       "without adjustment; friction is not accepted. A hinge that holds open by its balance alone "
       "does not meet them. Leave air holes, and no latch.",
       "CPSC releases and advice; ASTM F834, F2598, F963 (by scope)"},
      {"fingers",
       "Where gap and angle close together a finger can be caught: between lid and case behind, "
       "between the arms, and at the rim. Gaps under 25 mm can crush a finger; toy rules want a "
       "hinge line that a 5 mm rod cannot enter, or a 12 mm (in America 13 mm) rod can, at every "
       "angle.",
       "ISO 13854; EN 71-1 4.10.3; ASTM F963 4.18.1"},
      {"tipping",
       "The open lid hangs behind the box. Keep it from hands that lean on it, load the box from "
       "the "
       "bottom, and fix a light box to what it stands on. The bench is taken as level and rough.",
       ""},
      {"codes",
       "These numbers help to judge a box; they certify nothing. Local codes go before them, and "
       "furniture that carries people belongs to a licensed engineer.",
       ""},
  };
  return kCautions;
}

bool ChestRulesMayApply(double room_mm3) {
  return room_mm3 >= kChestRoom_mm3;
}

FingerGap FingerGapOf(double gap_mm) {
  if (gap_mm <= kBounds_mm[0]) return FingerGap::kTooNarrow;
  if (gap_mm < kBounds_mm[1]) return FingerGap::kTrap;
  return gap_mm < kBounds_mm[2] ? FingerGap::kToyFree : FingerGap::kFree;
}

std::vector<FingerStretch> FingerStretches(const std::vector<double>& theta_rad,
                                           const std::vector<double>& gap_mm) {
  LW_REQUIRE(theta_rad.size() == gap_mm.size() && !gap_mm.empty(),
             "angles=" << theta_rad.size() << " gaps=" << gap_mm.size());
  std::vector<FingerStretch> stretches;
  const auto add = [&](double from, double to, double middle_gap) {
    const FingerGap kind = FingerGapOf(middle_gap);
    if (!stretches.empty() && stretches.back().gap == kind) {
      stretches.back().to_rad = to;
    } else if (to > from || stretches.empty()) {
      stretches.push_back({kind, from, to});
    }
  };
  add(theta_rad[0], theta_rad[0], gap_mm[0]);
  for (std::size_t i = 0; i + 1 < gap_mm.size(); ++i) {
    const double g0 = gap_mm[i], g1 = gap_mm[i + 1], t0 = theta_rad[i], t1 = theta_rad[i + 1];
    LW_REQUIRE(t1 > t0, "theta=" << t1);
    std::vector<double> cuts{0.0, 1.0};
    for (const double bound : kBounds_mm) {
      if ((g0 - bound) * (g1 - bound) < 0.0) cuts.push_back((bound - g0) / (g1 - g0));
    }
    std::sort(cuts.begin(), cuts.end());
    for (std::size_t k = 0; k + 1 < cuts.size(); ++k) {
      const double middle = (cuts[k] + cuts[k + 1]) / 2.0;
      add(t0 + cuts[k] * (t1 - t0), t0 + cuts[k + 1] * (t1 - t0), g0 + middle * (g1 - g0));
    }
  }
  // A first sample that stands on a bound alone makes no stretch.
  if (stretches.size() > 1 && stretches[0].to_rad == stretches[0].from_rad) {
    stretches.erase(stretches.begin());
  }
  return stretches;
}

}  // namespace lidwright
