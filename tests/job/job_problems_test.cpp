// SPDX-License-Identifier: Apache-2.0
// Every message of the job reader, word for word: the text is what the maker gets to see.
#include "lidwright/job/read_job.h"
#include "sample_job.h"

namespace lidwright {
namespace {

std::string Said(const std::string& text) {
  const JobReading reading = ReadJob(text, "box.json");
  CHECK(reading.job.has_value() == reading.problems.empty());
  return Lines(reading.problems);
}

struct Spoilt {
  const char* what;
  const char* with;
  const char* said;
};

template <std::size_t N>
void CheckEach(const Spoilt (&cases)[N]) {
  for (const Spoilt& c : cases) {
    INFO(c.what << " -> " << c.with);
    CHECK(Said(Edited(c.what, c.with)) == c.said);
  }
}

TEST_CASE("unknown keys are named with what was likely meant") {
  CheckEach({
      {"\"wall\"", "\"wal\"",
       "box.json:3: case.wal = 12: unknown key (did you mean \"wall\"?)\n"
       "box.json:3: case.wall: is missing (or give all of back_wall, front_wall, end_wall and "
       "floor)\n"},
      {"\"wall\": 12", "\"wall\": 12, \"crown\": 38",
       "box.json:3: case.crown = 38: unknown key (did you mean lid.crown?)\n"},
      {"\"back_bow\": 10", "\"bow_back\": 10",
       "box.json:3: case.bow_back = 10: unknown key (did you mean \"back_bow\"?)\n"},
      {"\"height\": 120", "\"height\": \"120,5 mm\"",
       "box.json:3: case.height = \"120,5 mm\": must be a length: a number in mm, or a text with "
       "its "
       "unit such as \"12 mm\" or \"1/2 in\" (decimals after a point: \"120.5 mm\")\n"},
      {"\"swing\"", "\"swings\"",
       "box.json:5: swings = {\"open_deg\": 95, \"gap\": 2}: unknown key (did you mean "
       "\"swing\"?)\n"},
      {"\"gap\": 2", "\"gap\": 2, \"hovercraft\": [1,\n2]",
       "box.json:5: swing.hovercraft = [1, 2]: unknown key (known here: open_deg, gap, "
       "gap_from_deg)\n"},
      {"\"width\": 8", "\"width\": 8, \"a\\u0007\\n\\u00e9\": 1",
       "box.json:6: arms.a??é = 1: unknown key (known here: width, thickness, gap, bushing, "
       "eye, material)\n"},
      {"\"arms\": {",
       "\"poses\": [{\"angle_deg\": 9, \"at\": [0, 0], \"point\": [0, 0], \"wihtin\": 1}],"
       "\n\"arms\": {",
       "box.json:6: poses[0].wihtin = 1: unknown key (did you mean \"within\"?)\n"},
  });
}

TEST_CASE("doubled keys are an error, at both places") {
  CheckEach({
      {"\"wall\": 12", "\"wall\": 12, \"depth\": 200",
       "box.json:3: case.depth: the key is given twice, first on line 3 (keep one of them)\n"},
      {"\"arms\": {\"width\": 8}",
       "\"arms\": {\"width\": 8}, \"lid\":\n {\"rim\": 1, \"crown\": 2}",
       "box.json:6: lid: the key is given twice, first on line 4 (keep one of them)\n"},
      {"\"arms\": {",
       "\"poses\": [{\"angle_deg\": 9, \"at\": [0, 0], \"point\": [0, 0], \"at\": 1}],"
       "\"arms\": {",
       "box.json:6: poses[0].at: the key is given twice, first on line 6 (keep one of them)\n"},
  });
}

TEST_CASE("missing keys are named at the line of what should hold them") {
  CheckEach({
      {"\"width\": 340, ", "", "box.json:3: case.width: is missing (Outside, across)\n"},
      {"\"rim\": 14, ", "",
       "box.json:4: lid.rim: is missing (Height of the lid's straight band above the seam)\n"},
      {", \"units\": \"mm\"", "",
       "box.json:1: units: is missing (Unit of all bare lengths in this file, \"mm\" or \"in\")\n"},
      {"\"lid\": {\"rim\": 14, \"crown\": 38},", "",
       "box.json:1: lid: is missing (The part above the seam)\n"},
      {"\"arms\": {", "\"poses\": [\n{\"angle_deg\": 9, \"at\": [0, 0]}], \"arms\": {",
       "box.json:7: poses[0].point: is missing (The point of the lid, given where it sits when the "
       "lid is shut)\n"},
  });
  CHECK(Said("{}") ==
        "box.json:1: units: is missing (Unit of all bare lengths in this file, \"mm\" or \"in\")\n"
        "box.json:1: case: is missing (The box below the seam)\n"
        "box.json:1: lid: is missing (The part above the seam)\n");
}

TEST_CASE("a value of the wrong type is told what it must be") {
  CheckEach({
      {"\"width\": 340", "\"width\": \"340\"",
       "box.json:3: case.width = \"340\": must be a length: a number in mm, or a text with its "
       "unit "
       "such as \"12 mm\" or \"1/2 in\" (did you mean \"340 mm\"?)\n"},
      {"\"width\": 340", "\"width\": null",
       "box.json:3: case.width = null: must be a length: a number in mm, or a text with its unit "
       "such as \"12 mm\" or \"1/2 in\"\n"},
      {"\"width\": 340", "\"width\": \"wide\"",
       "box.json:3: case.width = \"wide\": must be a length: a number in mm, or a text with its "
       "unit "
       "such as \"12 mm\" or \"1/2 in\"\n"},
      {"\"open_deg\": 95", "\"open_deg\": \"95\"",
       "box.json:5: swing.open_deg = \"95\": must be a number (in degrees, without quotes)\n"},
      {"\"arms\": {", "\"room\": {\"mouth_free\": \"0.9\", \"bench_below\": 1}, \"arms\": {",
       "box.json:6: room.bench_below = 1: must be true or false\n"
       "box.json:6: room.mouth_free = \"0.9\": must be a number (without quotes)\n"},
      {"\"name\": \"sample\"", "\"name\": 7", "box.json:2: name = 7: must be a text in quotes\n"},
      {"\"name\": \"sample\"", "\"name\": \"a\\nb\"",
       "box.json:2: name = \"a\\nb\": must be one line without control characters\n"},
      {"\"units\": \"mm\"", "\"units\": \"cm\"",
       "box.json:2: units = \"cm\": must be \"mm\" or \"in\"\n"},
      {"\"units\": \"mm\"", "\"units\": 5", "box.json:2: units = 5: must be a text in quotes\n"},
      {"\"name\": \"sample\"", "\"seed\": 1.5", "box.json:2: seed = 1.5: must be a whole number\n"},
      {"\"name\": \"sample\"", "\"seed\": true",
       "box.json:2: seed = true: must be a whole number (without quotes)\n"},
      {"{\"width\": 8}", "8", "box.json:6: arms = 8: must be an object: {\"key\": value, ...}\n"},
      {"\"arms\": {", "\"poses\": {}, \"arms\": {",
       "box.json:6: poses = {}: must be a list: [{...}, ...]\n"},
      {"\"arms\": {", "\"poses\": [3], \"arms\": {",
       "box.json:6: poses[0] = 3: must be an object: {\"key\": value, ...}\n"},
      {"\"arms\": {", "\"pivots\": {\"case_a\": [1, 2, 3], \"lid_zone\": [1, 2]}, \"arms\": {",
       "box.json:6: pivots.case_a = [1, 2, 3]: must be a point: [x, y]\n"
       "box.json:6: pivots.lid_zone[0] = 1: must be a point: [x, y]\n"
       "box.json:6: pivots.lid_zone[1] = 2: must be a point: [x, y]\n"},
      {"\"arms\": {", "\"pivots\": {\"lid_zone\": 1}, \"arms\": {",
       "box.json:6: pivots.lid_zone = 1: must be a rectangle: [[xmin, ymin], [xmax, ymax]]\n"},
  });
  CHECK(Said("[]") == "box.json:1: must be an object: {\"key\": value, ...}\n");
  CHECK(Said(R"({"units": "in", "case": {"width": "9-3", "depth": 6, "height": 3, "wall": "1/4"},
"lid": {"rim": 1, "crown": true}})") ==
        "box.json:1: case.width = \"9-3\": must be a length: a number in inches, or a text such as "
        "\"5-3/16\" or \"12 mm\"\n"
        "box.json:2: lid.crown = true: must be a length: a number in inches, or a text such as "
        "\"5-3/16\" or \"12 mm\"\n");
}

TEST_CASE("a value out of its range is told the range, in the job's unit") {
  CheckEach({
      {"\"crown\": 38", "\"crown\": -4", "box.json:4: lid.crown = -4: must be from 0 to 1000 mm\n"},
      {"\"crown\": 38", "\"crown\": 1e308",
       "box.json:4: lid.crown = 1e308: must be from 0 to 1000 mm\n"},
      {"\"crown\": 38", "\"crown\": \"4 inch\", \"top\": \"90 in\"",
       "box.json:4: lid.top = \"90 in\": must be from 0.5 to 200 mm\n"},
      {"\"open_deg\": 95", "\"open_deg\": 181",
       "box.json:5: swing.open_deg = 181: must be from 10 to 180 deg\n"},
      {"\"open_deg\": 95", "\"open_deg\": 9.5",
       "box.json:5: swing.open_deg = 9.5: must be from 10 to 180 deg\n"},
      {"\"name\": \"sample\"", "\"seed\": -1",
       "box.json:2: seed = -1: must be from 0 to 4294967295\n"},
      {"\"name\": \"sample\"", "\"seed\": 99999999999999999999999999",
       "box.json:2: seed = 99999999999999999999999999: must be from 0 to 4294967295\n"},
      {"\"arms\": {", "\"room\": {\"mouth_free\": 1.01}, \"arms\": {",
       "box.json:6: room.mouth_free = 1.01: must be from 0 to 1\n"},
      {"\"arms\": {", "\"pivots\": {\"lid_a\": [1, -6e3]}, \"arms\": {",
       "box.json:6: pivots.lid_a[1] = -6e3: must be from -5000 to 5000 mm\n"},
      {"\"arms\": {", "\"pivots\": {\"lid_zone\": [[5, 0], [5, 9]]}, \"arms\": {",
       "box.json:6: pivots.lid_zone = [[5, 0], [5, 9]]: the rectangle is empty ([[xmin, ymin], "
       "[xmax, ymax]] with min < max)\n"},
  });
  CHECK(Said(Edited("\"name\": \"sample\"", "\"name\": \"" + std::string(201, 'x') + "\"")) ==
        "box.json:2: name = \"" + std::string(39, 'x') + "…: must be at most 200 bytes long\n");
  CHECK(Said(R"({"units": "in", "case": {"width": 9, "depth": 6, "height": 3, "wall": 0.01},
"lid": {"rim": 1, "crown": 1}})") ==
        "box.json:1: case.wall = 0.01: must be from 0.02 to 7.874 in\n");
}

