// SPDX-License-Identifier: Apache-2.0
#include "lidwright/design/correction.h"

#include <catch2/catch.hpp>

#include "design/examples.h"

using namespace lidwright;
using namespace lidwright::testing;

TEST_CASE("a hinge with one pivot off is told which pivot to move, and moving it helps", "[slow]") {
  const BoxModel box(ExampleJob("sample_chest"));
  const Design design = MakeDesign(box);
  REQUIRE_FALSE(design.hinges.empty());
  int spoilt = 0, mended = 0;
  for (const Hinge& hinge : design.hinges) {
    for (const Vec2& off : {Vec2(7, 0), Vec2(-7, 0), Vec2(0, 7), Vec2(0, -7)}) {
      Pivots wrong = hinge.pivots;
      wrong.lid_b += off;
      if (AllMet(JudgeHinge(box, wrong, {}, {}).verdicts)) continue;
      ++spoilt;
      const auto correction = SmallestCorrection(box, wrong);
      if (!correction) continue;
      ++mended;
      CHECK(AllMet(correction->hinge.verdicts));
      CHECK(correction->by.norm() > 0.0);
      // Moving back the way it came is one answer, so the smallest is hardly longer.
      CHECK(correction->by.norm() <= 25.0 * std::sqrt(2.0) + 1e-9);
      // Exactly one pivot differs from what was given, by what is said.
      const PivotNumbers given = NumbersOf(wrong), better = NumbersOf(correction->hinge.pivots);
      int moved = 0;
      for (std::size_t k = 0; k < 4; ++k) {
        const Vec2 by(better[2 * k] - given[2 * k], better[2 * k + 1] - given[2 * k + 1]);
        if (by.norm() == 0.0) continue;
        ++moved;
        CHECK((by - correction->by).norm() < 1e-12);
      }
      CHECK(moved == 1);
    }
  }
  CHECK(spoilt >= 2);
  CHECK(mended >= spoilt / 2);
}
