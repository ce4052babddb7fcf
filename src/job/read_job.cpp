// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/read_job.h"

#include <algorithm>
#include <cmath>

#include "job/check_form.h"
#include "job/check_job.h"
#include "job/job_keys.h"
#include "job/json_tree.h"
#include "job/key_reader.h"
#include "lidwright/base/numbers.h"

namespace lidwright {
namespace {

// Calls `take(object, place)` for every object of a list, its slots filled, defaults included.
template <typename Take>
void ReadList(const JsonValue& root, const std::string& name, KeyReader* reader, Take take) {
  const JsonValue* list = root.Find(name);
  if (list == nullptr || list->type != JsonValue::Type::kList) return;
  for (std::size_t i = 0; i < list->items.size(); ++i) {
    const std::string place = name + "[" + std::to_string(i) + "]";
    reader->ReadObject(list->items[i], name + "[]", place);
    if (list->items[i].type != JsonValue::Type::kObject) continue;
    reader->FillDefaults(name + "[]", place);
    take(list->items[i], place);
  }
}

// A block that stands on the floor, as a ring.
Ring Block(const Job& job, double back_mm, double front_mm, double height_mm) {
  const double floor_mm = job.case_form.floor_mm - job.case_form.height_mm;
  return {{back_mm, floor_mm},
          {front_mm, floor_mm},
          {front_mm, floor_mm + height_mm},
          {back_mm, floor_mm + height_mm}};
}

void TakeContent(const JsonValue& object, const std::string& place, JobDraft* draft,
                 KeyReader* reader) {
  Job& job = draft->job;
  const auto& content = draft->content;
  const JsonValue* outline = object.Find("outline");
  int block = 0;
  for (const char* name : {".back", ".front", ".height"}) block += reader->WasGiven(place + name);
  if (outline && block > 0) {
    reader->Complain(place, "has both an outline and a block", "give one of them");
  } else if (!outline && block < 3) {
    reader->Complain(place, "needs an outline, or back, front and height");
  } else if (outline && outline->type == JsonValue::Type::kList && outline->items.empty()) {
    reader->Complain(place + ".outline", "must be an outline: [[x, y], [x, y], [x, y], ...]");
  }
  if (content.back_mm >= content.front_mm) {
    reader->Complain(place + ".front", "must be more than back, " + reader->Shown(content.back_mm));
  }
  const double rear_mm = job.case_form.back_wall_mm - std::max(0.0, job.case_form.back_bow_mm);
  const double fore_mm = job.case_form.depth_mm - job.case_form.front_wall_mm +
                         std::max(0.0, job.case_form.front_bow_mm);
  if (content.back_mm < rear_mm) {
    reader->Complain(place + ".back",
                     "reaches into the back, whose inner face is at " + reader->Shown(rear_mm));
  }
  if (content.front_mm > fore_mm) {
    reader->Complain(place + ".front",
                     "reaches into the front, whose inner face is at " + reader->Shown(fore_mm));
  }
  const double inner_mm = job.case_form.width_mm / 2 - job.case_form.end_wall_mm;
  if (content.from_z_mm >= content.to_z_mm) {
    reader->Complain(place + ".to_z",
                     "must be more than from_z, " + reader->Shown(content.from_z_mm), "",
                     reader->Shown(content.to_z_mm) + " by default");
  }
  if (content.from_z_mm < -inner_mm) {
    reader->Complain(place + ".from_z", "must be at least " + reader->Shown(-inner_mm) +
                                            ", the inner face of the end wall");
  }
  if (content.to_z_mm > inner_mm) {
    reader->Complain(place + ".to_z", "must be at most " + reader->Shown(inner_mm) +
                                          ", the inner face of the end wall");
  }
  Contents kept{content.rings, content.from_z_mm, content.to_z_mm};
  if (!outline) {
    kept.rings = {Block(job, content.back_mm, content.front_mm, content.height_mm)};
  }
  job.contents.push_back(std::move(kept));
}

void TakePose(const std::string& place, JobDraft* draft, KeyReader* reader) {
  const auto& pose = draft->pose;
  if (pose.angle_rad > draft->job.swing.open_rad) {
    reader->Complain(
        place + ".angle_deg",
        "must be at most swing.open_deg, " + Text(draft->job.swing.open_rad * kDegPerRad) + " deg");
  }
  if (!pose.at || !pose.point) return;
  draft->job.poses.push_back({pose.angle_rad, *pose.at, *pose.point, pose.within_mm});
}

}  // namespace

JobReading ReadJob(const std::string& text, const std::string& file_name) {
  JsonReading json = ReadJson(text, file_name);
  if (!json.root) return {std::nullopt, std::move(json.problems)};
  const JsonValue& root = *json.root;

  JobDraft draft;
  Job& job = draft.job;
  KeyReader reader(file_name, text, JobKeys(&draft, root.Find("stations") != nullptr));
  if (const JsonValue* units = root.Find("units")) {
    if (units->text == "in") reader.SetUnit(kMmPerInch);
    if (units->text == "mm") reader.SetUnit(1.0);
  }
  reader.ReadObject(root, "", "");
  reader.FillDefaults("", "");
  job.inches = draft.units == "in";
  if (!reader.WasGiven("shop.paper")) job.shop.paper = job.inches ? "Letter" : "A4";
  if (!reader.WasGiven("lid.curve_back")) job.lid.curve_back = draft.curve;
  if (!reader.WasGiven("lid.curve_front")) job.lid.curve_front = draft.curve;
  CheckMeasures(draft, &reader);
  if (root.Find("stations") == nullptr) {
    CheckForm(job, &reader);
  } else if (job.lid.lip_at_ends) {
    reader.Complain("lid.lip_at_ends", "is part of the measured form; stations are taken as given",
                    "leave it out: the ends of given stations have no lip");
  }
  CheckPivots(job, &reader);
  ReadList(root, "contents", &reader, [&](const JsonValue& object, const std::string& place) {
    TakeContent(object, place, &draft, &reader);
  });
  ReadList(root, "poses", &reader,
           [&](const JsonValue&, const std::string& place) { TakePose(place, &draft, &reader); });
  ReadList(root, "stations", &reader, [&](const JsonValue& object, const std::string& place) {
    const auto empty = [&object](const char* key) {
      const JsonValue* rings = object.Find(key);
      return rings && rings->type == JsonValue::Type::kList && rings->items.empty();
    };
    if (empty("case") && empty("lid")) reader.Complain(place, "has neither case nor lid");
    job.stations.push_back(draft.station);
  });
  const JsonValue* stations = root.Find("stations");
  if (stations != nullptr && stations->type == JsonValue::Type::kList) {
    if (stations->items.size() < 2) {
      reader.Complain("stations", "needs at least two stations");
    } else if (stations->items.size() == job.stations.size()) {
      CheckAndCompleteStations(&job, &reader);
    }
  }

  Problems problems = reader.TakeProblems(std::move(json.problems));
  if (!problems.empty()) return {std::nullopt, std::move(problems)};
  return {std::move(job), {}};
}

}  // namespace lidwright
