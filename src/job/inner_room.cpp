// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/inner_room.h"

#include <algorithm>
#include <limits>

namespace lidwright {
namespace {

// Minus infinity if there are stations and none has a lid.
double LidTop_mm(const Job& job) {
  double top_mm = -std::numeric_limits<double>::infinity();
  for (const StationOutline& station : job.stations) {
    if (!station.lid_rings.empty()) top_mm = std::max(top_mm, Bounds(station.lid_rings).high.y());
  }
  if (!job.stations.empty()) return top_mm;
  const CaseMeasures& form = job.case_form;
  return job.lid.rim_mm + job.lid.crown_mm + job.lid.seam_gap_mm + std::max(0.0, form.rim_arch_mm) +
         std::max(0.0, form.rim_arch_side_mm);
}

}  // namespace

InnerRoom InnerRoomOf(const Job& job) {
  const CaseMeasures& form = job.case_form;
  InnerRoom room;
  room.back_mm = form.back_wall_mm - std::max(0.0, form.back_bow_mm);
  room.front_mm = form.depth_mm - form.front_wall_mm + std::max(0.0, form.front_bow_mm);
  room.floor_mm = form.floor_mm - form.height_mm;
  room.top_mm = LidTop_mm(job);
  room.half_width_mm = form.width_mm / 2 - form.end_wall_mm;
  return room;
}

Ring BlockOnFloor(const InnerRoom& room, double back_mm, double front_mm, double height_mm) {
  const double floor_mm = room.floor_mm;
  return {{back_mm, floor_mm},
          {front_mm, floor_mm},
          {front_mm, floor_mm + height_mm},
          {back_mm, floor_mm + height_mm}};
}

}  // namespace lidwright
