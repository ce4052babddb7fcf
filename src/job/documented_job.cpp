// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/documented_job.h"

#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "job/written_value.h"
#include "lidwright/base/check.h"
#include "lidwright/base/numbers.h"
#include "lidwright/job/file_format.h"

namespace lidwright {
namespace {

bool Counts(KeyKind kind) {
  return kind == KeyKind::kLength || kind == KeyKind::kAngle || kind == KeyKind::kShare ||
         kind == KeyKind::kCount;
}

// "How far … (0 to 300 mm; 0 if not given)".
std::string RemarkOn(const Key& key, bool inches) {
  std::string more;
  if (Counts(key.kind)) {
    const bool converted = key.kind == KeyKind::kLength && inches;
    const double unit = converted ? kMmPerInch : 1.0;
    more = Text(key.min / unit) + " to " + Text(key.max / unit);
    if (key.kind == KeyKind::kLength) more += converted ? " in" : " mm";
    if (key.kind == KeyKind::kAngle) more += " deg";
  }
  // The units' meaning names them itself.
  if (key.kind == KeyKind::kWord && key.path != "units") more = key.choices.Text();
  if (!key.fallback.text.empty()) {
    const std::string fallback =
        key.fallback.required ? key.fallback.text : "if not given: " + key.fallback.text;
    more += (more.empty() ? "" : "; ") + fallback;
  }
  return key.meaning + (more.empty() ? "" : " (" + more + ")");
}

// Collects the lines of one object; commas come between entries, not after the last.
class Object {
 public:
  explicit Object(const std::string& indent) : indent_(indent) {}
  void Add(const std::string& name, const std::string& value) {
    text_ += (text_.empty() ? "" : ",\n") + indent_ + JsonText(name) + ": " + value;
  }
  bool Empty() const { return text_.empty(); }
  std::string Done() const { return "{\n" + text_ + "\n" + indent_.substr(2) + "}"; }

 private:
  std::string indent_, text_;
};

// Numbers and texts, and lists of them within each other: those of points six to a line.
std::string ListText(const Json& list) {
  constexpr int kPointsInLine = 6;
  const bool points = !list.empty() && list[0].is_array() && !list[0][0].is_array();
  std::string text = "[";
  int count = 0;
  for (const Json& item : list) {
    if (count > 0)
      text += !item.is_array()             ? ", "
              : !points                    ? ",\n       "
              : count % kPointsInLine == 0 ? ",\n        "
                                           : ", ";
    text += item.is_array() ? ListText(item) : PlainText(item);
    ++count;
  }
  return text + "]";
}

std::string EntryText(const Json& value) {
  if (!value.is_array()) return PlainText(value);
  if (value.empty() || !value[0].is_object()) return ListText(value);
  std::string text = "[";
  for (const Json& object : value) {
    text += (text.size() > 1 ? ",\n" : "\n") + std::string("    {");
    bool first = true;
    for (const auto& [name, inner] : object.items()) {
      text += (first ? "" : ",\n     ") + JsonText(name) + ": " + EntryText(inner);
      first = false;
    }
    text += "}";
  }
  return text + "\n  ]";
}

}  // namespace

std::string JsonText(const std::string& text) {
  using nlohmann::json;
  return json(text).dump(-1, ' ', false, json::error_handler_t::replace);
}

std::vector<JobEntry> EntriesOf(const Job& job, const std::vector<std::string>& paths) {
  JobDraft draft = DraftOf(job);
  const std::vector<Key> table = JobKeys(&draft);
  const std::set<std::string> wanted(paths.begin(), paths.end());
  std::vector<JobEntry> entries;
  std::size_t known = 0;
  for (const Key& key : table) {
    const bool named = wanted.count(key.path) > 0;
    known += named;
    if (!named && key.path != "units") continue;
    const Json value = WrittenValue(key, table, job.inches);
    if (!value.is_null()) entries.push_back({key.path, EntryText(value)});
  }
  LW_REQUIRE(known == wanted.size(), known << " of " << wanted.size() << " keys are known");
  return entries;
}

std::string DocumentedJob(const std::vector<JobEntry>& entries, KeyRemarks remarks,
                          const std::vector<std::string>& about) {
  std::map<std::string, std::string> values;
  for (const JobEntry& entry : entries) values[entry.path] = entry.value;
  const bool inches = values.count("units") && values["units"] == "\"in\"";
  JobDraft draft;
  draft.has_stations = values.count("stations") > 0;
  const std::vector<Key> table = JobKeys(&draft);
  values["format"] = JsonText(FormatText(kJobFormat));
  std::size_t written = 0;
  const auto add = [&](const Key& key, Object* object) {
    const auto found = values.find(key.path);
    if (found == values.end() && remarks == KeyRemarks::kGivenKeys) return;
    object->Add("# " + key.Name(), JsonText(RemarkOn(key, inches)));
    if (found == values.end()) return;
    object->Add(key.Name(), found->second);
    ++written;
  };
  Object root("  ");
  for (std::size_t i = 0; i < about.size(); ++i) {
    root.Add(i == 0 ? "#" : "# " + std::to_string(i + 1), JsonText(about[i]));
  }
  for (const Key& key : table) {
    if (!key.Parent().empty()) continue;
    if (key.kind != KeyKind::kSection) {
      add(key, &root);
      continue;
    }
    Object section("    ");
    for (const Key& inner : table) {
      if (inner.Parent() == key.path) add(inner, &section);
    }
    if (!section.Empty()) root.Add(key.Name(), section.Done());
  }
  LW_REQUIRE(written == values.size(), written << " of " << values.size() << " keys are known");
  return root.Done() + "\n";
}

}  // namespace lidwright
