// SPDX-License-Identifier: Apache-2.0
#include <cmath>
#include <sstream>

#include "lidwright/geometry/ring.h"
#include "lidwright/job/read_job.h"
#include "sample_job.h"

namespace lidwright {
namespace {

const std::string kCase = "[[0,-120],[220,-120],[220,0],[0,0]]";
const std::string kLid = "[[0,0],[220,0],[110,40]]";

std::string Station(double z, const std::string& box = kCase, const std::string& lid = kLid) {
  std::ostringstream text;
  text << "{\"z\": " << z << ", \"case\": " << box << ", \"lid\": " << lid << "}";
  return text.str();
}

// A job whose stations start on line 3, one a line.
std::string JobWith(const std::vector<std::string>& stations) {
  std::string text =
      "{\"units\": \"mm\", \"case\": {\"width\": 340, \"depth\": 220, \"height\": 120, \"wall\": "
      "12},\n"
      "\"stations\": [\n";
  for (std::size_t i = 0; i < stations.size(); ++i) text += (i ? ",\n" : "") + stations[i];
  return text + "]}";
}

std::string Said(const std::vector<std::string>& stations) {
  return Lines(ReadJob(JobWith(stations), "box.json").problems);
}

std::vector<double> Places(const std::vector<std::string>& stations) {
  const JobReading reading = ReadJob(JobWith(stations), "box.json");
  INFO(Lines(reading.problems));
  REQUIRE(reading.job.has_value());
  std::vector<double> places;
  for (const StationOutline& station : reading.job->stations) places.push_back(station.z_mm);
  return places;
}

TEST_CASE("stations need no lid measures") {
  const JobReading reading = ReadJob(JobWith({Station(-170), Station(170)}), "box.json");
  REQUIRE(reading.job.has_value());
  CHECK(std::isnan(reading.job->lid.rim_mm));
  CHECK(reading.job->stations[0].case_rings ==
        std::vector<Ring>{{{0, -120}, {220, -120}, {220, 0}, {0, 0}}});
}

TEST_CASE("stations on one side come out mirrored, steps and all") {
  CHECK(Places({Station(-170), Station(0), Station(170)}) == std::vector<double>{-170, 0, 170});
  CHECK(Places({Station(0), Station(170)}) == std::vector<double>{-170, 0, 170});

  // A step at z = 158: hollow inside of it, solid outside; mirrored, the solid comes first.
  const std::string hollow =
      "[[0,-120],[220,-120],[220,0],[208,0],[208,-108],[12,-108],[12,0],[0,0]]";
  const JobReading reading = ReadJob(
      JobWith({Station(0, hollow), Station(158, hollow), Station(158), Station(170)}), "box.json");
  REQUIRE(reading.job.has_value());
  std::vector<std::pair<double, std::size_t>> seen;
  for (const StationOutline& s : reading.job->stations) {
    seen.emplace_back(s.z_mm, s.case_rings.at(0).size());
  }
  CHECK(seen == std::vector<std::pair<double, std::size_t>>{
                    {-170, 4}, {-158, 4}, {-158, 8}, {0, 8}, {158, 8}, {158, 4}, {170, 4}});
}

TEST_CASE("outer rings come out counter-clockwise and holes clockwise, however they were given") {
  const std::string outer = "[[0,-120],[220,-120],[220,0],[0,0]]";
  const std::string outer_back =
      "[[0,0],[220,0],[220,-120],[0,-120],[0,0]]";  // closed by its start
  const std::string hole = "[[20,-100],[200,-100],[200,-20],[20,-20]]";
  const std::string hole_back = "[[20,-20],[200,-20],[200,-100],[20,-100]]";
  const std::string island = "[[50,-80],[50,-50],[90,-50]]";
  int read = 0;
  for (const std::string& a : {outer, outer_back}) {
    for (const std::string& b : {hole, hole_back}) {
      const std::string rings = "[" + b + "," + island + "," + a + "]";
      const JobReading reading = ReadJob(JobWith({Station(0, rings), Station(170)}), "box.json");
      INFO(Lines(reading.problems));
      REQUIRE(reading.job.has_value());
      const std::vector<Ring>& got = reading.job->stations[1].case_rings;  // z = 0
      REQUIRE(got.size() == 3);
      CHECK(SignedArea(got[0]) == -180.0 * 80.0);
      CHECK(SignedArea(got[1]) == 40.0 * 30.0 / 2);
      CHECK(SignedArea(got[2]) == 220.0 * 120.0);
      ++read;
    }
  }
  CHECK(read == 4);
}

TEST_CASE("each fault of the stations is named") {
  CHECK(Said({Station(170)}) ==
        "box.json:2: stations = [ {\"z\": 170, \"case\": [[0,-120],[220,-120…: "
        "needs at least two stations\n");
  CHECK(Said({Station(0), Station(90), Station(80), Station(170)}) ==
        "box.json:5: stations[2].z = 80: must be more than the z before, 90 mm "
        "(equal at most twice, for a step)\n");
  CHECK(Said({Station(0), Station(90), Station(90), Station(90), Station(170)}) ==
        "box.json:6: stations[3].z = 90: must be more than the z before, 90 mm "
        "(equal at most twice, for a step)\n");
  CHECK(Said({Station(0), Station(160)}) ==
        "box.json:4: stations[1].z = 160: the last station must stand at half of case.width, "
        "170 mm\n");
  CHECK(Said({Station(10), Station(170)}) ==
        "box.json:3: stations[0].z = 10: the first station must stand at z = 0 or at -170 mm\n");
  CHECK(Said({Station(0), Station(0), Station(170)}) ==
        "box.json:4: stations[1].z = 0: a step at z = 0 cannot be mirrored (give both sides)\n");
  CHECK(Said({Station(0, "[]", "[]"), Station(170)}) ==
        "box.json:3: stations[0] = {\"z\": 0, \"case\": [], \"lid\": []}: has neither case nor "
        "lid\n");
  CHECK(Said({"{\"z\": 0, \"case\": " + kCase + "}", Station(170)}) ==
        "box.json:3: stations[0].lid: is missing "
        "(Outline of the lid there, lid shut, or a list of outlines)\n");
  CHECK(Said({"7", Station(170)}) ==
        "box.json:3: stations[0] = 7: must be an object: {\"key\": value, ...}\n");
}

TEST_CASE("each fault of an outline is named at its point") {
  const auto said = [](const std::string& lid) {
    return Said({Station(0, kCase, lid), Station(170)});
  };
  CHECK(said("[[0,0],[220,40],[220,0],[0,40]]") ==
        "box.json:3: stations[0].lid[0] = [0,0]: the edge from (0, 0) crosses or touches the edge "
        "from (220, 0) at (110, 20)\n");
  CHECK(said("[[0,0],[220,0]]") ==
        "box.json:3: stations[0].lid[0] = [0,0]: an outline needs at least three points\n");
  CHECK(said("[[0,0],[220,0],[220,0],[110,40]]") ==
        "box.json:3: stations[0].lid[1] = [220,0]: the point (220, 0) is given twice in a row\n");
  CHECK(
      said("[[0,0],[220,0],[110,\"x\"]]") ==
      "box.json:3: stations[0].lid[2][1] = \"x\": must be a length: a number in mm, or a text with "
      "its unit such as \"12 mm\" or \"1/2 in\"\n");
  CHECK(said("[[0,0],[220],[110,40]]") ==
        "box.json:3: stations[0].lid[1] = [220]: must be a point: [x, y]\n");
  CHECK(said("[[0,0],[220,0],[110,1e308]]") ==
        "box.json:3: stations[0].lid[2][1] = 1e308: must be from -5000 to 5000 mm\n");
  CHECK(said("[[[0,0],[220,0],[110,40]],[[50,2],[300,2],[50,9]]]") ==
        "box.json:3: stations[0].lid[1] = [[50,2],[300,2],[50,9]]: crosses or touches the outline "
        "stations[0].lid[0]\n");
  CHECK(said("5") ==
        "box.json:3: stations[0].lid = 5: must be an outline: [[x, y], [x, y], [x, y], ...]\n");
  CHECK(said("[[[0,0],[220,0],[110,40]],7]") ==
        "box.json:3: stations[0].lid[1] = 7: must be an outline: [[x, y], [x, y], [x, y], ...]\n");
}

TEST_CASE("an outline with too many points is refused, quickly") {
  std::string many = "[";
  for (int i = 0; i < 4001; ++i) many += "[" + std::to_string(i % 2000) + ",1],";
  many.back() = ']';
  CHECK(Said({Station(0, kCase, many), Station(170)}) ==
        "box.json:3: stations[0].lid = [[0,1],[1,1],[2,1],[3,1],[4,1],[5,1],[6,…: "
        "has more than 4000 points\n");
}

// Faults are told in the numbers of the file: 1 in, not 25.4 mm.
TEST_CASE("an outline's fault in a job of inches is told in inches") {
  const std::string text = R"({"units": "in",
"case": {"width": 9, "depth": 6, "height": 3, "wall": "1/4"}, "lid": {"rim": 1, "crown": 1},
"contents": [{"outline": [[1, -2], [2, -1], [2, -2], [1, -1]]}]})";
  CHECK(
      Lines(ReadJob(text, "box.json").problems) ==
      "box.json:3: contents[0].outline[0] = [1, -2]: the edge from (1, -2) crosses or touches the "
      "edge from (2, -2) at (1.5, -1.5)\n");
}

}  // namespace
}  // namespace lidwright
