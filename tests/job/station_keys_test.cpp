// SPDX-License-Identifier: Apache-2.0
// What may stand beside stations, and what they say themselves.
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "lidwright/job/key_rows.h"
#include "lidwright/job/read_job.h"
#include "lidwright/job/write_job.h"
#include "lidwright/solid/solid.h"
#include "sample_job.h"

namespace lidwright {
namespace {

using nlohmann::json;

// A box 340 x 220 x 120 whose back stands out by 6 mm and whose rim rises by 4 in its middle.
json BowedBox() {
  return json::parse(R"({"units": "mm",
    "case": {"width": 340, "depth": 220, "height": 120, "wall": 12},
    "stations": [
      {"z": 0, "case": [[-6, -120], [220, -120], [220, 4], [208, 4], [208, -108], [6, -108],
                        [6, 4], [-6, 4]],
       "lid": [[-6, 4], [6, 4], [6, 30], [208, 30], [208, 4], [220, 4], [220, 42], [-6, 42]]},
      {"z": 170, "case": [[0, -120], [220, -120], [220, 0], [208, 0], [208, -108], [12, -108],
                          [12, 0], [0, 0]],
       "lid": [[0, 0], [12, 0], [12, 26], [208, 26], [208, 0], [220, 0], [220, 38], [0, 38]]}]})");
}

json With(json job, const std::string& path, const json& value) {
  const std::size_t dot = path.find('.');
  (dot == std::string::npos ? job : job[path.substr(0, dot)])[path.substr(dot + 1)] = value;
  return job;
}

Problems Told(const json& job) {
  return ReadJob(job.dump(), "box.json").problems;
}

std::string Said(const json& job) {
  return Lines(Told(job));
}

// One that is in the row's range and not its default.
json OtherValue(const KeyRow& row) {
  switch (row.kind) {
    case KeyKind::kWord:
      return row.choices.back();
    case KeyKind::kFlag:
      return row.fallback != "true";
    case KeyKind::kPoints:
      return json::parse("[[0, 20], [5, 12], [10, 3]]");
    default:
      return std::ceil(row.min + (row.max - row.min) / 25.0);  // modest: a form that can be
  }
}

const char* const kTold = "is part of the measured form; stations are taken as given";

Job ReadGood(const json& job) {
  const JobReading reading = ReadJob(job.dump(), "box.json");
  INFO(Lines(reading.problems));
  REQUIRE(reading.job.has_value());
  return *reading.job;
}

}  // namespace

TEST_CASE("each measure of the form is told where stations show the form", "[job]") {
  REQUIRE(Said(BowedBox()) == "");
  int rows = 0;
  for (const KeyRow& row : JobKeyRows()) {
    if (row.goes_with != GoesWith::kMeasures) continue;
    INFO(row.key);
    const json value = OtherValue(row);
    const Problems problems = Told(With(BowedBox(), row.key, value));
    REQUIRE(problems.size() == 1);
    CHECK(problems[0].place == row.key);
    CHECK(problems[0].value == value.dump().substr(0, 40));
    CHECK(problems[0].rule == kTold);
    CHECK(problems[0].hint == "leave it out");
    // Nothing of the kind without stations, whatever else may be wrong then.
    json measured = json::parse(kSampleJob);
    for (const Problem& problem : Told(With(measured, row.key, value))) {
      CHECK(problem.rule != kTold);
    }
    ++rows;
  }
  // Counted by hand: the case's side arch, 3 flares, 3 cups, 3 of feet, hollow; the lid's band and
  // 2 crowns, 4 curves, exponent, 2 profiles, edges, hollow, 5 of the lip.
  CHECK(rows == 11 + 3 + 4 + 1 + 2 + 2 + 5);
}

TEST_CASE("an error of stations is told where there are none", "[job]") {
  const json measured = json::parse(kSampleJob);
  CHECK(
      Said(With(measured, "stations_error", 0.2)) ==
      "box.json:1: stations_error = 0.2: says something of stations, and none are given (leave it "
      "out)\n");
  CHECK(Said(With(measured, "stations_error", 0)) == "");
  CHECK(Said(With(BowedBox(), "stations_error", 0.2)) == "");
}