TEST_CASE("a box of an unlikely size is asked for its unit") {
  CheckEach({
      {"\"width\": 340", "\"width\": 13.5",
       "box.json:3: case.width = 13.5: must be from 30 to 3000 mm (did you mean \"units\": \"in\", "
       "or "
       "\"13.5 cm\"?)\n"},
      {"\"width\": 340", "\"width\": 2",
       "box.json:3: case.width = 2: must be from 30 to 3000 mm (did you mean \"units\": "
       "\"in\"?)\n"},
      {"\"width\": 340", "\"width\": 3400",
       "box.json:3: case.width = 3400: must be from 30 to 3000 mm (did you mean 340?)\n"},
      {"\"width\": 340", "\"width\": -340",
       "box.json:3: case.width = -340: must be from 30 to 3000 mm\n"},
  });
  CHECK(Said(R"({"units": "in", "case": {"width": 340, "depth": 60, "height": 40, "wall": 0.5},
"lid": {"rim": 1, "crown": 1}})") ==
        "box.json:1: case.width = 340: must be from 1.181 to 118.11 in (did you mean \"units\": "
        "\"mm\"?)\n");
}

TEST_CASE("measures that contradict each other are named with what limits them") {
  CheckEach({
      {"\"wall\": 12", "\"wall\": 12, \"back_wall\": 110",
       "box.json:3: case.back_wall = 110: must be less than half of case.depth, 110 mm\n"},
      {"\"wall\": 12", "\"wall\": 12, \"front_wall\": 120",
       "box.json:3: case.front_wall = 120: must be less than half of case.depth, 110 mm\n"},
      {"\"wall\": 12", "\"wall\": 12, \"end_wall\": 170",
       "box.json:3: case.end_wall = 170: must be less than half of case.width, 170 mm\n"},
      {"\"wall\": 12", "\"wall\": 12, \"floor\": 120",
       "box.json:3: case.floor = 120: must be less than case.height, 120 mm\n"},
      {"\"crown\": 38", "\"crown\": 108, \"wall\": 110, \"top\": 5",
       "box.json:4: lid.wall = 110: must be less than half of the box, 110 mm\n"},
      {"\"crown\": 38", "\"crown\": 38, \"top\": 52",
       "box.json:4: lid.top = 52: must be less than the lid, lid.rim + lid.crown, 52 mm\n"},
      {"\"crown\": 38", "\"crown\": 38, \"crown_at_ends\": 39",
       "box.json:4: lid.crown_at_ends = 39: must be at most lid.crown, 38 mm\n"},
      {"\"crown\": 38", "\"crown\": 38, \"seam_gap\": 3",
       "box.json:4: lid.seam_gap = 3: must be at most swing.gap, 2 mm\n"},
      {"\"gap\": 2", "\"gap\": 2, \"gap_from_deg\": 90", ""},
      {"\"open_deg\": 95", "\"open_deg\": 20, \"gap_from_deg\": 20",
       "box.json:5: swing.gap_from_deg = 20: must be less than swing.open_deg, 20 deg\n"},
      {"\"open_deg\": 95", "\"open_deg\": 10",
       "box.json:5: swing.gap_from_deg = 10 deg by default: must be less than swing.open_deg, 10 "
       "deg\n"},
      {"\"arms\": {", "\"room\": {\"behind\": 9}, \"arms\": {",
       "box.json:6: room.behind = 9: must be at least case.back_bow, 10 mm\n"},
      {"\"arms\": {", "\"room\": {\"above\": 51}, \"arms\": {",
       "box.json:6: room.above = 51: must be at least the closed lid, lid.rim + lid.crown + "
       "case.rim_arch, 52 mm\n"},
      {"\"arms\": {", "\"room\": {\"open_behind_x\": 220}, \"arms\": {",
       "box.json:6: room.open_behind_x = 220: must be less than case.depth, 220 mm\n"},
      {"\"width\": 8", "\"width\": 8, \"eye\": 4",
       "box.json:6: arms.bushing = 4 mm by default: must be less than arms.eye, 4 mm\n"},
      {"\"width\": 8", "\"width\": 8, \"bushing\": 9, \"eye\": 8",
       "box.json:6: arms.bushing = 9: must be less than arms.eye, 8 mm\n"},
      {"\"arms\": {", "\"bay\": {\"width\": 158}, \"arms\": {",
       "box.json:6: bay.width = 158: must be less than half of the inner width, 158 mm\n"},
      {"\"width\": 8", "\"width\": 8, \"thickness\": 31",
       "box.json:1: bay.width = 30 mm by default: must be at least arms.thickness, 31 mm\n"},
      {"\"arms\": {", "\"bay\": {\"edge\": 98, \"lid_drop\": 109}, \"arms\": {",
       "box.json:6: bay.edge = 98: must be less than half of the inner depth, 98 mm\n"
       "box.json:6: bay.lid_drop = 109: must be at most the case's inner height, 108 mm\n"},
      {"\"arms\": {", "\"shop\": {\"cutter\": 9}, \"arms\": {",
       "box.json:6: shop.cutter = 9: must be at most arms.eye, 8 mm\n"},
  });
  CHECK(
      Said(R"({"units": "in", "case": {"width": 9, "depth": 6, "height": "3-1/2", "wall": 3},
"lid": {"rim": 1, "crown": 1, "wall": "1/4"}})") ==
      "box.json:1: case.wall = 3: counts for case.back_wall too, which must be less than half of "
      "case.depth, 3 in\n"
      "box.json:1: case.wall = 3: counts for case.front_wall too, which must be less than half of "
      "case.depth, 3 in\n");
}

