// SPDX-License-Identifier: Apache-2.0
#include <catch2/catch.hpp>

#include "lidwright/job/read_job.h"
#include "lidwright/solid/solid.h"

using namespace lidwright;

namespace {

// A box 200 wide with end walls of 12, its stations given with the end walls' own sections: solid
// from −100 to −88, hollow to 88, solid to 100.
Job Stepped() {
  const std::string hollow =
      "\"case\": [[0,-50],[100,-50],[100,0],[90,0],[90,-40],[10,-40],[10,0],[0,0]], "
      "\"lid\": [[0,0],[10,0],[10,10],[90,10],[90,0],[100,0],[100,20],[0,20]]}";
  const std::string solid =
      "\"case\": [[0,-50],[100,-50],[100,0],[0,0]], \"lid\": [[0,0],[100,0],[100,20],[0,20]]}";
  std::string text =
      "{\"units\": \"mm\", \"case\": {\"width\": 200, \"depth\": 100, \"height\": 50, \"wall\": "
      "10, "
      "\"end_wall\": 12}, \"lid\": {\"wall\": 12, \"top\": 10}, \"stations_error\": 0.04, "
      "\"stations\": [";
  for (const auto& [z, is_solid] : {std::pair("-100", true),
                                    {"-88", true},
                                    {"-88", false},
                                    {"0", false},
                                    {"88", false},
                                    {"88", true},
                                    {"100", true}}) {
    text += "{\"z\": " + std::string(z) + ", " + (is_solid ? solid : hollow) + ",";
  }
  text.back() = ']';
  const JobReading reading = ReadJob(text + "}", "stepped.json");
  for (const Problem& problem : reading.problems) FAIL_CHECK(Describe(problem));
  REQUIRE(reading.job);
  return *reading.job;
}

}  // namespace

TEST_CASE("at a step both stretches keep their own section, at either end") {
  const Solid solid = MakeSolid(Stepped());
  int hollow = 0, end_walls = 0;
  for (const Station& s : solid.stations) {
    const bool is_solid = Contains(s.case_rings, {50, -20});
    CHECK(is_solid == s.end_wall);
    CHECK(Contains(s.lid_rings, {50, 5}) == s.end_wall);
    if (s.end_wall) CHECK(std::abs(s.z_mm) >= 88);
    if (!s.end_wall) CHECK(std::abs(s.z_mm) <= 88);
    (s.end_wall ? end_walls : hollow)++;
  }
  CHECK(hollow >= 3);
  CHECK(end_walls >= 4);
}

TEST_CASE("the error that a job states for its stations is the solid's") {
  CHECK(MakeSolid(Stepped()).blend_error_mm == 0.04);
}
