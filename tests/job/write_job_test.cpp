// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/write_job.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "design/examples.h"
#include "lidwright/base/units.h"
#include "lidwright/job/key_rows.h"
#include "lidwright/job/read_job.h"

namespace lidwright {
namespace {

using testing::ExampleJob;

// The same number, both without a limit, or both unset; lengths in inches and angles may differ by
// a rounding.
void CheckNumber(double read, double written, double share = 1e-15) {
  if (std::isnan(written)) {
    CHECK(std::isnan(read));
  } else if (std::isinf(written)) {
    CHECK(read == written);
  } else {
    CHECK(std::abs(read - written) <= share * std::abs(written));
  }
}

void CheckRings(const std::vector<Ring>& read, const std::vector<Ring>& written) {
  REQUIRE(read.size() == written.size());
  for (std::size_t i = 0; i < written.size(); ++i) {
    REQUIRE(read[i].size() == written[i].size());
    for (std::size_t k = 0; k < written[i].size(); ++k) {
      CheckNumber(read[i][k].x(), written[i][k].x());
      CheckNumber(read[i][k].y(), written[i][k].y());
    }
  }
}

void CheckPoint(const std::optional<Vec2>& read, const std::optional<Vec2>& written) {
  REQUIRE(read.has_value() == written.has_value());
  if (written) CHECK((*read - *written).norm() <= 1e-14 * written->norm());
}

void CheckZone(const std::optional<Zone>& read, const std::optional<Zone>& written) {
  REQUIRE(read.has_value() == written.has_value());
  if (!written) return;
  CheckPoint(read->low, written->low);
  CheckPoint(read->high, written->high);
}

void CheckSame(const Job& read, const Job& written) {
  CHECK(read.name == written.name);
  CHECK(read.inches == written.inches);
  CHECK(read.seed == written.seed);
  CHECK(read.arms.material == written.arms.material);
  CHECK(read.loads.wood == written.loads.wood);
  CHECK(read.plates.on_case == written.plates.on_case);
  CHECK(read.plates.on_lid == written.plates.on_lid);
  CHECK(read.plates.material == written.plates.material);
  CHECK(read.hardware.screw == written.hardware.screw);
  CHECK(read.lid.curve_back == written.lid.curve_back);
  CHECK(read.lid.curve_front == written.lid.curve_front);
  CHECK(read.lid.curve_across == written.lid.curve_across);
  CHECK(read.lid.lip_side == written.lid.lip_side);
  CHECK(read.lid.lip_at_ends == written.lid.lip_at_ends);
  CheckRings({read.lid.profile, read.lid.profile_across},
             {written.lid.profile, written.lid.profile_across});
  const auto numbers = [](const Job& j) {
    return std::vector<double>{j.case_form.width_mm,
                               j.case_form.depth_mm,
                               j.case_form.height_mm,
                               j.case_form.back_wall_mm,
                               j.case_form.front_wall_mm,
                               j.case_form.end_wall_mm,
                               j.case_form.floor_mm,
                               j.case_form.back_bow_mm,
                               j.case_form.front_bow_mm,
                               j.case_form.rim_arch_mm,
                               j.lid.rim_mm,
                               j.lid.crown_mm,
                               j.lid.crown_at_ends_mm,
                               j.lid.wall_mm,
                               j.lid.top_mm,
                               j.lid.seam_gap_mm,
                               j.swing.open_rad,
                               j.swing.gap_mm,
                               j.swing.gap_from_rad,
                               j.room.behind_mm,
                               j.room.above_mm,
                               j.room.bench_below ? 1.0 : 0.0,
                               j.room.open_behind_x_mm,
                               j.room.mouth_free,
                               j.bay.width_mm,
                               j.bay.edge_mm,
                               j.bay.lid_drop_mm,
                               j.arms.width_mm,
                               j.arms.thickness_mm,
                               j.arms.gap_mm,
                               j.arms.bushing_mm,
                               j.arms.eye_mm,
                               j.plates.case_mm,
                               j.plates.lid_mm,
                               j.plates.packing_mm,
                               j.hardware.pin_mm,
                               j.hardware.bore_mm,
                               j.hardware.arm_press_mm,
                               j.hardware.pin_press_mm,
                               j.hardware.spacer_mm,
                               j.hardware.washer_mm,
                               j.hardware.washer_thickness_mm,
                               j.hardware.screw_length_mm,
                               j.shop.cutter_mm,
                               j.shop.grid_mm,
                               j.shop.drill_error_mm,
                               j.shop.place_error_mm,
                               j.loads.density_kg_m3,
                               j.loads.lid_mass_kg,
                               j.loads.friction,
                               j.loads.hand_n,
                               j.case_form.rim_arch_side_mm,
                               j.case_form.back_flare_rad,
                               j.case_form.front_flare_rad,
                               j.case_form.end_flare_rad,
                               j.case_form.back_cup_mm,
                               j.case_form.front_cup_mm,
                               j.case_form.end_cup_mm,
                               j.case_form.bottom_hollow_mm,
                               j.case_form.feet_mm,
                               j.case_form.feet_inset_mm,
                               j.case_form.feet_depth_mm,
                               j.lid.exponent,
                               j.lid.top_at_edges_mm,
                               j.lid.hollow_mm,
                               j.lid.lip_mm,
                               j.lid.lip_wall_mm,
                               j.lid.lip_play_mm,
                               j.shop.kerf_mm,
                               j.shop.sheet_width_mm,
                               j.shop.sheet_height_mm,
                               j.shop.sheet_margin_mm,
                               j.shop.between_mm,
                               j.shop.web_mm,
                               j.shop.tab_mm,

                               j.loads.contents_kg,
                               j.loads.feet_back_mm,
                               j.loads.feet_front_mm};
  };
  const std::vector<double> r = numbers(read), w = numbers(written);
  for (std::size_t i = 0; i < w.size(); ++i) {
    INFO("number " << i << ": " << r[i] << " instead of " << w[i]);
    CheckNumber(r[i], w[i]);
  }
  CheckPoint(read.pivots.case_a, written.pivots.case_a);
  CheckPoint(read.pivots.case_b, written.pivots.case_b);
  CheckPoint(read.pivots.lid_a, written.pivots.lid_a);
  CheckPoint(read.pivots.lid_b, written.pivots.lid_b);
  CheckZone(read.pivots.case_zone, written.pivots.case_zone);
  CheckZone(read.pivots.lid_zone, written.pivots.lid_zone);
  REQUIRE(read.contents.size() == written.contents.size());
  for (std::size_t i = 0; i < written.contents.size(); ++i) {
    CheckRings(read.contents[i].rings, written.contents[i].rings);
    CheckNumber(read.contents[i].z_min_mm, written.contents[i].z_min_mm);
    CheckNumber(read.contents[i].z_max_mm, written.contents[i].z_max_mm);
  }
  REQUIRE(read.poses.size() == written.poses.size());
  for (std::size_t i = 0; i < written.poses.size(); ++i) {
    CheckNumber(read.poses[i].angle_rad, written.poses[i].angle_rad);
    CheckPoint(read.poses[i].at, written.poses[i].at);
    CheckPoint(read.poses[i].point, written.poses[i].point);
    CheckNumber(read.poses[i].within_mm, written.poses[i].within_mm);
  }
  CheckNumber(read.stations_error_mm, written.stations_error_mm);
  REQUIRE(read.stations.size() == written.stations.size());
  for (std::size_t i = 0; i < written.stations.size(); ++i) {
    CheckNumber(read.stations[i].z_mm, written.stations[i].z_mm);
    CheckRings(read.stations[i].case_rings, written.stations[i].case_rings);
    CheckRings(read.stations[i].lid_rings, written.stations[i].lid_rings);
  }
}

Job ReadBack(const Job& job) {
  const std::string text = WriteJob(job);
  const JobReading reading = ReadJob(text, "echo.json");
  for (const Problem& problem : reading.problems) UNSCOPED_INFO(Describe(problem));
  INFO(text);
  REQUIRE(reading.job);
  return *reading.job;
}

Job OwnStations(const std::string& units) {
  const std::string outline = R"("case": [[[0,-3.1],[6,-3.1],[6,0],[5.5,0],[5.5,-2.7],[0.5,-2.7],
    [0.5,0],[0,0]]], "lid": [[0,0],[0.5,0],[0.5,0.7],[5.5,0.7],[5.5,0],[6,0],[6,1.3],[0,1.3]])";
  const JobReading reading =
      ReadJob(R"({"name": "chest, \"own\" slices", "units": ")" + units + R"(", "seed": 77,
      "case": {"width": 8, "depth": 6, "height": 3.1, "back_wall": 0.5, "front_wall": 0.55,
               "end_wall": 0.45, "floor": 0.4},
      "swing": {"open_deg": 87.3, "gap": 0.1, "gap_from_deg": 7.7},
      "room": {"behind": 4.2, "bench_below": false},
      "arms": {"width": 0.3, "thickness": 0.1, "bushing": 0.15, "eye": 0.31, "gap": 0.03,
               "material": "brass"},
      "bay": {"width": 0.6}, "shop": {"cutter": 0.1, "grid": 0.01, "drill_error": 0.004, "place_error": 0.03},
      "loads": {"wood": "black walnut", "density_kg_m3": 613.7, "lid_mass_kg": 1.37,
                "friction": 0.17, "hand_n": 31.3, "contents_kg": 2.9, "feet_back": 0.3,
                "feet_front": 5.2},
      "contents": [{"outline": [[[1,-2.5],[2,-2.5],[1.5,-1.7]], [[3,-2.5],[4,-2.5],[3.5,-1.1]]],
                    "from_z": -1.3, "to_z": 2.1}],
      "pivots": {"case_a": [1.1, -1.3], "lid_zone": [[0.9, -0.8], [4.7, 0.3]]},
      "poses": [{"angle_deg": 41.7, "at": [0.3, 2.2], "point": [3, 1], "within": 0.2}],
      "stations_error": 0.035, "stations": [{"z": 0, )" +
                  outline + R"(}, {"z": 4, )" + outline + "}]}",
              "own.json");
  for (const Problem& problem : reading.problems) UNSCOPED_INFO(Describe(problem));
  REQUIRE(reading.job);
  return *reading.job;
}

}  // namespace