TEST_CASE("hardware that contradicts itself or its plates is named by its key") {
  CheckEach({
      {"\"arms\": {", "\"hardware\": {\"bushing_bore\": 4}, \"arms\": {",
       "box.json:6: hardware.bushing_bore = 4: must be less than arms.bushing, 4 mm\n"},
      {"\"arms\": {", "\"hardware\": {\"bushing_bore\": 3, \"pin\": 3.1}, \"arms\": {",
       "box.json:6: hardware.pin = 3.1: must be less than hardware.bushing_bore, 3 mm\n"},
      {"\"arms\": {", "\"hardware\": {\"pin\": 4}, \"arms\": {",
       "box.json:6: hardware.pin = 4: must be less than arms.bushing, 4 mm\n"},
      {"\"arms\": {", "\"plates\": {\"on_case\": false, \"case_thickness\": 2}, \"arms\": {",
       "box.json:6: plates.case_thickness = 2: is given, but plates.on_case is false: there is no "
       "such plate (leave one of the two out)\n"},
      {"\"arms\": {",
       "\"plates\": {\"on_case\": false, \"on_lid\": false}, \"hardware\": {\"screw\": \"2 mm\"}, "
       "\"arms\": {",
       "box.json:6: hardware.screw = \"2 mm\": is given, but each of plates.on_case and "
       "plates.on_lid "
       "is false: there is no such plate (leave one of the two out)\n"},
      {"\"arms\": {", "\"plates\": {\"material\": \"bras\"}, \"arms\": {",
       "box.json:6: plates.material = \"bras\": is no material that lidwright knows (did you mean "
       "\"brass\"?)\n"},
      {"\"wall\": 12", "\"wall\": 12, \"end_flare_deg\": 4", ""},
  });
  CHECK(Said(R"({"units": "mm", "case": {"width": 340, "depth": 220, "height": 120, "wall": 12,
"end_flare_deg": 4}, "lid": {"rim": 14, "crown": 38}, "plates": {"on_lid": false}})") ==
        "box.json:2: plates.on_lid = false: must be true where the ends lean or are hollow (pins "
        "stand level only in a plate on a mounting block)\n");
}

