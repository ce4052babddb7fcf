// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/write_job.h"

#include <cmath>
#include <nlohmann/json.hpp>
#include <utility>

#include "job/written_value.h"
#include "lidwright/base/numbers.h"

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

}  // namespace

Json JobJson(const Job& job) {
  JobDraft draft = DraftOf(job);
  const std::vector<Key> table = JobKeys(&draft);
  Json json;
  for (const Key& key : table) {
    if (key.InList() || !IsSaid(key, draft)) continue;
    Json value = WrittenValue(key, table, job.inches);
    if (value.is_null()) continue;
    const std::string section = key.Parent();
    (section.empty() ? json : json[section])[key.Name()] = std::move(value);
  }
  return json;
}

std::string TypedText(const Json& tree, const std::string& key) {
  const std::size_t dot = key.find('.');
  const Json* holder = &tree;
  if (dot != std::string::npos) {
    const auto found = tree.find(key.substr(0, dot));
    if (found == tree.end() || !found->is_object()) return "";
    holder = &*found;
  }
  const auto value = holder->find(dot == std::string::npos ? key : key.substr(dot + 1));
  if (value == holder->end()) return "";
  return value->is_string() ? value->get<std::string>() : value->dump();
}

std::string TypedText(const Job& job, const std::string& key) {
  return TypedText(JobJson(job), key);
}

Json WithTyped(const Json& tree, const KeyRow& row, const std::string& typed) {
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

std::string WriteJob(const Job& job) {
  return JsonLines(JobJson(job));
}

std::string WriteOpenJob(const Job& job) {
  return WriteOpenJob(job, {});
}

std::string WriteOpenJob(const Job& job, const std::vector<KeyChange>& changes) {
  Json tree = JobJson(job);
  const OpenSizes& open = job.arms.open;
  const std::pair<const char*, bool> sizes[] = {{"material", open.material},
                                                {"thickness", open.thickness},
                                                {"width", open.width},
                                                {"bushing", open.bushing},
                                                {"eye", open.eye}};
  for (const auto& [key, is_open] : sizes) {
    if (is_open) tree["arms"].erase(key);
  }
  for (const KeyChange& change : changes) {
    tree = WithTyped(tree, *FindKeyRow(change.key), change.text);
  }
  return JsonLines(tree);
}

}  // namespace lidwright