TEST_CASE("measures that stations contradict are told with what they show", "[job]") {
  const auto said = [](const char* path, double value) {
    return Said(With(BowedBox(), path, value));
  };
  CHECK(said("case.depth", 217) ==
        "box.json:1: case.depth = 217.0: the stations show another measure, 220 mm (correct it or "
        "the stations)\n");
  CHECK(said("case.height", 123) ==
        "box.json:1: case.height = 123.0: the stations show another measure, 120 mm (correct it or "
        "the stations)\n");
  CHECK(said("case.back_bow", -4) ==
        "box.json:1: case.back_bow = -4.0: the stations show another measure, 6 mm (leave it "
        "out)\n");
  CHECK(said("case.back_bow", 0) ==
        "box.json:1: case.back_bow = 0.0: the stations show another measure, 6 mm (leave it "
        "out)\n");
  CHECK(said("case.front_bow", 3) ==
        "box.json:1: case.front_bow = 3.0: the stations show another measure, 0 mm (leave it "
        "out)\n");
  CHECK(said("case.rim_arch", 8) ==
        "box.json:1: case.rim_arch = 8.0: the stations show another measure, 4 mm (leave it "
        "out)\n");
  // A ruler's reading apart is no contradiction, nor is what the stations themselves may be off by.
  for (const auto& [path, shown] : {std::pair("case.depth", 220.0),
                                    {"case.height", 120.0},
                                    {"case.back_bow", 6.0},
                                    {"case.front_bow", 0.0},
                                    {"case.rim_arch", 4.0}}) {
    for (const double off : {-1.0, 1.0}) CHECK(said(path, shown + off) == "");
    json loose = With(BowedBox(), "stations_error", 1.5);
    CHECK(Said(With(loose, path, shown + 2.4)) == "");
    CHECK(Said(With(loose, path, shown + 2.6)) != "");
  }
}

TEST_CASE("walls that stations contradict are told with what they show", "[job]") {
  const auto said = [](const char* path, double value) {
    return Said(With(BowedBox(), path, value));
  };
  const std::string other =
      ": the stations show another measure, 12 mm (correct it or the stations)\n";
  CHECK(said("case.back_wall", 60) == "box.json:1: case.back_wall = 60.0" + other);
  CHECK(said("case.front_wall", 6) == "box.json:1: case.front_wall = 6.0" + other);
  CHECK(said("case.floor", 30) == "box.json:1: case.floor = 30.0" + other);
  CHECK(said("lid.wall", 40) == "");  // what the lid's ends are made with, as they do not show
  // All of them at once, and then each one by what stands beside it.
  CHECK(said("case.wall", 20) ==
        "box.json:1: case.wall = 20.0: the stations show another case.back_wall, 12 mm (give "
        "case.back_wall as well)\n");
  json thick =
      With(With(With(BowedBox(), "case.wall", 20), "case.back_wall", 12), "case.floor", 12);
  CHECK(Said(With(thick, "case.front_wall", 12)) == "");  // the ends do not show
  // A ruler's reading apart is no contradiction.
  for (const char* path : {"case.back_wall", "case.front_wall", "case.floor"}) {
    for (const double off : {-0.9, 0.9}) CHECK(said(path, 12 + off) == "");
  }
  // In inches what is shown is told in inches.
  json inches = With(BowedBox(), "case.back_wall", "2.5 in");
  CHECK(Said(inches) == "box.json:1: case.back_wall = \"2.5 in\"" + other);
}

