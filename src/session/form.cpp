// SPDX-License-Identifier: Apache-2.0
#include "form.h"

#include <algorithm>

#include "lidwright/arms/hardware.h"
#include "lidwright/job/read_job.h"

namespace lidwright {
namespace {

FormPart TheRest(const std::vector<FormPart>& parts) {
  FormPart rest{"All other keys", {}, false};
  for (const KeyRow& row : JobKeyRows()) {
    if (!IsField(row) || row.key == "format") continue;
    const bool there = std::any_of(parts.begin(), parts.end(), [&](const FormPart& part) {
      return std::find(part.keys.begin(), part.keys.end(), row.key) != part.keys.end();
    });
    if (!there) rest.keys.push_back(row.key);
  }
  return rest;
}

}  // namespace

Json PlainBox() {
  return Json::parse(R"({"name": "", "units": "mm",
    "case": {"width": 320, "depth": 210, "height": 120, "wall": 12},
    "lid": {"rim": 14, "crown": 34}})");
}

const std::vector<FormPart>& FormParts() {
  static const std::vector<FormPart> kParts = [] {
    std::vector<FormPart> parts{
        {"The box", {"name", "units"}},
        {"Case",
         {"case.width", "case.depth", "case.height", "case.wall", "case.back_bow", "case.front_bow",
          "case.rim_arch"}},
        {"Lid", {"lid.rim", "lid.crown", "lid.crown_at_ends", "lid.wall", "lid.top"}},
        {"Swing", {"swing.open_deg", "swing.gap"}},
        {"Room", {"room.behind", "room.above", "room.open_behind_x", "room.bench_below"}},
        {"Hinge", {"arms.width", "arms.thickness", "arms.material", "arms.gap", "bay.width"}},
        {"Wood and tools", {"loads.wood", "shop.cutter", "shop.grid", "shop.paper"}},
    };
    parts.push_back(TheRest(parts));
    return parts;
  }();
  return kParts;
}

bool IsField(const KeyRow& row) {
  if (row.key.find('[') != std::string::npos) return false;
  if (std::count(row.key.begin(), row.key.end(), '.') > 1) return false;
  switch (row.kind) {
    case KeyKind::kText:
    case KeyKind::kWord:
    case KeyKind::kLength:
    case KeyKind::kAngle:
    case KeyKind::kShare:
    case KeyKind::kCount:
    case KeyKind::kFlag:
      return true;
    default:
      return false;
  }
}

FormReading ReadForm(const Json& tree) {
  JobReading read =
      ReadJob(tree.dump(-1, ' ', false, Json::error_handler_t::replace), std::string());
  FormReading reading{std::move(read.job), std::move(read.problems)};
  if (!reading.job) return reading;
  reading.solid = std::make_shared<const Solid>(MakeSolid(*reading.job));
  reading.problems = FaultsBeforeWork(*reading.job, *reading.solid);
  return reading;
}

}  // namespace lidwright
