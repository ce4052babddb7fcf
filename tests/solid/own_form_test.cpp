// SPDX-License-Identifier: Apache-2.0
// Stations whose outlines are right each, and whose form is no box.
#include <catch2/catch.hpp>
#include <string>

#include "lidwright/job/read_job.h"
#include "lidwright/solid/solid.h"

namespace lidwright {
namespace {

const std::string kWalls =
    "[[0,-115],[220,-115],[220,0],[208,0],[208,-103],[12,-103],[12,0],[0,0]]";
const std::string kFilled = "[[0,-115],[220,-115],[220,0],[0,0]]";
const std::string kTop = "[[0,0],[12,0],[12,10],[208,10],[208,0],[220,0],[220,20],[0,20]]";
const std::string kEnd = "[[0,0],[220,0],[220,20],[0,20]]";

std::string Faults(const std::string& box, const std::string& lid_middle,
                   const std::string& lid_end) {
  const auto station = [](double z, const std::string& of_case, const std::string& of_lid) {
    return "{\"z\": " + std::to_string(z) + ", \"case\": " + of_case + ", \"lid\": " + of_lid + "}";
  };
  const std::string text =
      R"({"units": "mm", "case": {"width": 340, "depth": 220, "height": 115, "wall": 12},)"
      "\n\"stations\": [" +
      station(0, box, lid_middle) + ", " + station(158, box, lid_middle) + ", " +
      station(158, kFilled, lid_end) + ", " + station(170, kFilled, lid_end) + "]}";
  const JobReading reading = ReadJob(text, "box.json");
  REQUIRE(reading.job.has_value());
  std::string said;
  for (const Problem& problem : FaultsOf(*reading.job, MakeSolid(*reading.job))) {
    said += Describe(problem) + "\n";
  }
  return said;
}

const std::string kHint = " (give the sections as they are, each body in one piece)\n";

TEST_CASE("a case that is solid all through is no box") {
  CHECK(Faults(kWalls, kTop, kEnd) == "");
  CHECK(Faults(kFilled, kTop, kEnd) ==
        "stations: the case is solid: at mid-width there is no room between back, front and "
        "floor" +
            kHint);
}

TEST_CASE("a piece of the lid that touches nothing is told, one that is held at the ends is not") {
  const std::string board = "[[60,50],[100,50],[100,70],[60,70]]";
  CHECK(Faults(kWalls, "[" + kTop + "," + board + "]", kEnd) ==
        "stations: the lid is in pieces that touch nowhere: one lies at x 60 mm to 100 mm, y 50 mm "
        "to 70 mm at z = -158 mm" +
            kHint);
  // A handle above the lid, between cheeks at its ends.
  CHECK(Faults(kWalls, "[" + kTop + "," + board + "]",
               "[[0,0],[220,0],[220,20],[100,20],[100,70],[60,70],[60,20],[0,20]]") == "");
}

TEST_CASE("contents stay under the shut lid's top") {
  const auto said = [](const std::string& rest) {
    const JobReading reading = ReadJob(
        R"({"units": "mm", "case": {"width": 340, "depth": 220, "height": 120, "wall": 12},)"
        "\n" +
            rest,
        "box.json");
    std::string text;
    for (const Problem& problem : reading.problems) text += Describe(problem) + "\n";
    return text;
  };
  const std::string lid = R"("lid": {"rim": 14, "crown": 38}, )";
  // On a floor of 12 under a rim at 120 there are 108 mm to the rim and 52 more to the crown.
  CHECK(said(lid + R"("contents": [{"back": 40, "front": 150, "height": 160}]})") == "");
  CHECK(said(lid + R"("contents": [{"back": 40, "front": 150, "height": 2000}]})") ==
        "box.json:2: contents[0].height = 2000: reaches 1840 mm out of the shut lid's top\n");
  CHECK(
      said(lid + R"("contents": [{"outline": [[40, -50], [80, -50], [60, 60]]}]})") ==
      "box.json:2: contents[0].outline = [[40, -50], [80, -50], [60, 60]]: reaches 8 mm out of the "
      "shut lid's top\n");
  const std::string stations = "\"stations\": [{\"z\": 0, \"case\": " + kWalls +
                               ", \"lid\": " + kTop + "}, {\"z\": 170, \"case\": " + kWalls +
                               ", \"lid\": " + kTop + "}]";
  CHECK(said(stations + R"(, "contents": [{"back": 40, "front": 150, "height": 700}]})")
            .find("contents[0].height = 700: reaches ") != std::string::npos);
}

}  // namespace
}  // namespace lidwright
