// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/read_job.h"

#include "job/finish_job.h"
#include "job/job_keys.h"
#include "job/json_tree.h"
#include "job/key_reader.h"
#include "lidwright/job/file_format.h"

namespace lidwright {
namespace {

// The objects of a job file's lists.
ListItems ItemsOf(const JsonValue& root, KeyReader* reader) {
  const auto list = [&root](const std::string& name) -> const JsonValue* {
    const JsonValue* value = root.Find(name);
    return value != nullptr && value->type == JsonValue::Type::kList ? value : nullptr;
  };
  ListItems items;
  items.count = [list](const std::string& name) -> std::optional<std::size_t> {
    const JsonValue* found = list(name);
    return found != nullptr ? std::optional(found->items.size()) : std::nullopt;
  };
  items.read = [list, reader](const std::string& name, std::size_t i, const std::string& place) {
    const JsonValue& object = list(name)->items[i];
    reader->ReadObject(object, name + "[]", place);
    return object.type == JsonValue::Type::kObject;
  };
  items.empty = [list](const std::string& name, std::size_t i, const std::string& key) {
    const JsonValue* rings = list(name)->items[i].Find(key);
    return rings != nullptr && rings->type == JsonValue::Type::kList && rings->items.empty();
  };
  return items;
}

}  // namespace

JobReading ReadJob(const std::string& text, const std::string& file_name) {
  JsonReading json = ReadJson(text, file_name);
  if (!json.root) return {std::nullopt, std::move(json.problems)};
  const JsonValue& root = *json.root;

  Findings findings(file_name);
  if (!CheckFormat(root, text, kJobFormat, &findings)) {
    return {std::nullopt, findings.TakeProblems()};
  }
  JobDraft draft;
  draft.has_stations = root.Find("stations") != nullptr;
  const std::vector<Key> table = JobKeys(&draft);
  KeyReader reader(text, table, &findings);
  TakeUnit(root, &findings);
  reader.ReadObject(root, "", "");
  FinishJob(table, ItemsOf(root, &reader), &draft, &findings);

  Problems problems = findings.TakeProblems(std::move(json.problems));
  if (!problems.empty()) return {std::nullopt, std::move(problems)};
  return {std::move(draft.job), {}};
}

}  // namespace lidwright