TEST_CASE("pinned pivots must lie in the box and apart") {
  const auto said = [](const std::string& pivots) {
    return Said(Edited("\"arms\": {", "\"pivots\": {" + pivots + "}, \"arms\": {"));
  };
  CHECK(said("\"case_a\": [-11, -20]") ==
        "box.json:6: pivots.case_a = [-11, -20]: lies outside the box (x from -10 mm to 220 mm, y "
        "from -120 mm)\n");
  CHECK(said("\"case_b\": [20, -121]") ==
        "box.json:6: pivots.case_b = [20, -121]: lies outside the box (x from -10 mm to 220 mm, y "
        "from -120 mm)\n");
  CHECK(said("\"case_a\": [20, -20], \"case_b\": [23.9, -20]") ==
        "box.json:6: pivots.case_b = [23.9, -20]: lies on pivots.case_a (keep them farther apart "
        "than arms.bushing, 4 mm)\n");
  CHECK(said("\"case_b\": [20, -20], \"lid_b\": [20, -20]") ==
        "box.json:6: pivots.lid_b = [20, -20]: lies on pivots.case_b (keep them farther apart than "
        "arms.bushing, 4 mm)\n");
  // Pivots of different plates and different arms may share a place.
  CHECK(said("\"case_a\": [20, -20], \"lid_b\": [20, -20]") == "");
}

