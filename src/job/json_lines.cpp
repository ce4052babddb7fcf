// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/json_lines.h"

#include <nlohmann/json.hpp>

#include <algorithm>

namespace lidwright {
namespace {

constexpr std::size_t kLine = 100;  // letters

std::string Dumped(const Json& json) {
  // A name that is not UTF-8 must not stop the report.
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::string OnOneLine(const Json& list) {
  std::string text = "[";
  for (const Json& item : list) {
    text += text.size() == 1 ? "" : ", ";
    text += item.is_array() ? OnOneLine(item) : Dumped(item);
  }
  return text + "]";
}

bool IsPlain(const Json& json) {
  return !json.is_structured() ||
         (json.is_array() && std::all_of(json.begin(), json.end(), [](const Json& item) {
            return !item.is_object() && IsPlain(item);
          }));
}

bool HasLists(const Json& list) {
  return std::any_of(list.begin(), list.end(), [](const Json& item) { return item.is_array(); });
}

void Write(const Json& json, std::size_t depth, std::string* text) {
  if (!json.is_structured() || json.empty()) {
    *text += Dumped(json);
    return;
  }
  if (json.is_array() && IsPlain(json)) {
    const std::string line = OnOneLine(json);
    const bool numbers = !HasLists(json) && !json.front().is_string();
    if (numbers || line.size() + 2 * depth < kLine) {
      *text += line;
      return;
    }
  }
  const std::string indent(2 * (depth + 1), ' ');
  *text += json.is_object() ? "{" : "[";
  bool first = true;
  for (const auto& [key, value] : json.items()) {
    *text += (first ? "\n" : ",\n") + indent;
    if (json.is_object()) *text += Dumped(key) + ": ";
    Write(value, depth + 1, text);
    first = false;
  }
  *text += "\n" + std::string(2 * depth, ' ') + (json.is_object() ? "}" : "]");
}

}  // namespace

std::string JsonLines(const Json& json) {
  std::string text;
  Write(json, 0, &text);
  return text + "\n";
}

}  // namespace lidwright
