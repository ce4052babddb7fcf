// SPDX-License-Identifier: Apache-2.0
#include "form.h"

#include <algorithm>
#include <cmath>

#include "lidwright/arms/hardware.h"
#include "lidwright/base/numbers.h"
#include "lidwright/job/read_job.h"

namespace lidwright {
namespace {

Json ValueOf(const KeyRow& row, const std::string& text) {
  const bool numeric = row.kind == KeyKind::kLength || row.kind == KeyKind::kAngle ||
                       row.kind == KeyKind::kShare || row.kind == KeyKind::kCount;
  if (row.kind == KeyKind::kFlag && (text == "true" || text == "false")) return text == "true";
  if (!numeric) return text;
  const std::optional<double> number = PlainNumber(text);
  if (!number) return text;
  constexpr double kWhole = 1e15;
  if (*number == std::floor(*number) && std::abs(*number) < kWhole) {
    return static_cast<long long>(*number);
  }
  return *number;
}

// "case.width" -> {"case", "width"}; a field is at the top or in one section.
std::pair<std::string, std::string> PartsOf(const std::string& key) {
  const std::size_t dot = key.find('.');
  if (dot == std::string::npos) return {"", key};
  return {key.substr(0, dot), key.substr(dot + 1)};
}

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

Json WithField(const Json& tree, const KeyRow& row, const std::string& typed) {
  Json changed = tree;
  const auto [section, name] = PartsOf(row.key);
  const std::string text = Trimmed(typed, " \t\r\n");
  if (text.empty()) {
    Json* holder = section.empty()             ? &changed
                   : changed.contains(section) ? &changed[section]
                                               : nullptr;
    if (holder && holder->is_object()) holder->erase(name);
    return changed;
  }
  if (section.empty()) {
    changed[name] = ValueOf(row, text);
  } else if (!changed.contains(section) || changed[section].is_object()) {
    changed[section][name] = ValueOf(row, text);
  }
  return changed;
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