TEST_CASE("contents must have a shape and lie in the case") {
  const auto said = [](const std::string& content) {
    return Said(Edited("\"arms\": {", "\"contents\": [{" + content + "}],\n\"arms\": {"));
  };
  CHECK(
      said("\"back\": 20, \"front\": 100") ==
      "box.json:6: contents[0] = {\"back\": 20, \"front\": 100}: needs an outline, or back, front "
      "and height\n");
  CHECK(
      said("\"outline\": [[30,-90],[60,-90],[60,-50]], \"height\": 4") ==
      "box.json:6: contents[0] = {\"outline\": [[30,-90],[60,-90],[60,-50]]…: has both an outline "
      "and a block (give one of them)\n");
  CHECK(
      said("\"outline\": []") ==
      "box.json:6: contents[0].outline = []: must be an outline: [[x, y], [x, y], [x, y], ...]\n");
  CHECK(said("\"back\": 100, \"front\": 100, \"height\": 4") ==
        "box.json:6: contents[0].front = 100: must be more than back, 100 mm\n");
  CHECK(said("\"back\": 1, \"front\": 209, \"height\": 4") ==
        "box.json:6: contents[0].back = 1: reaches into the back, whose inner face is at 2 mm\n"
        "box.json:6: contents[0].front = 209: reaches into the front, whose inner face is at 208 "
        "mm\n");
  CHECK(said("\"back\": 20, \"front\": 100, \"height\": 4, \"from_z\": 130") ==
        "box.json:6: contents[0].to_z = 128 mm by default: must be more than from_z, 130 mm\n");
  CHECK(
      said("\"back\": 20, \"front\": 100, \"height\": 4, \"from_z\": -159, \"to_z\": 160") ==
      "box.json:6: contents[0].from_z = -159: must be at least -158 mm, the inner face of the end "
      "wall\n"
      "box.json:6: contents[0].to_z = 160: must be at most 158 mm, the inner face of the end "
      "wall\n");
}

