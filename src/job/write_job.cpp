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

std::string WriteJob(const Job& job) {
  return JsonLines(JobJson(job));
}

std::string WriteOpenJob(const Job& job) {
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
  return JsonLines(tree);
}

}  // namespace lidwright