TEST_CASE("an end wall that stations contradict is told where they show one", "[job]") {
  CHECK(Said(With(BowedBox(), "case.end_wall", 25)) == "");  // no section is closed: theirs to say
  json box = BowedBox();
  json open = box["stations"][1], closed = open;
  open["z"] = 150;
  closed["z"] = 150;
  closed["case"] = json::parse("[[0, -120], [220, -120], [220, 0], [0, 0]]");
  closed["lid"] = json::parse("[[0, 0], [220, 0], [220, 38], [0, 38]]");
  box["stations"][1] = open;
  box["stations"].push_back(closed);
  closed["z"] = 170;
  box["stations"].push_back(closed);
  box["lid"] = {{"wall", 20}};
  CHECK(Said(With(box, "case.end_wall", 20)) == "");
  CHECK(Said(With(box, "case.end_wall", 15)) ==
        "box.json:1: case.end_wall = 15: the stations show another measure, 20 mm (correct it or "
        "the stations)\n");
  CHECK(Said(With(box, "case.end_wall", 25)) ==
        "box.json:1: case.end_wall = 25: the stations show another measure, 20 mm (correct it or "
        "the stations)\n");
  CHECK(Said(box) ==
        "box.json:1: case.wall = 12: the stations show another case.end_wall, 20 mm (give "
        "case.end_wall as well)\n");
  // Between an open section and a closed one farther out it may begin anywhere.
  json apart = With(box, "case.end_wall", 14);
  apart["stations"][2]["z"] = 158;
  CHECK(Said(apart) == "");
  CHECK(Said(With(apart, "case.end_wall", 10)) != "");
  // Both sides alike, whichever is given.
  json both = With(box, "case.end_wall", 30);
  for (int i = 1; i < 4; ++i) {
    json other = box["stations"][i];
    other["z"] = -other["z"].get<double>();
    both["stations"].insert(both["stations"].begin(), other);
  }
  CHECK(Said(both).find("case.end_wall = 30: the stations show another measure, 20 mm") !=
        std::string::npos);
}

TEST_CASE("walls that lean are as thick as level and as square to them", "[job]") {
  json box = BowedBox();
  for (json& station : box["stations"]) {  // a back that leans by a half: 12 level, 10.73 square
    json& ring = station["case"];
    const double rim = ring[7][1];
    ring[0][0] = ring[0][0].get<double>() + (rim + 120) / 2;
    ring[5][0] = ring[5][0].get<double>() + (rim + 108) / 2;
  }
  for (const double mm : {10.8, 12.0}) CHECK(Said(With(box, "case.back_wall", mm)) == "");
  CHECK(Said(With(box, "case.back_wall", 8)) != "");
}

TEST_CASE("bows and arch that are not given beside stations are what these show", "[job]") {
  const Job job = ReadGood(BowedBox());
  CHECK(job.case_form.back_bow_mm == 6.0);
  CHECK(job.case_form.front_bow_mm == 0.0);
  CHECK(job.case_form.rim_arch_mm == 4.0);
  // Room behind is measured from the ends: a back that stands out farther is told, as with
  // measures.
  CHECK(Said(With(BowedBox(), "room.behind", 5)) ==
        "box.json:1: room.behind = 5: must be at least case.back_bow, 6 mm\n");
}

// So that what is left is neither ignored: each of them moves the bay or the mouth, or is held
// against the stations.
TEST_CASE("every measure of the box that may stand beside stations matters there", "[job]") {
  const auto figures = [](const json& job) {
    const Job read = ReadGood(job);
    const Solid solid = MakeSolid(read);
    std::vector<double> all{solid.mouth_back_mm, solid.mouth_front_mm, solid.bay.z_max_mm};
    for (const auto& zone : {solid.bay.case_zone, solid.bay.lid_zone}) {
      all.insert(all.end(), {zone.low.x(), zone.low.y(), zone.high.x(), zone.high.y()});
    }
    return all;
  };
  json box = BowedBox();
  box["plates"]["on_lid"] = false;  // pins straight in the lid's wall: above the seam gap
  const std::vector<double> before = figures(box);
  int tried = 0;
  for (const KeyRow& row : JobKeyRows()) {
    const bool measure = row.section == "case" || row.section == "lid";
    if (!measure || row.goes_with != GoesWith::kEither) continue;
    INFO(row.key);
    // Those that stations can contradict, and the width, by which they are placed.
    bool checked = row.key == "case.width";
    for (const char* key :
         {"case.depth", "case.height", "case.back_bow", "case.front_bow", "case.rim_arch",
          "case.wall", "case.back_wall", "case.front_wall", "case.floor"}) {
      checked = checked || row.key == key;
    }
    ++tried;
    if (checked) {
      CHECK(Said(With(box, row.key, row.key == "case.width" ? 330.0 : 50.0)) != "");
    } else {
      CHECK(figures(With(box, row.key, row.key == "lid.seam_gap" ? 1.5 : 15.0)) != before);
    }
  }
  CHECK(tried == 14);
}

