// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/base/problem.h"
#include "lidwright/base/units.h"
#include "lidwright/job/job.h"
#include "lidwright/trace/drawing_outline.h"

namespace lidwright {

/// What the sections do not say.
struct StationJobWish {
  std::string file_name;  ///< only named in problems
  std::string name;
  bool inches = false;             ///< the unit of the job that is written
  double width_mm = kUnset;        ///< of the case, outside; must be positive
  double end_wall_mm = kUnset;     ///< of case and lid; unset: as thick as the back
  double chord_error_mm = 0.0;     ///< how far the sections may be from the curves as drawn
  std::vector<std::string> about;  ///< remarks at the head of the file
};

struct StationJob {
  std::optional<Job> job;  ///< only when there are no problems
  std::string text;        ///< that of its file
  Notes notes;             ///< the measures taken from the sections
  Problems problems;
};

/// A job file with these sections as its stations. They come by growing z, in one frame (that of
/// the outermost one): either z = 0 … width/2, or both sides. A last section short of width/2 is
/// repeated there, and said so; so is a single one.
///
/// The measures that a job needs besides are taken from the sections: depth and height from the
/// outermost; the thickness of back, front and floor from the innermost, as the median over nine
/// lines across the middle 60 % of the case's height and depth; the dome's from the line at
/// mid-depth; bows and arch from the difference of the two.
///
/// The chord error, rounded up to 1e-4 mm, is the job's stations_error, by which every certified
/// gap is less (once for the case, once for the lid). That the box runs straight from one section
/// to the next is taken as meant: what a drawing in between would show is not known here.
///
/// Accuracy: coordinates are rounded to 1e-6 mm (1e-8 in), job and text alike.
/// Fails: what CompleteJob says of the job; a case without room inside, z that do not grow or lie
/// beyond half the width, no section at z = 0 or −width/2.
StationJob WriteStationJob(std::vector<StationOutline> sections, const StationJobWish& wish);

}  // namespace lidwright
