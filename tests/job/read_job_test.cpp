// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/read_job.h"
#include "lidwright/base/units.h"

#include <cmath>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "places.h"
#include "sample_job.h"

namespace lidwright {
namespace {

using Catch::WithinAbs;

Job Read(const std::string& text) {
  const JobReading reading = ReadJob(text, "box.json");
  INFO(Lines(reading.problems));
  REQUIRE(reading.job.has_value());
  REQUIRE(reading.problems.empty());
  return *reading.job;
}

Job ReadExample(const std::string& name) {
  std::ifstream file(std::filesystem::path(lidwright::testing::SourceFolder()) / "examples" / name);
  REQUIRE(file.good());
  std::stringstream text;
  text << file.rdbuf();
  return Read(text.str());
}

TEST_CASE("what a job says comes out in millimetres and radians") {
  const Job job = Read(kSampleJob);
  CHECK(job.name == "sample");
  CHECK_FALSE(job.inches);
  CHECK(job.case_form.width_mm == 340.0);
  CHECK(job.case_form.depth_mm == 220.0);
  CHECK(job.case_form.height_mm == 120.0);
  CHECK(job.case_form.back_bow_mm == 10.0);
  CHECK(job.lid.rim_mm == 14.0);
  CHECK(job.lid.crown_mm == 38.0);
  CHECK_THAT(job.swing.open_rad, WithinAbs(1.6580627893946132, 1e-15));  // 95 pi / 180
  CHECK(job.arms.width_mm == 8.0);
}

// The numbers are those of the job format's description, worked out by hand for this box.
TEST_CASE("what a job does not say has its default") {
  const Job job = Read(kSampleJob);
  CHECK(job.seed == 1u);
  CHECK(job.case_form.back_wall_mm == 12.0);
  CHECK(job.case_form.front_wall_mm == 12.0);
  CHECK(job.case_form.end_wall_mm == 12.0);
  CHECK(job.case_form.floor_mm == 12.0);
  CHECK(job.case_form.front_bow_mm == 0.0);
  CHECK(job.case_form.rim_arch_mm == 0.0);
  CHECK(job.lid.crown_at_ends_mm == 0.0);
  CHECK(job.lid.wall_mm == 12.0);
  CHECK(job.lid.top_mm == 12.0);
  CHECK(job.lid.seam_gap_mm == 0.0);
  CHECK_THAT(job.swing.gap_from_rad, WithinAbs(0.17453292519943295, 1e-16));  // 10 deg
  CHECK(std::isinf(job.room.behind_mm));
  CHECK(std::isinf(job.room.above_mm));
  CHECK(job.room.bench_below);
  CHECK(job.room.open_behind_x_mm == 24.0);  // twice the back wall
  CHECK(job.room.mouth_free == 0.9);
  CHECK(job.bay.width_mm == 30.0);
  CHECK(job.bay.edge_mm == 5.0);       // half the eye and 1 mm
  CHECK(job.bay.lid_drop_mm == 54.0);  // half of 120 - 12
  CHECK(job.arms.thickness_mm == 3.0);
  CHECK(job.arms.gap_mm == 1.0);
  CHECK(job.arms.bushing_mm == 4.0);
  CHECK(job.arms.eye_mm == 8.0);  // the larger of 8 and 4 + 4
  CHECK(job.shop.cutter_mm == 3.0);
  CHECK(job.shop.grid_mm == 0.5);
  CHECK(job.contents.empty());
  CHECK(job.poses.empty());
  CHECK(job.stations.empty());
  CHECK_FALSE(job.pivots.case_a.has_value());
  CHECK_FALSE(job.pivots.case_zone.has_value());
}

TEST_CASE("defaults follow the values they are made from") {
  const Job job = Read(R"({"units": "mm",
    "case": {"width": 340, "depth": 220, "height": 120, "back_wall": 9, "front_wall": 10,
             "end_wall": 11, "floor": 6},
    "lid": {"rim": 14, "crown": 38, "wall": 7},
    "arms": {"width": 10, "bushing": 8}})");
  CHECK(job.case_form.back_wall_mm == 9.0);
  CHECK(job.lid.wall_mm == 7.0);
  CHECK(job.lid.top_mm == 7.0);
  CHECK(job.room.open_behind_x_mm == 18.0);
  CHECK(job.arms.eye_mm == 12.0);
  CHECK(job.bay.edge_mm == 7.0);
  CHECK(job.bay.lid_drop_mm == 57.0);
  // Without a case.wall the lid takes the ends' thickness.
  CHECK(Read(R"({"units": "mm",
    "case": {"width": 340, "depth": 220, "height": 120, "back_wall": 9, "front_wall": 10,
             "end_wall": 11, "floor": 6},
    "lid": {"rim": 14, "crown": 38}})")
            .lid.wall_mm == 11.0);
}

