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

TEST_CASE("a pivot pinned outside the shut box is refused before any search") {
  Job job = ExampleJob("sample_chest");
  const double over = job.lid.rim_mm + job.lid.crown_mm;
  const auto faults = [&] { return FaultsOf(job, MakeSolid(job)); };
  for (const Vec2& astray :
       {Vec2(100.0, over + 5.0), Vec2(-60.0, 10.0), Vec2(job.case_form.depth_mm + 60.0, 10.0),
        Vec2(100.0, -job.case_form.height_mm - 5.0)}) {
    INFO(astray.transpose());
    job.pivots.lid_b = astray;
    job.pivots.case_a.reset();
    REQUIRE(faults().size() == 1);
    CHECK(faults()[0].place == "pivots.lid_b");
    CHECK(faults()[0].rule.find("lies outside the shut box at z = ") == 0);
    job.pivots.lid_b.reset();
    job.pivots.case_a = astray;
    REQUIRE(faults().size() == 1);
    CHECK(faults()[0].place == "pivots.case_a");
  }
  // Under the dome, and hanging into the case: both are inside.
  job.pivots.case_a.reset();
  for (const Vec2& inside : {Vec2(110.0, 4.0), Vec2(110.0, -30.0)}) {
    job.pivots.lid_b = inside;
    CHECK(faults().empty());
  }
}
