// SPDX-License-Identifier: Apache-2.0
// End walls and faults of boxes given by their own station outlines.
#include <catch2/catch.hpp>

#include "lidwright/job/read_job.h"
#include "lidwright/solid/solid.h"

using namespace lidwright;

namespace {

// A job of two stations alike; case and lid as lists of points.
Job Given(const std::string& box, const std::string& lid) {
  const std::string slice = R"("case": )" + box + R"(, "lid": )" + lid;
  const JobReading reading = ReadJob(
      R"({"units": "mm", "case": {"width": 300, "depth": 200, "height": 100, "wall": 10},
          "stations": [{"z": 0, )" +
          slice + R"(}, {"z": 150, )" + slice + "}]}",
      "own.json");
  for (const Problem& problem : reading.problems) UNSCOPED_INFO(Describe(problem));
  REQUIRE(reading.job);
  return *reading.job;
}

const std::string kBox = "[[0,-100],[200,-100],[200,0],[190,0],[190,-90],[10,-90],[10,0],[0,0]]";
const std::string kLid = "[[0,0],[10,0],[10,20],[190,20],[190,0],[200,0],[200,30],[0,30]]";

const Station& EndOf(const Solid& solid) {
  REQUIRE(solid.stations.back().end_wall);
  return solid.stations.back();
}

}  // namespace

TEST_CASE("an end wall fills the mouth and leaves a cupped back hollow") {
  // The back's outside is cupped by 15 at half height; a hull would fill that too.
  const Job job = Given(
      "[[0,-100],[200,-100],[200,0],[190,0],[190,-90],[25,-90],[25,-50],[10,0],[0,0],[15,-50]]",
      kLid);
  const Solid solid = MakeSolid(job);
  const Station& end = EndOf(solid);
  CHECK(Contains(end.case_rings, {100, -50}));
  CHECK(Contains(end.case_rings, {100, -1}));
  CHECK_FALSE(Contains(end.case_rings, {5, -50}));
  CHECK(Contains(end.case_rings, {20, -50}));
  CHECK(Contains(end.lid_rings, {100, 5}));
  CHECK(SignedArea(end.lid_rings[0]) == Approx(200.0 * 30.0));
  CHECK(SignedArea(end.case_rings[0]) == Approx(200.0 * 100.0 - 15.0 * 100.0 / 2.0));
}

TEST_CASE("a mouth between sloping rims is filled from inner edge to inner edge") {
  // Rims slope down inwards by 3 and the lid sits on them: the filled case must not reach into it.
  const Job job = Given("[[0,-100],[200,-100],[200,0],[190,-3],[190,-90],[10,-90],[10,-3],[0,0]]",
                        "[[0,0],[10,-3],[10,20],[190,20],[190,-3],[200,0],[200,30],[0,30]]");
  const Solid solid = MakeSolid(job);
  CHECK(FaultsOf(job, solid).empty());
  CHECK_FALSE(Contains(EndOf(solid).case_rings, {100, -2}));
  CHECK(Contains(EndOf(solid).case_rings, {100, -4}));
}

TEST_CASE("holes and feet: a hole is filled in an end wall, the room between feet is not") {
  const Job job = Given(
      "[[[0,-100],[30,-100],[30,-85],[170,-85],[170,-100],[200,-100],[200,0],[190,0],[190,-70],"
      "[10,-70],[10,0],[0,0]],[[90,-80],[110,-80],[110,-75],[90,-75]]]",
      kLid);
  const Solid solid = MakeSolid(job);
  const Station& end = EndOf(solid);
  REQUIRE(end.case_rings.size() == 1);
  CHECK(Contains(end.case_rings, {100, -77}));
  CHECK_FALSE(Contains(end.case_rings, {100, -90}));
  CHECK(solid.stands_back_mm == Approx(0.0).margin(1e-9));
  CHECK(solid.stands_front_mm == Approx(200.0));
}

TEST_CASE("stations that stand inside an end wall are kept there, filled") {
  Job job = Given(kBox, kLid);
  StationOutline more = job.stations.back();
  more.z_mm = 145.0;
  for (Vec2& p : more.lid_rings[0]) p.y() += p.y() > 25.0 ? 4.0 : 0.0;  // a bump over the wall
  job.stations.insert(job.stations.end() - 1, more);
  const Solid solid = MakeSolid(job);
  bool there = false;
  for (const Station& s : solid.stations) {
    if (s.z_mm != 145.0) continue;
    there = true;
    CHECK(s.end_wall);
    CHECK(Contains(s.lid_rings, {100, 33}));
  }
  CHECK(there);
}

TEST_CASE("lids that float, sink in or hang a lip into the end wall are refused") {
  const auto fault = [](const Job& job) {
    const Problems problems = FaultsOf(job, MakeSolid(job));
    return problems.empty() ? std::string() : Describe(problems.front());
  };
  const auto lid_at = [](double up) {
    Job job = Given(kBox, kLid);
    for (StationOutline& s : job.stations) {
      for (Vec2& p : s.lid_rings[0]) p.y() += up;
    }
    return job;
  };
  CHECK(fault(lid_at(0.0)) == "");
  CHECK(fault(lid_at(1.5)) == "");  // a seam gap no larger than the swing's
  CHECK(fault(lid_at(12.0)) ==
        "stations: the lid floats: nowhere is it nearer to the case than 12 mm (lid and case stand "
        "in one frame, y = 0 is the rim at the ends: move the lid down by that)");
  CHECK(fault(lid_at(-3.0)) ==
        "stations: at z = -150 mm lid and case overlap when shut by 3 mm (there both are taken as "
        "solid (the end wall): give the outermost stations so that nothing of the lid hangs below "
        "the rim)");
  const Job lip = Given(kBox,
                        "[[0,0],[11,0],[11,-6],[15,-6],[15,20],[185,20],[185,-6],[189,-6],[189,0],"
                        "[200,0],[200,30],[0,30]]");
  CHECK(fault(lip).find("lid and case overlap") != std::string::npos);
  // With its last stations drawn without the lip the same box is good.
  Job ended = lip;
  const StationOutline plain = Given(kBox, kLid).stations.back();
  for (const double z : {-150.0, 150.0}) {
    StationOutline end = plain;
    end.z_mm = z > 0.0 ? 139.0 : -139.0;
    StationOutline step = lip.stations.front();
    step.z_mm = end.z_mm;
    const auto at = z > 0.0 ? ended.stations.end() - 1 : ended.stations.begin() + 1;
    ended.stations.insert(at, z > 0.0 ? std::initializer_list<StationOutline>{step, end}
                                      : std::initializer_list<StationOutline>{end, step});
  }
  ended.stations.front().lid_rings = ended.stations.back().lid_rings = plain.lid_rings;
  CHECK(fault(ended) == "");
}
