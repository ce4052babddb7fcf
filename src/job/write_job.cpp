// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/write_job.h"

#include <nlohmann/json.hpp>
#include <utility>

#include "job/written_value.h"

namespace lidwright {

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

std::string WriteJob(const Job& job) {
  return JsonLines(JobJson(job));
}

std::string WriteOpenJob(const Job& job) {
  return WriteOpenJob(job, {});
}

std::string WriteOpenJob(const Job& job,
                         const std::vector<std::pair<std::string, std::string>>& typed) {
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
  for (const auto& [key, text] : typed) {
    const std::size_t dot = key.find('.');
    const Json read = Json::parse(text, nullptr, false);
    (dot == std::string::npos ? tree[key] : tree[key.substr(0, dot)][key.substr(dot + 1)]) =
        read.is_number() || read.is_boolean() ? read : Json(text);
  }
  return JsonLines(tree);
}

}  // namespace lidwright
