// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <catch2/catch.hpp>

#include "lidwright/forces/cautions.h"

using namespace lidwright;

TEST_CASE("gaps are told apart by the rods of the toy rules and by ISO 13854's finger") {
  // READ: EN 71-1 4.10.3 a 5 mm rod, then a 12 mm rod; ISO 13854 finger 25 mm.
  CHECK(FingerGapOf(0.0) == FingerGap::kTooNarrow);
  CHECK(FingerGapOf(5.0) == FingerGap::kTooNarrow);
  CHECK(FingerGapOf(5.01) == FingerGap::kTrap);
  CHECK(FingerGapOf(11.99) == FingerGap::kTrap);
  CHECK(FingerGapOf(12.0) == FingerGap::kToyFree);
  CHECK(FingerGapOf(24.9) == FingerGap::kToyFree);
  CHECK(FingerGapOf(25.0) == FingerGap::kFree);
}

TEST_CASE("stretches of the swing by gap are joined and cut where the gap passes a bound") {
  // 0 → 30 mm over one radian in unequal samples of a straight line: bounds at 1/6, 0.4, 5/6.
  const std::vector<double> theta{0.0, 0.1, 0.35, 0.9, 1.0};
  std::vector<double> gap;
  for (const double t : theta) gap.push_back(30.0 * t);
  const auto stretches = FingerStretches(theta, gap);
  REQUIRE(stretches.size() == 4);
  CHECK(stretches[0].gap == FingerGap::kTooNarrow);
  CHECK(stretches[0].to_rad == Approx(5.0 / 30.0));
  CHECK(stretches[1].gap == FingerGap::kTrap);
  CHECK(stretches[1].to_rad == Approx(0.4));
  CHECK(stretches[2].to_rad == Approx(25.0 / 30.0));
  CHECK(stretches[3].gap == FingerGap::kFree);
  CHECK(stretches[3].to_rad == 1.0);
  for (std::size_t i = 1; i < stretches.size(); ++i) {
    CHECK(stretches[i].from_rad == stretches[i - 1].to_rad);
  }
  // There and back again; and one that never leaves its kind.
  CHECK(FingerStretches({0, 1, 2}, {2, 8, 2}).size() == 3);
  CHECK(FingerStretches({0, 1, 2}, {2, 3, 2}).size() == 1);
}

TEST_CASE("cautions name what is not covered, children, fingers, tipping and whom to ask") {
  const auto& cautions = ForceCautions();
  for (const char* topic : {"strength", "children", "fingers", "tipping", "codes"}) {
    INFO(topic);
    CHECK(std::any_of(cautions.begin(), cautions.end(),
                      [&](const Caution& c) { return c.topic == topic; }));
  }
  // 1.1 cubic feet (READ) is 0.031 m³: a cube of 315 mm.
  CHECK(ChestRulesMayApply(315.0 * 315.0 * 315.0));
  CHECK_FALSE(ChestRulesMayApply(300.0 * 300.0 * 300.0));
}
