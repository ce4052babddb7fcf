// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/write_job.h"

#include <nlohmann/json.hpp>

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

}  // namespace lidwright