TEST_CASE("a job written as a job file reads back to the same job", "[report]") {
  for (const char* name : {"sample_chest", "sample_chest_tight", "barrel_chest", "jewellery_casket",
                           "flared_caddy", "saddle_chest", "rebated_box", "lipped_caddy",
                           "collared_chest", "carved_casket", "spice_box"}) {
    INFO(name);
    const Job job = ExampleJob(name);
    CheckSame(ReadBack(job), job);
  }
  const Job own = OwnStations("in");
  REQUIRE(own.stations.size() == 3);
  REQUIRE(own.contents.size() == 1);
  REQUIRE(own.poses.size() == 1);
  CheckSame(ReadBack(own), own);
}

// A key that the reader learns has to be echoed: what is left out here would change its meaning
// with the next version's defaults.
TEST_CASE("every key of a job file is written", "[report]") {
  const Job measured = ExampleJob("sample_chest");
  Job full = OwnStations("in");
  full.lid = measured.lid;
  full.room.above_mm = 900.0;
  full.lid.profile = full.lid.profile_across = {{0.0, 20.0}, {110.0, 3.0}};
  full.lid.lip_at_ends = true;
  full.lid.top_at_edges_mm = full.lid.hollow_mm = 9.0;
  full.pivots.case_b = full.pivots.lid_a = full.pivots.lid_b = Vec2(50.0, -20.0);
  full.pivots.case_zone = full.pivots.lid_zone;
  full.plates = {true, true, "brass", 2.0, 3.0, 3.0};
  full.hardware = {3.5, 3.6, 0.05, 0.02, 6.0, 7.0, 0.5, "#2", 9.5};
  Job of_measures = full;
  of_measures.stations.clear();
  // Beside stations the measures that these show are not said, so it takes two files.
  const nlohmann::json files[] = {nlohmann::json::parse(WriteJob(full)),
                                  nlohmann::json::parse(WriteJob(of_measures))};
  // Stand for others, which are written in full.
  const std::set<std::string> other_ways{"case.wall", "lid.curve", "contents[].back",
                                         "contents[].front", "contents[].height"};
  std::istringstream table(JobReference());
  int keys = 0;
  for (std::string line; std::getline(table, line);) {
    const std::size_t from = line.find('`'), to = line.find('`', from + 1);
    if (from == std::string::npos) continue;
    const std::string path = line.substr(from + 1, to - from - 1);
    if (other_ways.count(path) > 0) continue;
    ++keys;
    INFO(path);
    bool said = false;
    for (const nlohmann::json& file : files) {
      const nlohmann::json* at = &file;
      bool there = true;
      std::istringstream names(path);
      for (std::string name; there && std::getline(names, name, '.');) {
        const bool list = name.size() > 2 && name.substr(name.size() - 2) == "[]";
        if (list) name.resize(name.size() - 2);
        there = at->contains(name);
        if (there) at = list ? &(*at)[name].at(0) : &(*at)[name];
      }
      said = said || there;
    }
    CHECK(said);
  }
  CHECK(keys > 60);
}