TEST_CASE("a pose beyond the opening angle is refused") {
  CHECK(Said(Edited(
            "\"arms\": {",
            "\"poses\": [{\"angle_deg\": 96, \"at\": [0, 0], \"point\": [0, 0]}], \"arms\": {")) ==
        "box.json:6: poses[0].angle_deg = 96: must be at most swing.open_deg, 95 deg\n");
}

TEST_CASE("all problems of a job come at once, by line") {
  CHECK(Said(R"({"units": "mm",
"lid": {"rim": 0, "crown": 38, "crwon": 38},
"swing": {"open_deg": 200},
"case": {"depth": 220, "height": 120, "wall": "thick", "wall": 12}})") ==
        "box.json:2: lid.crwon = 38: unknown key (did you mean \"crown\"?)\n"
        "box.json:2: lid.rim = 0: must be from 1 to 1000 mm\n"
        "box.json:3: swing.open_deg = 200: must be from 10 to 180 deg\n"
        "box.json:4: case.wall: the key is given twice, first on line 4 (keep one of them)\n"
        "box.json:4: case.width: is missing (Outside, across)\n"
        "box.json:4: case.wall = \"thick\": must be a length: a number in mm, or a text with its "
        "unit "
        "such as \"12 mm\" or \"1/2 in\"\n");
}

