// SPDX-License-Identifier: Apache-2.0
#include <catch2/catch.hpp>
#include <stdexcept>

#include "design/examples.h"
#include "lidwright/design/make_design.h"
#include "lidwright/report/hinge_json.h"

using namespace lidwright;
using namespace lidwright::testing;

TEST_CASE("hinges are told as the search finds them, and what it finds does not depend on that",
          "[design]") {
  const BoxModel box(ExampleJob("spice_box"));
  DesignOptions options;
  options.improve = options.explain = false;
  const Design untold = MakeDesign(box, options);
  REQUIRE_FALSE(untold.hinges.empty());
  std::vector<Hinge> told;
  options.found = [&](const BoxModel& of, const Hinge& hinge) {
    CHECK(&of == &box);
    CHECK(AllMet(hinge.verdicts));
    CHECK(hinge.parts.has_value());
    told.push_back(hinge);
  };
  const Design design = MakeDesign(box, options);
  CHECK(WriteHingeJson(design) == WriteHingeJson(untold));
  REQUIRE_FALSE(told.empty());
  // The last that was the best so far is the best.
  CHECK(NumbersOf(told.back().pivots) == NumbersOf(design.hinges.front().pivots));
  for (std::size_t i = 1; i < told.size(); ++i) {
    CHECK(NumbersOf(told[i].pivots) != NumbersOf(told[i - 1].pivots));
  }
  // Whoever is told may end the work.
  options.found = [](const BoxModel&, const Hinge&) { throw std::runtime_error("enough"); };
  CHECK_THROWS_WITH(MakeDesign(box, options), "enough");
}
