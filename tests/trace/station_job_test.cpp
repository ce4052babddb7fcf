// SPDX-License-Identifier: Apache-2.0
#include "lidwright/trace/station_job.h"

#include "lidwright/job/read_job.h"
#include "trace_text.h"

namespace lidwright {
namespace {

Ring RingOf(const std::vector<std::pair<double, double>>& points, double dx = 0.0) {
  Ring ring;
  for (const auto& [x, y] : points) ring.emplace_back(x + dx, y);
  return ring;
}

StationOutline At(double z, double dx = 0.0) {
  return {z, {RingOf(kCasePoints, dx)}, {RingOf(kLidPoints, dx)}};
}

StationJobWish Wish() {
  StationJobWish wish;
  wish.file_name = "box.json";
  wish.name = "traced";
  wish.width_mm = 300;
  return wish;
}

std::string Said(std::vector<StationOutline> sections, const StationJobWish& wish = Wish()) {
  const StationJob job = WriteStationJob(std::move(sections), wish);
  CHECK(job.text.empty());
  return Lines(job.problems);
}

}  // namespace

TEST_CASE("a section's walls, depth and height become the job's measures", "[trace]") {
  for (const bool inches : {false, true}) {
    StationJobWish wish = Wish();
    wish.inches = inches;
    wish.end_wall_mm = 8;
    const StationJob written = WriteStationJob({At(0)}, wish);
    INFO(Lines(written.problems) << written.text);
    REQUIRE(written.problems.empty());
    const JobReading reading = ReadJob(written.text, "box.json");
    REQUIRE(reading.job.has_value());
    const Job& job = *reading.job;
    CHECK(job.inches == inches);
    const double within = inches ? 0.002 : 1e-9;
    CHECK(job.case_form.width_mm == Approx(300).margin(within));
    CHECK(job.case_form.depth_mm == Approx(200).margin(within));
    CHECK(job.case_form.height_mm == Approx(100).margin(within));
    CHECK(job.case_form.back_wall_mm == Approx(10).margin(within));
    CHECK(job.case_form.front_wall_mm == Approx(10).margin(within));
    CHECK(job.case_form.end_wall_mm == Approx(8).margin(within));
    CHECK(job.case_form.floor_mm == Approx(10).margin(within));
    CHECK(job.lid.top_mm == Approx(30).margin(within));  // a solid lid
    // One section is taken for the whole width.
    REQUIRE(job.stations.size() == 3);
    CHECK(job.stations[2].z_mm == Approx(150));
    CHECK(job.stations[2].case_rings[0].size() == kCasePoints.size());
  }
}

TEST_CASE("what chords leave out stands in the job, rounded up, and nothing where all is straight",
          "[trace]") {
  for (const bool inches : {false, true}) {
    StationJobWish wish = Wish();
    wish.inches = inches;
    CHECK_FALSE(Says(WriteStationJob({At(0)}, wish).text, "\"stations_error\""));
    for (const double error_mm : {0.02, 0.01234, 1e-5, 0.0199999}) {
      wish.chord_error_mm = error_mm;
      const StationJob written = WriteStationJob({At(0)}, wish);
      REQUIRE(written.problems.empty());
      const double said_mm = ReadJob(written.text, "box.json").job->stations_error_mm;
      CHECK(said_mm >= error_mm);
      CHECK(said_mm <= error_mm + (inches ? 1.01e-4 * 25.4 : 1.01e-4) + 1e-6);
      CHECK(Says(Lines(written.notes), "every certified gap is less by that"));
      if (error_mm == 0.01234) {
        CHECK(Says(Lines(written.notes), inches ? "up to 0.0005 in off" : "up to 0.0124 mm off"));
      }
    }
  }
}

TEST_CASE("a middle that stands out behind the ends is a bow", "[trace]") {
  const StationJob written = WriteStationJob({At(0, -7), At(150)}, Wish());
  REQUIRE(written.problems.empty());
  const Job job = *ReadJob(written.text, "box.json").job;
  CHECK(job.case_form.back_bow_mm == Approx(7));
  CHECK(job.case_form.front_bow_mm == Approx(-7));  // the whole section stands back
}

TEST_CASE("sections at impossible places are refused", "[trace]") {
  CHECK(Says(Said({At(0), At(200)}),
             "a section stands 200 mm from mid-width (half of the width is "
             "150 mm)"));
  CHECK(Says(Said({At(0), At(0)}), "two sections stand at the same place"));
  CHECK(Says(Said({At(20), At(150)}), "one must stand at mid-width"));
}

TEST_CASE("a case without room inside is refused", "[trace]") {
  StationOutline solid = At(0);
  solid.case_rings = {{{0, -100}, {200, -100}, {200, 0}, {0, 0}}};
  CHECK(Says(Said({solid}), "the case is solid"));
}

TEST_CASE("what is out of range for a job is said before anything is written", "[trace]") {
  StationJobWish wish = Wish();
  wish.width_mm = 12000;
  CHECK(Says(Said({At(0)}, wish), "case.width = 12000: must be from 30 to 3000 mm"));
}

}  // namespace lidwright