TEST_CASE("the written job shows the maker's own numbers", "[report]") {
  const auto json = nlohmann::json::parse(WriteJob(ExampleJob("jewellery_casket")));
  CHECK(json["units"] == "in");
  CHECK(json["case"]["height"] == 3.5);
  CHECK(json["case"]["back_wall"] == 0.375);
  CHECK(json["arms"]["gap"] == 0.03125);
  CHECK(json["swing"]["open_deg"] == 95.0);
  CHECK(json["shop"]["grid"] == 0.015625);
  // No limit is no key, as in a maker's file.
  CHECK_FALSE(json["room"].contains("behind"));
  // No tails of digits from turning degrees into radians and back.
  const std::string millimetres = WriteJob(ExampleJob("sample_chest"));
  CHECK(millimetres.find("00000") == std::string::npos);
  CHECK(millimetres.find("99999") == std::string::npos);
}

TEST_CASE("a wood's own density is left to the wood, another one is written", "[report]") {
  const Job cherry = ExampleJob("sample_chest");
  auto json = nlohmann::json::parse(WriteJob(cherry));
  CHECK_FALSE(json["loads"].contains("density_kg_m3"));
  // So that changing only the wood in what was written has an effect.
  json["loads"]["wood"] = "hard maple";
  const JobReading maple = ReadJob(json.dump(), "maple.json");
  REQUIRE(maple.job);
  CHECK(maple.job->loads.density_kg_m3 == Approx(705.6));
  Job weighed = cherry;
  weighed.loads.density_kg_m3 = 611.0;
  CHECK(nlohmann::json::parse(WriteJob(weighed))["loads"]["density_kg_m3"] == 611.0);
}

