// SPDX-License-Identifier: Apache-2.0
#include "job/finish_job.h"

#include <algorithm>
#include <cmath>

#include "job/check_form.h"
#include "job/check_job.h"
#include "job/check_stations.h"
#include "job/key_reader.h"
#include "lidwright/base/numbers.h"
#include "lidwright/geometry/ring.h"
#include "lidwright/job/inner_room.h"
#include "lidwright/job/job_limits.h"

namespace lidwright {
namespace {

void CheckTop(const std::string& place, const Job& job, const Contents& kept, Findings* findings) {
  if (kept.rings.empty()) return;
  const double over_mm = Bounds(kept.rings).high.y() - InnerRoomOf(job).top_mm;
  if (!(over_mm > 0.0 && std::isfinite(over_mm))) return;
  findings->Complain(place, "reaches " + findings->Shown(over_mm) + " out of the shut lid's top");
}

void TakeContent(const std::string& place, bool empty, JobDraft* draft, Findings* findings) {
  Job& job = draft->job;
  const auto& content = draft->content;
  const bool outline = findings->WasGiven(place + ".outline");
  int block = 0;
  for (const char* name : {".back", ".front", ".height"}) block += findings->WasGiven(place + name);
  if (outline && block > 0) {
    findings->Complain(place, "has both an outline and a block", "give one of them");
  } else if (!outline && block < 3) {
    findings->Complain(place, "needs an outline, or back, front and height");
  } else if (empty) {
    findings->Complain(place + ".outline", "must be an outline: [[x, y], [x, y], [x, y], ...]");
  }
  if (content.back_mm >= content.front_mm) {
    findings->Complain(place + ".front",
                       "must be more than back, " + findings->Shown(content.back_mm));
  }
  const InnerRoom room = InnerRoomOf(job);
  if (content.back_mm < room.back_mm) {
    findings->Complain(place + ".back", "reaches into the back, whose inner face is at " +
                                            findings->Shown(room.back_mm));
  }
  if (content.front_mm > room.front_mm) {
    findings->Complain(place + ".front", "reaches into the front, whose inner face is at " +
                                             findings->Shown(room.front_mm));
  }
  if (content.from_z_mm >= content.to_z_mm) {
    findings->Complain(place + ".to_z",
                       "must be more than from_z, " + findings->Shown(content.from_z_mm), "",
                       findings->Shown(content.to_z_mm) + " by default");
  }
  if (content.from_z_mm < -room.half_width_mm) {
    findings->Complain(place + ".from_z", "must be at least " +
                                              findings->Shown(-room.half_width_mm) +
                                              ", the inner face of the end wall");
  }
  if (content.to_z_mm > room.half_width_mm) {
    findings->Complain(place + ".to_z", "must be at most " + findings->Shown(room.half_width_mm) +
                                            ", the inner face of the end wall");
  }
  Contents kept{content.rings, content.from_z_mm, content.to_z_mm};
  if (!outline) {
    kept.rings = {BlockOnFloor(room, content.back_mm, content.front_mm, content.height_mm)};
  }
  CheckTop(place + (outline ? ".outline" : ".height"), job, kept, findings);
  job.contents.push_back(std::move(kept));
}

void TakePose(const std::string& place, JobDraft* draft, Findings* findings) {
  const auto& pose = draft->pose;
  if (pose.angle_rad > draft->job.swing.open_rad) {
    findings->Complain(
        place + ".angle_deg",
        "must be at most swing.open_deg, " + Text(draft->job.swing.open_rad * kDegPerRad) + " deg");
  }
  if (!pose.at || !pose.point) return;
  draft->job.poses.push_back({pose.angle_rad, *pose.at, *pose.point, pose.within_mm});
}

// Calls `take(i, place)` for every object of a list, its slots filled, defaults included. A list
// that is longer than `most` is refused as a whole.
template <typename Take>
void TakeList(const std::string& name, std::size_t most, const std::vector<Key>& table,
              const ListItems& items, Findings* findings, Take take) {
  const std::size_t count = items.count(name).value_or(0);
  if (count > most) {
    findings->Complain(
        name, "has " + std::to_string(count) + " entries, the most are " + std::to_string(most));
    return;
  }
  for (std::size_t i = 0; i < count; ++i) {
    const std::string place = name + "[" + std::to_string(i) + "]";
    if (!items.read(name, i, place)) continue;
    FillDefaults(table, *findings, name + "[]", place);
    take(i, place);
  }
}

}  // namespace

void FinishJob(const std::vector<Key>& table, const ListItems& items, JobDraft* draft,
               Findings* findings) {
  Job& job = draft->job;
  // Stations come first: some defaults are what they show.
  TakeList("stations", kMostStations, table, items, findings,
           [&](std::size_t i, const std::string& place) {
             if (items.empty("stations", i, "case") && items.empty("stations", i, "lid")) {
               findings->Complain(place, "has neither case nor lid");
             }
             job.stations.push_back(draft->station);
           });
  const auto open = [&](const char* key) { return !findings->WasGiven(key); };
  job.arms.open = {open("arms.material"), open("arms.thickness"), open("arms.width"),
                   open("arms.bushing"),  open("arms.eye"),       open("bay.edge")};
  FillDefaults(table, *findings, "", "");
  job.inches = draft->units == "in";
  CheckMeasures(*draft, findings);
  if (!draft->has_stations) CheckForm(job, findings);
  CheckGoesWith(table, draft->has_stations, findings);
  CheckPivots(job, findings);
  TakeList("contents", kMostContents, table, items, findings,
           [&](std::size_t i, const std::string& place) {
             TakeContent(place, items.empty("contents", i, "outline"), draft, findings);
           });
  TakeList("poses", kMostPoses, table, items, findings,
           [&](std::size_t, const std::string& place) { TakePose(place, draft, findings); });
  const std::optional<std::size_t> given = items.count("stations");
  if (given && *given < 2) {
    findings->Complain("stations", "needs at least two stations");
  } else if (given == job.stations.size()) {
    CheckAgainstStations(table, job, findings);
    CheckAndCompleteStations(&job, findings);
  }
}

}  // namespace lidwright
