// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "fuzz.h"
#include "lidwright/base/units.h"
#include "lidwright/geometry/ring.h"
#include "lidwright/trace/drawing_outline.h"
#include "lidwright/trace/station_job.h"

namespace lidwright::fuzz {

/// The first byte chooses options; the rest is the drawing.
inline TraceOptions OptionsOf(std::uint8_t choice) {
  TraceOptions options;
  options.file_name = "drawing";
  if (choice & 1) options.back = BackSide::kRight;
  if (choice & 2) options.known_width_mm = 220.0;
  if (choice & 4) options.gap_limit_mm = 0.0;
  if ((choice & 10) == 8) options.mm_per_unit = kMmPerInch;
  return options;
}

/// What was traced is an outline; the job made of it reads as what it is, or is refused in words.
inline void LawsOfTrace(const TracedOutline& traced, bool inches) {
  LawOfProblems(traced.problems);
  if (!traced.problems.empty()) return;
  Law(!traced.case_rings.empty() && !traced.lid_rings.empty(), "case and lid are found");
  for (const auto* rings : {&traced.case_rings, &traced.lid_rings}) {
    for (const Ring& ring : *rings) {
      Law(!FaultOf(ring).has_value(), "what is traced is an outline");
    }
  }
  StationJobWish wish;
  wish.file_name = "traced.json";
  wish.name = "traced";
  wish.inches = inches;
  wish.width_mm = 340.0;
  wish.chord_error_mm = traced.chord_error_mm;
  const StationJob made = WriteStationJob({{0.0, traced.case_rings, traced.lid_rings}}, wish);
  LawOfProblems(made.problems);
  if (!made.problems.empty()) return;
  const JobReading reading = ReadJob(made.text, "traced.json");
  LawOfProblems(reading.problems);
  Law(reading.job.has_value(), "a job that trace writes can be read: " +
                                   (reading.problems.empty() ? "" : Describe(reading.problems[0])));
  LawsOfJob(*reading.job);
}

}  // namespace lidwright::fuzz