TEST_CASE("a wood that is not known will do with its density, and feet need a distance",
          "[report]") {
  auto json = nlohmann::json::parse(WriteJob(ExampleJob("sample_chest")));
  json["loads"]["wood"] = "pear";
  JobReading reading = ReadJob(json.dump(), "pear.json");
  REQUIRE_FALSE(reading.job);
  REQUIRE(reading.problems.size() == 1);
  CHECK(reading.problems[0].place == "loads.wood");
  json["loads"]["density_kg_m3"] = 640.0;
  reading = ReadJob(json.dump(), "pear.json");
  REQUIRE(reading.job);
  CHECK(reading.job->loads.density_kg_m3 == 640.0);
  json["loads"]["feet_front"] = 10.0;
  json["loads"]["feet_back"] = 10.0;
  reading = ReadJob(json.dump(), "pear.json");
  REQUIRE_FALSE(reading.job);
  REQUIRE(reading.problems.size() == 1);
  CHECK(reading.problems[0].place == "loads.feet_back");
}

TEST_CASE(
    "a job that is yet to be worked on keeps open what it leaves open, and a made one nothing") {
  const JobReading read = ReadJob(
      R"({"units": "mm", "case": {"width": 300, "depth": 200, "height": 100, "wall": 10},
          "lid": {"rim": 20, "crown": 30}, "arms": {"width": 12}})",
      "box.json");
  REQUIRE(read.job);
  const auto arms = nlohmann::json::parse(WriteOpenJob(*read.job))["arms"];
  CHECK(arms["width"] == 12.0);
  for (const char* key : {"material", "thickness", "bushing", "eye"})
    CHECK_FALSE(arms.contains(key));
  const JobReading again = ReadJob(WriteOpenJob(*read.job), "box.json");
  REQUIRE(again.job);
  CHECK(again.job->arms.open.material);
  CHECK_FALSE(again.job->arms.open.width);
  const JobReading made = ReadJob(WriteJob(*read.job), "box.json");
  REQUIRE(made.job);
  CHECK_FALSE(made.job->arms.open.Any());
}

}  // namespace lidwright
