// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/documented_job.h"

#include <map>
#include <nlohmann/json.hpp>

#include "job/job_keys.h"
#include "lidwright/base/check.h"
#include "lidwright/base/numbers.h"

namespace lidwright {
namespace {

bool Counts(Kind kind) {
  return kind == Kind::kLength || kind == Kind::kAngle || kind == Kind::kShare ||
         kind == Kind::kCount;
}

// "How far … (0 to 300 mm; 0 if not given)".
std::string RemarkOn(const Key& key, bool inches) {
  std::string more;
  if (Counts(key.kind)) {
    const bool converted = key.kind == Kind::kLength && inches;
    const double unit = converted ? kMmPerInch : 1.0;
    more = Text(key.min / unit) + " to " + Text(key.max / unit);
    if (key.kind == Kind::kLength) more += converted ? " in" : " mm";
    if (key.kind == Kind::kAngle) more += " deg";
  }
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

}  // namespace

std::string JsonText(const std::string& text) {
  using nlohmann::json;
  return json(text).dump(-1, ' ', false, json::error_handler_t::replace);
}

std::string DocumentedJob(const std::vector<JobEntry>& entries, KeyRemarks remarks,
                          const std::vector<std::string>& about) {
  std::map<std::string, std::string> values;
  for (const JobEntry& entry : entries) values[entry.path] = entry.value;
  const bool inches = values.count("units") && values["units"] == "\"in\"";
  JobDraft draft;
  const std::vector<Key> table = JobKeys(&draft, values.count("stations") > 0);
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
    if (key.kind != Kind::kSection) {
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

std::optional<KeyFacts> FactsOf(const std::string& path) {
  JobDraft draft;
  for (const Key& key : JobKeys(&draft, false)) {
    if (key.path != path) continue;
    return KeyFacts{key.meaning,
                    key.kind == Kind::kLength,
                    key.min,
                    key.max,
                    key.fallback.required ? "" : key.fallback.text,
                    key.fallback.required};
  }
  return std::nullopt;
}

}  // namespace lidwright
