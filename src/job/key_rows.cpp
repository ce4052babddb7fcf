// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/key_rows.h"

#include <algorithm>

#include "job/job_keys.h"
#include "lidwright/base/numbers.h"

namespace lidwright {
namespace {

std::string UnitOf(KeyKind kind) {
  switch (kind) {
    case KeyKind::kSection:
      return "object";
    case KeyKind::kList:
      return "list";
    case KeyKind::kText:
    case KeyKind::kWord:
      return "text";
    case KeyKind::kFlag:
      return "flag";
    case KeyKind::kLength:
      return "mm";
    case KeyKind::kAngle:
      return "deg";
    case KeyKind::kShare:
    case KeyKind::kCount:
      return "1";
    case KeyKind::kPoint:
      return "[x, y] in mm";
    case KeyKind::kZone:
      return "[[xmin, ymin], [xmax, ymax]] in mm";
    case KeyKind::kPoints:
      return "[[x, y], ...] in mm, in order of x";
    case KeyKind::kRings:
      return "[[x, y], ...] in mm";
    case KeyKind::kOutline:
      return "[[x, y, bulge], ...] in mm";
  }
  return "";
}

std::string RangeOf(const Key& key) {
  switch (key.kind) {
    case KeyKind::kSection:
    case KeyKind::kList:
      return "";
    case KeyKind::kText:
      return "at most " + Text(key.max) + " bytes";
    case KeyKind::kFlag:
      return "true, false";
    case KeyKind::kWord:
      return key.choices.Text();
    default:
      return Text(key.min) + " to " + Text(key.max);
  }
}

// "back wall" of "back_wall"; a unit at the end is said apart.
std::string LabelOf(const Key& key) {
  std::string label = key.Name();
  for (const char* unit : {"_deg", "_kg_m3", "_kg", "_n"}) {
    const std::string end = unit;
    if (label.size() <= end.size() || label.substr(label.size() - end.size()) != end) continue;
    label.resize(label.size() - end.size());
    break;
  }
  std::replace(label.begin(), label.end(), '_', ' ');
  return label;
}

std::vector<KeyRow> MakeRows() {
  JobDraft draft;
  std::vector<KeyRow> rows;
  for (const Key& key : JobKeys(&draft)) {
    KeyRow row;
    row.key = key.path;
    row.section = key.Parent();
    row.label = LabelOf(key);
    row.kind = key.kind;
    row.unit = UnitOf(key.kind);
    row.range = RangeOf(key);
    row.min = key.min;
    row.max = key.max;
    row.fallback = key.fallback.text;
    row.required = key.fallback.required;
    row.meaning = key.meaning;
    row.choices = key.choices.words;
    row.other_words = key.choices.others;
    row.goes_with = key.goes_with;
    rows.push_back(std::move(row));
  }
  return rows;
}

}  // namespace

const std::vector<KeyRow>& JobKeyRows() {
  static const std::vector<KeyRow> kRows = MakeRows();
  return kRows;
}

std::optional<KeyRow> FindKeyRow(const std::string& path) {
  for (const KeyRow& row : JobKeyRows()) {
    if (row.key == path) return row;
  }
  return std::nullopt;
}

std::string JobReference() {
  std::string table =
      "| key | unit | range | default | meaning |\n"
      "| --- | --- | --- | --- | --- |\n";
  for (const KeyRow& row : JobKeyRows()) {
    table += "| `" + row.key + "` | " + row.unit + " | " + row.range + " | " + row.fallback +
             " | " + row.meaning + " |\n";
  }
  return table;
}

}  // namespace lidwright