TEST_CASE("a hundred problems are listed, the rest counted") {
  std::string many;
  for (int i = 0; i < 130; ++i) many += "\"k" + std::to_string(i) + "\": 1, ";
  const JobReading reading = ReadJob(Edited("\"width\": 8", many + "\"width\": 8"), "box.json");
  REQUIRE(reading.problems.size() == 101);
  CHECK(Describe(reading.problems[0]) ==
        "box.json:6: arms.k0 = 1: unknown key (known here: width, thickness, gap, bushing, "
        "eye, material)");
  CHECK(Describe(reading.problems[100]) == "box.json: there are 30 more problems");
}

TEST_CASE("without a known unit, ranges of lengths are not judged") {
  CHECK(Said(R"({"case": {"width": 9, "depth": 6, "height": "3-1/2", "wall": [], "floor": 0.5},
"lid": {"rim": 1, "crown": 1}})") ==
        "box.json:1: units: is missing (Unit of all bare lengths in this file, \"mm\" or \"in\")\n"
        "box.json:1: case.wall = []: must be a length: a number in mm, or a text with its unit "
        "such as "
        "\"12 mm\" or \"1/2 in\"\n");
}

TEST_CASE("forms that no box can have are named by their key, with what would do") {
  CheckEach({
      // Radii: a bow is at most a half circle, arches and cups a quarter of their chord.
      {"\"back_bow\": 10", "\"back_bow\": 171",
       "box.json:3: case.back_bow = 171: no arc rises so far: must be at most half of case.width, "
       "a "
       "half circle, 170 mm, either way\n"},
      {"\"back_bow\": 10", "\"rim_arch_side\": -56",
       "box.json:3: case.rim_arch_side = -56: no arc rises so far: must be at most a quarter of "
       "case.depth, 55 mm, either way\n"},
      {"\"back_bow\": 10", "\"end_cup\": 31",
       "box.json:3: case.end_cup = 31: no arc rises so far: must be at most a quarter of the "
       "wall's "
       "height, 30 mm, either way\n"},
      {"\"crown\": 38", "\"crown\": 111",
       "box.json:4: lid.crown = 111: no circle rises so far over the depth: must be at most half "
       "of "
       "it, 110 mm (or give lid.curve \"elliptical\")\n"},
      {"\"crown\": 38", "\"crown\": 111, \"curve\": \"elliptical\"", ""},
      // Rims and walls that meet.
      {"\"back_bow\": 10", "\"rim_arch\": -70, \"rim_arch_side\": -40",
       "box.json:3: case.rim_arch = -70: the rim would sink by 110 mm in its middle, down to the "
       "floor: at most 103 mm in all\n"},
      {"\"depth\": 220, \"height\": 120, \"wall\": 12, \"back_bow\": 10",
       "\"depth\": 100, \"height\": 120, \"wall\": 12, \"back_flare_deg\": 30, "
       "\"front_flare_deg\": 10",
       "box.json:3: case.back_flare_deg = 30: back and front come together inside: 0 mm are left "
       "between them, at least 5 mm are needed (depth is taken at the rim, flare from the "
       "upright)\n"},
      {"\"width\": 340", "\"end_flare_deg\": 30, \"width\": 140",
       "box.json:3: case.end_flare_deg = 30: the ends come together inside: 0 mm are left between "
       "them, at least 5 mm are needed (width is taken at the rim, flare from the upright)\n"},
      {"\"wall\": 12, \"back_bow\": 10", "\"wall\": 12, \"back_wall\": 80, \"rim_arch_side\": 20",
       "box.json:3: case.rim_arch_side = 20: has no room for its arc: walls, lips and hollow edges "
       "take 91 mm on one side, at most 88 mm are good\n"},
      // Bottoms.
      {"\"back_bow\": 10", "\"feet\": 20, \"floor\": 20",
       "box.json:3: case.floor = 20: is measured from the bench: must be more than case.feet, 20 "
       "mm\n"},
      {"\"back_bow\": 10", "\"bottom_hollow\": 12",
       "box.json:3: case.bottom_hollow = 12: comes through the floor: must be less than 12 mm, "
       "case.floor less case.feet\n"},
      {"\"back_bow\": 10", "\"feet\": 8, \"bottom_hollow\": -9",
       "box.json:3: case.bottom_hollow = -9: the box would rock on its belly: it may hang down by "
       "at "
       "most case.feet, 8 mm\n"},
      {"\"back_bow\": 10", "\"feet\": 8, \"feet_inset\": 90",
       "box.json:3: case.feet_depth = 22 mm by default: two feet with their insets take 224 mm and "
       "the bottom is 220 mm deep\n"},
      // Lids.
      {"\"crown\": 38", "\"crown\": 38, \"curve\": \"eliptical\"",
       "box.json:4: lid.curve = \"eliptical\": must be circular or elliptical or superelliptic "
       "(did "
       "you mean \"elliptical\"?)\n"},
      {"\"crown\": 38", "\"crown\": 38, \"curve_front\": \"round\"",
       "box.json:4: lid.curve_front = \"round\": must be circular or elliptical or "
       "superelliptic\n"},
      {"\"crown\": 38", "\"crown\": 38, \"hollow\": 52",
       "box.json:4: lid.hollow = 52: must leave wood above it: at most lid.rim + lid.crown - 1 mm, "
       "51 "
       "mm\n"},
      {"\"crown\": 38", "\"crown\": 38, \"lip\": 8, \"lip_wall\": 98",
       "box.json:4: lid.lip_wall = 98: two lips and their play take the whole inner depth\n"},
      {"\"crown\": 38", "\"crown\": 38, \"lip_at_ends\": true",
       "box.json:4: lid.lip_at_ends = true: there is no lip that could run along the ends (give "
       "lid.lip, how far it reaches past the seam)\n"},
      {"\"crown\": 38", "\"crown\": 38, \"lip\": 8, \"lip_at_ends\": 1",
       "box.json:4: lid.lip_at_ends = 1: must be true or false\n"},
      {"\"crown\": 38", "\"crown\": 38, \"lip\": 8, \"lip_wall\": 160, \"lip_at_ends\": true",
       "box.json:4: lid.lip_wall = 160: must be from 0.5 to 100 mm\n"},
      {"\"crown\": 38}",
       "\"crown\": 38, \"lip\": 8, \"lip_wall\": 90, \"lip_play\": 4, "
       "\"lip_at_ends\": true}, \"bay\": {\"width\": 70}",
       "box.json:4: bay.width = 70: must be less than half of the width between the lips at the "
       "ends, 64 mm\n"},
      {"\"crown\": 38", "\"crown\": 38, \"profile\": [[0, 1], [5, 3], [4, 2]]",
       "box.json:4: lid.profile[2] = [4, 2]: must lie beyond the point before\n"},
      {"\"crown\": 38", "\"crown\": 38, \"profile\": [[0, 0], [5, -3], [9, 0]]",
       "box.json:4: lid.profile[1]: heights are taken above the band: must not be "
       "negative\n"
       "box.json:4: lid.profile = [[0, 0], [5, -3], [9, 0]]: rises nowhere\n"},
      {"\"crown\": 38", "\"crown\": 38, \"profile_across\": [[0, 3], [9, 5]]",
       "box.json:4: lid.profile_across = [[0, 3], [9, 5]]: must begin at mid-width and come down "
       "towards the end\n"},
  });
  CHECK(Said(Edited(
            "\"back_bow\": 10", "\"back_cup\": -4",
            Edited("\"crown\": 38", "\"crown\": 38, \"lip\": 8, \"lip_side\": \"outside\""))) ==
        "box.json:4: lid.lip_side = \"outside\": an outside lip cannot go over walls that bulge "
        "(give "
        "case.back_cup and case.front_cup of 0 or more, or an inside lip)\n");
}

}  // namespace
}  // namespace lidwright