TEST_CASE("a job in inches may mix numbers, fractions and texts with units") {
  const Job job = Read(R"({"units": "in",
    "case": {"width": "9", "depth": 6, "height": "3-1/2", "wall": "3/8", "floor": "6 mm"},
    "lid": {"rim": "1/2", "crown": "1 1/8"}, "swing": {"gap": 0.0625},
    "pivots": {"case_a": ["1-1/4", -1]}})");
  CHECK(job.inches);
  CHECK_THAT(job.case_form.width_mm, WithinAbs(228.6, 1e-12));
  CHECK_THAT(job.case_form.depth_mm, WithinAbs(152.4, 1e-12));
  CHECK_THAT(job.case_form.height_mm, WithinAbs(88.9, 1e-12));
  CHECK_THAT(job.case_form.end_wall_mm, WithinAbs(9.525, 1e-12));
  CHECK(job.case_form.floor_mm == 6.0);
  CHECK_THAT(job.lid.crown_mm, WithinAbs(28.575, 1e-12));
  CHECK_THAT(job.swing.gap_mm, WithinAbs(1.5875, 1e-12));
  CHECK(job.shop.grid_mm == 0.396875);                     // 1/64 in
  CHECK_THAT(job.arms.width_mm, WithinAbs(9.525, 1e-12));  // 3/8 in: defaults are inch sizes
  REQUIRE(job.pivots.case_a.has_value());
  CHECK_THAT(job.pivots.case_a->x(), WithinAbs(31.75, 1e-12));
  CHECK_THAT(job.pivots.case_a->y(), WithinAbs(-25.4, 1e-12));
}

TEST_CASE("one box written in two units is one job") {
  const Job mm = Read(Edited("\"wall\": 12", "\"wall\": \"12mm\""));
  const Job in = Read(R"({"units": "in", "name": "sample",
    "case": {"width": "340 mm", "depth": "22cm", "height": "120mm", "wall": "12mm",
             "back_bow": "10mm"},
    "lid": {"rim": "14mm", "crown": "38mm"}, "arms": {"width": "8mm"}})");
  CHECK(in.case_form.width_mm == mm.case_form.width_mm);
  CHECK(in.case_form.depth_mm == mm.case_form.depth_mm);
  CHECK(in.bay.lid_drop_mm == mm.bay.lid_drop_mm);
  CHECK(in.arms.eye_mm == mm.arms.eye_mm);
}

TEST_CASE("contents are a block on the floor or outlines, between the bays unless said") {
  const Job job = Read(Edited("\"arms\"", R"("contents": [
    {"back": 40, "front": 180, "height": 60},
    {"outline": [[40, -100], [40, -60], [90, -60]], "from_z": -20, "to_z": 30}],
    "arms")"));
  REQUIRE(job.contents.size() == 2);
  const Contents& block = job.contents[0];
  REQUIRE(block.rings.size() == 1);
  // The floor's upper face lies 12 above the bench, which is 120 below the rim.
  CHECK(block.rings[0] == Ring{{40, -108}, {180, -108}, {180, -48}, {40, -48}});
  CHECK(block.z_min_mm == -128.0);  // 340/2 - 12 - 30
  CHECK(block.z_max_mm == 128.0);
  const Contents& outline = job.contents[1];
  CHECK(outline.rings == std::vector<Ring>{{{90, -60}, {40, -60}, {40, -100}}});  // turned round
  CHECK(outline.z_min_mm == -20.0);
  CHECK(outline.z_max_mm == 30.0);
}

