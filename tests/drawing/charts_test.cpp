// SPDX-License-Identifier: Apache-2.0
#include "lidwright/drawing/charts.h"

#include <catch2/catch.hpp>

#include "design/examples.h"
#include "lidwright/design/make_design.h"

using namespace lidwright;
using namespace lidwright::testing;

// The line of the gap asked for begins where the gap is due, at the share of the axis that the
// angle has of the opening, and ends at full opening.
void CheckLevel(const Canvas& canvas, const Job& job) {
  bool level = false;
  double from = -1.0, to = -1.0, left = 1e9, right = -1e9;
  for (const Canvas::Item& item : canvas.items()) {
    if (const auto* group = std::get_if<Canvas::GroupStart>(&item)) level = group->name == "level";
    if (std::holds_alternative<Canvas::GroupEnd>(item)) level = false;
    const auto* shape = std::get_if<Canvas::Shape>(&item);
    if (!shape || shape->path.size() != 1 || shape->path[0].vertices.size() != 2) continue;
    const Vec2 a = shape->path[0].vertices[0].point, b = shape->path[0].vertices[1].point;
    if (level) {
      from = a.x();
      to = b.x();
    } else if (shape->pen && shape->pen->width_mm == 0.1 && a.y() == b.y()) {  // a grid line
      left = std::min(left, a.x());
      right = std::max(right, b.x());
    }
  }
  REQUIRE(right > left);
  CHECK(to == Approx(right));
  CHECK((from - left) / (right - left) == Approx(job.swing.gap_from_rad / job.swing.open_rad));
}

TEST_CASE("charts have no texts in each other's way, on one sheet, in mm and inches", "[slow]") {
  for (const char* name : {"sample_chest", "jewellery_casket"}) {
    INFO(name);
    const BoxModel box(ExampleJob(name));
    DesignOptions options;
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
      CheckLevel(canvas, design.job);
      // What is charted keeps above what was certified, from where the gap is due.
      for (std::size_t i = 0; i < hinge.gap_by_angle_mm.size(); ++i) {
        if (hinge.forces->feel.theta_rad[i] < design.job.swing.gap_from_rad) continue;
        CHECK(hinge.gap_by_angle_mm[i] >= hinge.traits.least_gap_mm);
      }
    }
  }
}
