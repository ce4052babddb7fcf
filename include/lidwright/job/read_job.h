// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/base/problem.h"
#include "lidwright/job/job.h"

namespace lidwright {

struct JobReading {
  std::optional<Job> job;  ///< only when there are no problems
  Problems problems;       ///< in the order of the file's lines
};

/// Reads the text of a job file (JSON) into a Job in mm and rad with every default filled in, or
/// into the list of all that is wrong with it. `file_name` is only named in the problems; no file
/// is touched here.
///
/// Lengths are numbers in the job's "units" or texts (see length.h), angles are keys that end in
/// _deg. Keys that begin with # are remarks and passed over. Every key, its range and its default
/// stand in one table: JobReference() (key_rows.h) prints it. Outlines may run either way round and
/// may or may not repeat their first point at the end; they come out with outer rings
/// counter-clockwise and holes clockwise (even-odd nesting decides). Stations given for z ≥ 0 only
/// come out mirrored to the other side as well. With stations, the lid's measures are not wanted:
/// those without a default are kUnset.
///
/// Fails, each as a Problem: text that is not JSON (only the first fault, with its column), a file
/// of a newer form (see file_format.h; nothing else is told then), unknown and doubled keys,
/// missing keys, wrong types, values out of range, measures that contradict each other or the
/// stations, measures that stations show themselves, outlines that cross themselves or each other,
/// files beyond the limits in tolerances.h. Problems that follow from another one (a range in
/// unknown units) are left out.
JobReading ReadJob(const std::string& text, const std::string& file_name);

}  // namespace lidwright
