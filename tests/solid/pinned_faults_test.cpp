// SPDX-License-Identifier: Apache-2.0
#include <catch2/catch.hpp>

#include "design/examples.h"
#include "lidwright/solid/solid.h"

using namespace lidwright;
using namespace lidwright::testing;

TEST_CASE("a pivot pinned in wood is refused with its place and how deep it lies") {
  Job job = ExampleJob("sample_chest");
  REQUIRE(FaultsOf(job, MakeSolid(job)).empty());
  const double into = job.case_form.back_wall_mm / 4.0;
  job.pivots.case_b = Vec2(into, -50.0);
  const Problems problems = FaultsOf(job, MakeSolid(job));
  REQUIRE(problems.size() == 1);
  CHECK(problems[0].place == "pivots.case_b");
  CHECK(problems[0].rule.find("lies in the case's wood, ") == 0);
  // Just inside of the wall it is free.
  job.pivots.case_b = Vec2(job.case_form.back_wall_mm + job.case_form.depth_mm / 10.0, -50.0);
  CHECK(FaultsOf(job, MakeSolid(job)).empty());
  // In the lid's front rim.
  job.pivots.lid_a = Vec2(job.case_form.depth_mm - 1.0, job.lid.rim_mm / 2.0);
  const Problems lid = FaultsOf(job, MakeSolid(job));
  REQUIRE(lid.size() == 1);
  CHECK(lid[0].place == "pivots.lid_a");
  CHECK(lid[0].rule.find("lies in the lid's wood, ") == 0);
}