TEST_CASE("pivots, zones and poses come through") {
  const Job job = Read(Edited("\"arms\"", R"("seed": 42,
    "pivots": {"case_a": [20, -40], "lid_b": [60, 5], "case_zone": [[12, -100], [150, -5]]},
    "poses": [{"angle_deg": 90, "at": [-20, 30], "point": [0, 10], "within": 3},
              {"angle_deg": 45, "at": [1, 2], "point": [3, 4]}],
    "arms")"));
  CHECK(job.seed == 42u);
  CHECK(job.pivots.case_a == Vec2(20, -40));
  CHECK(job.pivots.lid_b == Vec2(60, 5));
  CHECK_FALSE(job.pivots.case_b.has_value());
  REQUIRE(job.pivots.case_zone.has_value());
  CHECK(job.pivots.case_zone->low == Vec2(12, -100));
  CHECK(job.pivots.case_zone->high == Vec2(150, -5));
  REQUIRE(job.poses.size() == 2);
  CHECK_THAT(job.poses[0].angle_rad, WithinAbs(1.5707963267948966, 1e-15));
  CHECK(job.poses[0].at == Vec2(-20, 30));
  CHECK(job.poses[0].point == Vec2(0, 10));
  CHECK(job.poses[0].within_mm == 3.0);
  CHECK(job.poses[1].within_mm == 1.0);
}

TEST_CASE("keys that have been renamed are still read, and not beside their new names") {
  const std::string earlier = Edited("\"arms\": {",
                                     "\"plates\": {\"ground\": true, \"lid\": false, "
                                     "\"ground_thickness\": 2.5}, "
                                     "\"pivots\": {\"ground_a\": [31, -15], "
                                     "\"ground_b\": [48, -38], "
                                     "\"ground_zone\": [[20, -80], [90, -10]]}, \"arms\": {",
                                     kSampleJob);
  const Job job = Read(earlier);
  CHECK(job.plates.on_case);
  CHECK_FALSE(job.plates.on_lid);
  CHECK(job.plates.case_mm == 2.5);
  CHECK(*job.pivots.case_a == Vec2(31, -15));
  CHECK(*job.pivots.case_b == Vec2(48, -38));
  CHECK(job.pivots.case_zone->low == Vec2(20, -80));
  const JobReading twice =
      ReadJob(Edited("\"ground_a\"", "\"case_a\": [31, -15], \"ground_a\"", earlier), "box.json");
  CHECK(Lines(twice.problems) ==
        "box.json:6: pivots.ground_a = [31, -15]: stands there as \"case_a\" as well (leave one of "
        "them out)\n");
}

TEST_CASE("the example jobs read without a problem and hold their boxes") {
  const Job chest = ReadExample("sample_chest.json");
  CHECK(chest.name == "A tea merchant's sample chest");
  CHECK(chest.case_form.width_mm == 340.0);
  CHECK(chest.case_form.back_bow_mm == 10.0);
  CHECK(chest.case_form.rim_arch_mm == 8.0);
  CHECK(chest.lid.crown_at_ends_mm == 0.0);
  CHECK(chest.room.behind_mm == 100.0);
  CHECK(chest.room.open_behind_x_mm == 25.0);
  CHECK(chest.arms.width_mm == 8.0);

  const Job tight = ReadExample("sample_chest_tight.json");
  CHECK(tight.room.behind_mm == 44.0);
  CHECK(tight.case_form.depth_mm == chest.case_form.depth_mm);
  CHECK(tight.lid.crown_mm == chest.lid.crown_mm);

  const Job barrel = ReadExample("barrel_chest.json");
  CHECK(barrel.lid.crown_at_ends_mm == barrel.lid.crown_mm);
  CHECK(barrel.case_form.back_bow_mm == 0.0);

  const Job casket = ReadExample("jewellery_casket.json");
  CHECK(casket.inches);
  CHECK_THAT(casket.case_form.width_mm, WithinAbs(228.6, 1e-12));
  CHECK_THAT(casket.case_form.height_mm, WithinAbs(88.9, 1e-12));
  CHECK_THAT(casket.arms.width_mm, WithinAbs(6.35, 1e-12));
  CHECK_THAT(casket.arms.bushing_mm, WithinAbs(3.175, 1e-12));
}

TEST_CASE("contents end before the bays by default, also where ends lean") {
  const std::string contents =
      R"("contents": [{"back": 20, "front": 150, "height": 30}], "arms": {"width": 8})";
  const auto to_z = [&](const std::string& box) {
    return Read(Edited("\"back_bow\": 10", box, Edited(R"("arms": {"width": 8})", contents)))
        .contents.at(0)
        .z_max_mm;
  };
  CHECK(to_z("\"back_bow\": 0") == Approx(170.0 - 12.0 - 30.0));
  // Over the inner height of 108 the end leans in by 108 tan(5 deg), and its hollow by 2 more.
  CHECK(to_z("\"end_flare_deg\": 5, \"end_cup\": 2") ==
        Approx(128.0 - 108.0 * std::tan(5.0 * kRadPerDeg) - 2.0));
}

}  // namespace
}  // namespace lidwright
