// SPDX-License-Identifier: Apache-2.0
#include "lists.h"

#include <nlohmann/json.hpp>

#include "lidwright/base/check.h"
#include "lidwright/job/job_limits.h"
#include "lidwright/job/write_job.h"

namespace lidwright {
namespace {

constexpr const char* kAxes[] = {"_x", "_y"};

// A value of the tree as typed, by the rules for any key.
Json ValueTyped(const KeyRow& row, const std::string& text) {
  KeyRow alone = row;
  alone.key = "value";
  return WithTyped(Json::object(), alone, text).value("value", Json(text));
}

std::string TextOf(const Json& entry, const EntryValue& value) {
  const std::string name = value.row.key.substr(value.row.section.size() + 1);
  if (value.coordinate < 0) return TypedText(entry, name);
  const auto point = entry.find(name);
  const auto at = static_cast<std::size_t>(value.coordinate);
  if (point == entry.end() || !point->is_array() || at >= point->size()) return "";
  const Json& number = (*point)[at];
  return number.is_string() ? number.get<std::string>() : number.dump();
}

void Type(const EntryValue& value, const std::string& text, Json* entry) {
  KeyRow row = value.row;
  row.key = row.key.substr(row.section.size() + 1);
  if (value.coordinate < 0) {
    *entry = WithTyped(*entry, row, text);
    return;
  }
  const bool there = entry->contains(row.key) && (*entry)[row.key].is_array();
  if (!there) (*entry)[row.key] = {0, 0};
  row.kind = KeyKind::kLength;
  (*entry)[row.key][static_cast<std::size_t>(value.coordinate)] = ValueTyped(row, text);
}

}  // namespace

const std::array<HandList, 2>& HandLists() {
  static const std::array<HandList, 2> kLists{{{"poses", kMostPoses}, {"contents", kMostContents}}};
  return kLists;
}

const HandList* FindHandList(const std::string& name) {
  for (const HandList& list : HandLists()) {
    if (name == list.name) return &list;
  }
  return nullptr;
}

std::vector<EntryValue> EntryValues(const HandList& list) {
  const std::string section = std::string(list.name) + "[]";
  std::vector<EntryValue> values;
  for (const KeyRow& row : JobKeyRows()) {
    if (row.section != section) continue;
    const std::string name = row.key.substr(section.size() + 1);
    if (row.kind == KeyKind::kLength || row.kind == KeyKind::kAngle) {
      values.push_back({name, row});
    } else if (row.kind == KeyKind::kPoint) {
      for (int k = 0; k < 2; ++k) values.push_back({name + kAxes[k], row, k});
    }
  }
  return values;
}

std::size_t CountOf(const Json& form, const HandList& list) {
  const auto found = form.find(list.name);
  return found == form.end() ? 0 : found->size();
}

Json EntriesTyped(const Json& form, const HandList& list) {
  Json entries = Json::array();
  for (std::size_t i = 0; i < CountOf(form, list); ++i) {
    Json typed;
    for (const EntryValue& value : EntryValues(list)) {
      typed[value.name] = TextOf(form[list.name][i], value);
    }
    entries.push_back(std::move(typed));
  }
  return entries;
}

Json WithEntry(const Json& form, const HandList& list, std::size_t number,
               const std::map<std::string, std::string>& typed) {
  LW_REQUIRE(number <= CountOf(form, list), "number=" << number);
  Json changed = form;
  Json& entries = changed[list.name];
  if (number == entries.size()) entries.push_back(Json::object());
  for (const EntryValue& value : EntryValues(list)) {
    const auto text = typed.find(value.name);
    if (text != typed.end()) Type(value, text->second, &entries[number]);
  }
  return changed;
}

Json WithoutEntry(const Json& form, const HandList& list, std::size_t number) {
  LW_REQUIRE(number < CountOf(form, list), "number=" << number);
  Json changed = form;
  changed[list.name].erase(number);
  if (changed[list.name].empty()) changed.erase(list.name);
  return changed;
}

std::vector<LidMark> LidMarks(const Solid& solid) {
  const Station *outermost = nullptr, *middle = nullptr;
  for (const Station& station : solid.stations) {
    if (station.lid_rings.empty()) continue;
    if (!outermost || station.z_mm >= outermost->z_mm) outermost = &station;
    if (!middle || Bounds(station.lid_rings).high.y() > Bounds(middle->lid_rings).high.y()) {
      middle = &station;
    }
  }
  if (!outermost) return {};
  // The point that lies farthest along a direction.
  const auto farthest = [](const Station& station, const Vec2& along) {
    Vec2 best = station.lid_rings.front().front();
    for (const Ring& ring : station.lid_rings) {
      for (const Vec2& p : ring) {
        if (p.dot(along) > best.dot(along)) best = p;
      }
    }
    return best;
  };
  return {{"rear", "lower rear edge", farthest(*outermost, {-1.0, -1.0})},
          {"front", "lower front edge", farthest(*outermost, {1.0, -1.0})},
          {"top", "top", farthest(*middle, {0.0, 1.0})}};
}

}  // namespace lidwright
