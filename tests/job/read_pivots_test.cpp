// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/read_pivots.h"

#include <cmath>

#include "sample_job.h"

namespace lidwright {
namespace {

const std::string kHinge = R"({"units": "mm",
"pivots": {"case_a": [20, -40], "case_b": [60, -50],
           "lid_a": [30, 5], "lid_b": [80, 8]}})";

std::string Said(const std::string& text) {
  const PivotReading reading = ReadPivots(text, "hinge.json");
  CHECK(reading.hinge.has_value() == reading.problems.empty());
  return Lines(reading.problems);
}

GivenHinge Read(const std::string& text) {
  const PivotReading reading = ReadPivots(text, "hinge.json");
  INFO(Lines(reading.problems));
  REQUIRE(reading.hinge.has_value());
  return *reading.hinge;
}

std::string WithArm(const std::string& arm) {
  return Edited("{\"units\": \"mm\",", "{\"units\": \"mm\", \"arms\": {\"a\": " + arm + "},",
                kHinge);
}

TEST_CASE("a maker's four pivots are read in either unit") {
  const GivenHinge hinge = Read(kHinge);
  CHECK(hinge.case_a == Vec2(20, -40));
  CHECK(hinge.case_b == Vec2(60, -50));
  CHECK(hinge.lid_a == Vec2(30, 5));
  CHECK(hinge.lid_b == Vec2(80, 8));
  CHECK_FALSE(hinge.arm_a.has_value());
  CHECK_FALSE(hinge.arm_b.has_value());
  const GivenHinge inches = Read(R"({"units": "in", "pivots": {"case_a": ["3/4", "-1-1/2"],
    "case_b": [2, -2], "lid_a": [1, "5 mm"], "lid_b": [3, 0.25]}})");
  CHECK(inches.case_a == Vec2(0.75 * 25.4, -1.5 * 25.4));
  CHECK(inches.lid_a == Vec2(25.4, 5));
}

// A bar of two half turns of radius 4 round (20, -40) and (20, 0): area by hand 8 * 40 + 16 pi.
TEST_CASE("a hinge file written before the case pivots had their name is still read") {
  const GivenHinge hinge = Read(Edited("case_a", "ground_a", Edited("case_b", "ground_b", kHinge)));
  CHECK(hinge.case_a == Vec2(20, -40));
  CHECK(hinge.case_b == Vec2(60, -50));
}

TEST_CASE("an arm's outline comes out counter-clockwise whichever way it was drawn") {
  const std::string left = "[[24,-40],[24,0,1],[16,0],[16,-40,1]]";
  const std::string right = "[[16,0,-1],[24,0],[24,-40,-1],[16,-40,0]]";
  const std::string closed = "[[24,-40],[24,0,1],[16,0],[16,-40,1],[24,-40]]";
  for (const std::string& outline : {left, right, closed}) {
    INFO(outline);
    const GivenHinge hinge =
        Read(WithArm("{\"layer\": 1, \"outline\": " + outline + ", \"hole_mm\": 4}"));
    REQUIRE(hinge.arm_a.has_value());
    CHECK(hinge.arm_a->layer == 1);
    CHECK(hinge.arm_a->hole_mm == 4.0);
    CHECK(hinge.arm_a->outline.vertices.size() == 4);
    CHECK_THAT(SignedArea(hinge.arm_a->outline),
               Catch::WithinRel(320.0 + 16.0 * 3.14159265358979, 1e-12));
    // The eye's far point is on the outline: the bulge went to the right edge when turned round.
    double top_mm = -1e9;
    for (const Vec2& p : Flatten(hinge.arm_a->outline, 1e-4)) top_mm = std::max(top_mm, p.y());
    CHECK_THAT(top_mm, Catch::WithinAbs(4.0, 1e-3));
  }
  CHECK_FALSE(Read(kHinge).arm_a.has_value());
}

TEST_CASE("a hinge file that lidwright wrote may carry more than is read") {
  const std::string more = Edited("{\"units\"", R"({"format": "lidwright hinge 1",
    "gap_mm": 2.1, "swing": [{"x": null}], "arms": {"a": {"layer": 0, "radius_mm": 3,
    "outline": [[16,0,-1],[24,0,-1]]}}, "units")",
                                  kHinge);
  const GivenHinge hinge = Read(more);
  CHECK(hinge.lid_b == Vec2(80, 8));
  REQUIRE(hinge.arm_a.has_value());
  CHECK(std::isnan(hinge.arm_a->hole_mm));
  // What is read is still checked, and a missing pivot is still missed.
  CHECK(Said(Edited("\"lid_b\"", "\"lid_c\"", more)) ==
        "hinge.json:4: pivots.lid_b: is missing (Lid pivot of arm B with the lid shut, [x, y])\n");
}