// As 0.1.0 wrote it, every default of the form beside the stations and the pivots' plates by their
// earlier names.
TEST_CASE("a job of stations that was written before is still read", "[job]") {
  const std::string before =
      R"({"name": "of slices", "units": "in", "seed": 1, "case": {"width": 14.0, "depth": 9.0,
"height": 5.0, "back_wall": 0.5, "front_wall": 0.5, "end_wall": 0.5, "floor": 0.5,
"back_bow": 0.0, "front_bow": 0.0, "rim_arch": 0.0, "rim_arch_side": 0.0, "back_flare_deg": 0.0,
"front_flare_deg": 0.0, "end_flare_deg": 0.0, "back_cup": 0.0, "front_cup": 0.0, "end_cup": 0.0,
"feet": 0.0, "feet_inset": 0.0, "feet_depth": 0.9, "bottom_hollow": 0.0},
"lid": {"crown_at_ends": 0.0, "wall": 0.5, "top": 0.5, "seam_gap": 0.0,
"curve_back": "circular", "curve_front": "circular", "curve_across": "circular",
"exponent": 2.5, "lip": 0.0, "lip_side": "inside", "lip_wall": 0.25,
"lip_play": 0.019685039370078743}, "swing": {"open_deg": 95.0, "gap": 0.07874015748031497,
"gap_from_deg": 10.0}, "room": {"bench_below": true, "open_behind_x": 1.0, "mouth_free": 0.9},
"arms": {"width": 0.3937007874015748, "thickness": 0.11811023622047245,
"gap": 0.03937007874015749, "bushing": 0.15748031496062995, "eye": 0.3937007874015748,
"material": "birch plywood"}, "plates": {"ground": true, "lid": true}, "hardware": {},
"bay": {"width": 1.1811023622047245, "edge": 0.2362204724409449, "lid_drop": 2.25},
"shop": {"cutter": 0.11811023622047245, "grid": 0.015625, "drill_error": 0.007874015748031498,
"kerf": 0.0, "sheet_width": 24.0, "sheet_height": 12.0, "sheet_margin": 0.25, "between": 0.125,
"web": 0.03125, "tabs": 3, "tab_length": 0.1875, "paths": false, "paper": "Letter",
"place_error": 0.019685039370078743}, "loads": {"wood": "black cherry", "friction": 0.3,
"hand_n": 50.0, "feet_back": 0.3937007874015748}, "stations_error": 0.01,
"stations": [{"z": -7.0,
"case": [[[0.0, -5.0], [9.0, -5.0], [9.0, 0.0], [8.5, 0.0], [8.5, -4.5], [0.5, -4.5],
[0.5, 0.0], [0.0, 0.0]]],
"lid": [[[0.0, 0.0], [0.5, 0.0], [0.5, 1.0], [8.5, 1.0], [8.5, 0.0], [9.0, 0.0], [9.0, 1.5],
[0.0, 1.5]]]}, {"z": 0.0,
"case": [[[0.0, -5.0], [9.0, -5.0], [9.0, 0.0], [8.5, 0.0], [8.5, -4.5], [0.5, -4.5],
[0.5, 0.0], [0.0, 0.0]]],
"lid": [[[0.0, 0.0], [0.5, 0.0], [0.5, 1.0], [8.5, 1.0], [8.5, 0.0], [9.0, 0.0], [9.0, 1.5],
[0.0, 1.5]]]}, {"z": 7.0,
"case": [[[0.0, -5.0], [9.0, -5.0], [9.0, 0.0], [8.5, 0.0], [8.5, -4.5], [0.5, -4.5],
[0.5, 0.0], [0.0, 0.0]]],
"lid": [[[0.0, 0.0], [0.5, 0.0], [0.5, 1.0], [8.5, 1.0], [8.5, 0.0], [9.0, 0.0], [9.0, 1.5],
[0.0, 1.5]]]}]})";
  const JobReading reading = ReadJob(before, "before.json");
  INFO(Lines(reading.problems));
  REQUIRE(reading.job.has_value());
  CHECK(reading.job->stations.size() == 3);
  CHECK(reading.job->plates.on_case);
  CHECK(reading.job->case_form.feet_depth_mm == Approx(22.86));
  // Written now, it leaves out what the stations show, and is the same job.
  const std::string now = WriteJob(*reading.job);
  CHECK(now.find("flare") == std::string::npos);
  CHECK(now.find("\"lip\"") == std::string::npos);
  CHECK(WriteJob(*ReadJob(now, "now.json").job) == now);
}

}  // namespace lidwright
