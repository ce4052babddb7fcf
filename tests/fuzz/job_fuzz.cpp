// SPDX-License-Identifier: Apache-2.0
#include "fuzz.h"
#include "lidwright/job/file_format.h"

using namespace lidwright;

namespace {

// With twice the measures a box of stations is the same box, twice as large.
void LawOfScale(const Job& job) {
  if (job.stations.empty()) return;
  Job twice = job;
  CaseMeasures& form = twice.case_form;
  for (double* mm : {&form.width_mm, &form.depth_mm, &form.height_mm, &form.back_wall_mm,
                     &form.front_wall_mm, &form.end_wall_mm, &form.floor_mm, &twice.lid.wall_mm,
                     &twice.lid.top_mm, &twice.bay.width_mm, &twice.bay.edge_mm}) {
    *mm *= 2.0;
  }
  for (StationOutline& station : twice.stations) {
    station.z_mm *= 2.0;
    for (auto* rings : {&station.case_rings, &station.lid_rings}) {
      for (Ring& ring : *rings) {
        for (Vec2& p : ring) p *= 2.0;
      }
    }
  }
  const Solid once = MakeSolid(job), larger = MakeSolid(twice);
  fuzz::Law(once.stations.size() == larger.stations.size(), "twice as large, as many stations");
  const auto close = [](double a, double b) { return std::abs(2.0 * a - b) <= 1e-6; };
  fuzz::Law(close(once.mouth_back_mm, larger.mouth_back_mm) &&
                close(once.mouth_front_mm, larger.mouth_front_mm) &&
                (2.0 * once.bounds.low - larger.bounds.low).norm() <= 1e-6 &&
                (2.0 * once.bounds.high - larger.bounds.high).norm() <= 1e-6,
            "twice as large, the same box");
  const double volume = LidVolume_mm3(once), eight = LidVolume_mm3(larger);
  fuzz::Law(std::abs(8.0 * volume - eight) <= 1e-6 * std::max(1.0, std::abs(eight)),
            "twice as large, eight times the wood");
}

// Stations of one side alone are those of both.
void LawOfSides(const Job& job) {
  std::vector<StationOutline> half;
  for (const StationOutline& station : job.stations) {
    if (station.z_mm >= 0.0) half.push_back(station);
  }
  if (half.size() < 2 || half[0].z_mm != 0.0 || half[1].z_mm == 0.0) return;
  Job one_side = job;
  one_side.stations = half;
  const JobReading read = ReadJob(WriteJob(one_side), "half.json");
  if (!read.job) return fuzz::LawOfProblems(read.problems);  // the other side showed other measures
  const std::vector<StationOutline>& both = read.job->stations;
  fuzz::Law(both.size() == 2 * half.size() - 1, "one side alone is mirrored");
  for (std::size_t i = 0; i < both.size(); ++i) {
    const StationOutline& other = both[both.size() - 1 - i];
    fuzz::Law(both[i].z_mm == -other.z_mm && both[i].case_rings == other.case_rings &&
                  both[i].lid_rings == other.lid_rings,
              "one side alone is mirrored");
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(reinterpret_cast<const char*>(data), size);
  const JobReading reading = ReadJob(text, "job.json");
  fuzz::Law(reading.job.has_value() == reading.problems.empty(), "a job, or what is wrong with it");
  fuzz::LawOfProblems(reading.problems);
  if (!reading.job) return 0;
  fuzz::LawsOfJob(*reading.job);
  LawOfScale(*reading.job);
  LawOfSides(*reading.job);
  return 0;
}