TEST_CASE("each fault of a hinge file is named") {
  CHECK(Said("{}") ==
        "hinge.json:1: units: is missing (\"mm\" or \"in\")\n"
        "hinge.json:1: pivots: is missing (case_a, case_b, lid_a and lid_b)\n");
  CHECK(Said(Edited("\"lid_b\"", "\"lib_b\"", kHinge)) ==
        "hinge.json:2: pivots.lid_b: is missing (Lid pivot of arm B with the lid shut, [x, y])\n"
        "hinge.json:3: pivots.lib_b = [80, 8]: unknown key (did you mean \"lid_b\"?)\n");
  CHECK(Said(Edited("{\"units\"", "{\"gap_mm\": 2, \"units\"", kHinge)) ==
        "hinge.json:1: gap_mm = 2: unknown key (known here: format, units, pivots, arms)\n");
  CHECK(Said(Edited("{\"units\"", "{\"format\": \"lidwright hinge 9\", \"units\"", kHinge)) ==
        "hinge.json:1: format = \"lidwright hinge 9\": the file is of a newer lidwright; this one "
        "reads up to \"lidwright hinge 2\" (a newer lidwright is needed)\n");
  CHECK(
      Said(Edited("{\"units\"", "{\"format\": \"card hinge\", \"units\"", kHinge)) ==
      "hinge.json:1: format = \"card hinge\": this program reads \"lidwright hinge 2\" (leave the "
      "key out of a file of your own)\n");
  CHECK(Said(Edited("[60, -50]", "[20, -40]", kHinge)) ==
        "hinge.json:2: pivots.case_b = [20, -40]: lies on pivots.case_a\n");
  CHECK(Said(Edited("[80, 8]", "[30, 5]", kHinge)) ==
        "hinge.json:3: pivots.lid_b = [30, 5]: lies on pivots.lid_a\n");
  CHECK(Said(Edited("[30, 5]", "[20, -40]", kHinge)) ==
        "hinge.json:3: pivots.lid_a = [20, -40]: lies on pivots.case_a\n");
  CHECK(Said(Edited("[80, 8]", "[60, -50]", kHinge)) ==
        "hinge.json:3: pivots.lid_b = [60, -50]: lies on pivots.case_b\n");
  CHECK(Said(Edited("[80, 8]", "[80, 1e5]", kHinge)) ==
        "hinge.json:3: pivots.lid_b[1] = 1e5: must be from -5000 to 5000 mm\n");
  CHECK(Said("{\"units\": \"mm\"") ==
        "hinge.json:1: this is not JSON at column 15: while parsing object - unexpected end of "
        "input; "
        "expected '}' (just behind: {\"units\": \"mm\")\n");
}

TEST_CASE("each fault of an arm is named") {
  const std::string arm = "hinge.json:1: arms.a";
  CHECK(Said(WithArm("{}")) ==
        arm + ".layer: is missing (Layer of the arm, 0 or 1)\n" + arm +
            ".outline: is missing (Outline [[x, y, bulge], ...] with the lid shut)\n");
  CHECK(Said(WithArm("{\"layer\": 2, \"outline\": 7, \"hole\": 1}")) ==
        arm + ".hole = 1: unknown key (known here: layer, outline, hole_mm)\n" + arm +
            ".layer = 2: must be from 0 to 1\n" + arm +
            ".outline = 7: must be an outline: [[x, y, bulge], [x, y, bulge], ...]\n");
  const auto said = [&](const std::string& outline) {
    return Said(WithArm("{\"layer\": 0, \"outline\": " + outline + "}"));
  };
  CHECK(said("[[0,0,1],[1]]") ==
        arm + ".outline[1] = [1]: must be a point with the bulge of its edge: [x, y, bulge]\n");
  CHECK(said("[[0,0,1],[9,0,21]]") == arm + ".outline[1][2] = 21: must be from -20 to 20\n");
  CHECK(said("[[0,0,1],[9,0,\"1\"]]") ==
        arm + ".outline[1][2] = \"1\": must be a number (without quotes)\n");
  CHECK(said("[[0,0,1],[0,0,1],[9,0]]") ==
        arm + ".outline[1] = [0,0,1]: the point is given twice in a row\n");
  CHECK(said("[[0,0],[9,0]]") ==
        arm + ".outline = [[0,0],[9,0]]: an outline needs at least three points\n");
  CHECK(
      said("[[0,0],[9,9],[9,0],[0,9]]") ==
      arm +
          ".outline = [[0,0],[9,9],[9,0],[0,9]]: the edge from (0, 0) crosses or touches the edge "
          "from (9, 0) at (4.5, 4.5)\n");
  // Corners that do not cross, with an arc that does.
  CHECK(said("[[0,0],[40,0],[40,10,0.9],[0,10]]").find("crosses or touches") == std::string::npos);
  CHECK(said("[[0,0],[40,0],[40,10,-0.9],[0,10]]").find("crosses or touches") != std::string::npos);
}

TEST_CASE("a hinge file with bytes changed or cut off is read or refused") {
  const std::string whole =
      WithArm("{\"layer\": 0, \"outline\": [[24,-40],[24,0,1],[16,0],[16,-40,1]], \"hole_mm\": 4}");
  CHECK(Said(whole) == "");
  for (std::size_t i = 0; i < whole.size(); ++i) {
    CHECK(Said(whole.substr(0, i)) != "");
    for (const char c : {'"', '9', '-', 'e', '.', ',', '[', '}', '\n', '\xC3'}) {
      std::string spoilt = whole;
      spoilt[i] = c;
      Said(spoilt);
    }
  }
}

}  // namespace
}  // namespace lidwright
