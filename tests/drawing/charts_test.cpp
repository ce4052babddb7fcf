// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/charts.h"

#include <catch2/catch.hpp>

#include "design/examples.h"
#include "lidwright/design/make_design.h"

using namespace lidwright;
using namespace lidwright::testing;

TEST_CASE("charts of every example have no texts in each other's way, on one sheet", "[slow]") {
  for (const char* name : {"sample_chest", "barrel_chest", "jewellery_casket"}) {
    INFO(name);
    const BoxModel box(ExampleJob(name));
    DesignOptions options;
    options.seeds = 100'000;
    const Design design = MakeDesign(box, options);
    REQUIRE_FALSE(design.hinges.empty());
    for (const Hinge& hinge : design.hinges) {
      REQUIRE(hinge.forces);
      REQUIRE(hinge.gap_by_angle_mm.size() == hinge.forces->feel.theta_rad.size());
      const Canvas canvas = Charts(design, hinge);
      const auto& texts = canvas.texts();
      CHECK(texts.size() > 25);
      for (std::size_t i = 0; i < texts.size(); ++i) {
        const Rect2& a = texts[i].box;
        CHECK((a.low.array() >= 0.0).all());
        CHECK(a.high.x() <= canvas.width_mm());
        CHECK(a.high.y() <= canvas.height_mm());
        for (std::size_t j = 0; j < i; ++j) {
          const Rect2& b = texts[j].box;
          const bool apart = a.high.x() <= b.low.x() || b.high.x() <= a.low.x() ||
                             a.high.y() <= b.low.y() || b.high.y() <= a.low.y();
          INFO(texts[i].text << " / " << texts[j].text);
          CHECK(apart);
        }
      }
      CHECK(ChartsSvg(design, hinge) == ChartsSvg(design, hinge));
      // What is charted keeps above what was certified, from where the gap is due.
      for (std::size_t i = 0; i < hinge.gap_by_angle_mm.size(); ++i) {
        if (hinge.forces->feel.theta_rad[i] < design.job.swing.gap_from_rad) continue;
        CHECK(hinge.gap_by_angle_mm[i] >= hinge.traits.least_gap_mm);
      }
    }
  }
}
