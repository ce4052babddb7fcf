// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <random>
#include <set>
#include <string>

#include "job/job_keys.h"
#include "job/written_value.h"
#include "lidwright/job/read_job.h"
#include "sample_job.h"

namespace lidwright {

/// A file of a job at random, key by key from the table, whatever rows it has: near the sample
/// job's values where that has some, else anywhere in the lower part of the range. What contradicts
/// the rest is left out again, so that what comes out can be read.
class RandomFile {
 public:
  RandomFile(unsigned seed, bool inches, bool stations) : random_(seed), stations_(stations) {
    near_ = DraftOf(*ReadJob(kSampleJob, "near.json").job);
    near_.has_stations = false;
    near_table_ = JobKeys(&near_);
    draft_.has_stations = stations;
    draft_.job.inches = inches;
    table_ = JobKeys(&draft_);
  }

  /// The file's text; `said` gets the paths in it. Empty if nothing could be made of it.
  std::string Make(std::set<std::string>* said) {
    Json file;
    for (std::size_t k = 0; k < table_.size(); ++k) Add(k, &file);
    // What is complained about goes, key by key.
    for (int turn = 0; turn < 60; ++turn) {
      const std::string text = file.dump(1);
      const Problems problems = ReadJob(text, "random.json").problems;
      if (problems.empty()) {
        Collect(file, "", said);
        return text;
      }
      if (!Remove(problems.front().place, &file)) return "";
    }
    return "";
  }

 private:
  double Between(double low, double high) {
    return low + (high - low) * static_cast<double>(random_() % 1000003) / 1000002.0;
  }
  bool Chance(double share) { return Between(0.0, 1.0) < share; }

  double Number(std::size_t k) {
    const Key& key = table_[k];
    double near = kUnset;
    if (double* const* slot = std::get_if<double*>(&near_table_[k].slot)) near = **slot;
    if (key.kind == KeyKind::kAngle) near *= kDegPerRad;
    double low = key.min, high = key.min + 0.1 * (key.max - key.min);
    if (std::isfinite(near) && near != 0.0) {
      low = near - 0.3 * std::abs(near);
      high = near + 0.3 * std::abs(near);
    } else if (near == 0.0) {
      low = -4.0;
      high = 4.0;
    }
    double value = Between(std::max(low, key.min), std::min(high, key.max));
    const double unit = key.kind == KeyKind::kLength && draft_.job.inches ? kMmPerInch : 1.0;
    const double steps[] = {1.0, 64.0, 1e3, 1e5, 0.0};
    const double step = steps[random_() % 5];  // as people write, and as computers do
    if (step > 0.0) value = std::round(value / unit * step) / step * unit;
    return std::clamp(value, key.min, key.max);
  }

  std::string Letters(std::size_t most) {
    static const std::string kSome[] = {"a", "Z", " ", "\"", "\\", "'", "é", "/", "#", "7"};
    std::string text;
    for (std::size_t i = random_() % 12 + 1; i > 0 && text.size() + 2 < most; --i) {
      text += kSome[random_() % 10];
    }
    return text;
  }

  Vec2 Place() { return {std::round(Between(20.0, 190.0)), std::round(Between(-100.0, 10.0))}; }

  std::vector<Ring> Rings(const std::string& name) {
    const double z = draft_.station.z_mm;
    const double bow = std::isnan(z) ? 0.0 : (170.0 - std::abs(z)) / 50.0;
    if (name == "case") {
      return {{{-bow, -120},
               {220, -120},
               {220, 0},
               {208, 0},
               {208, -108},
               {12, -108},
               {12, 0},
               {-bow, 0}}};
    }
    if (name == "lid") return {{{-bow, 0}, {220, 0}, {200, 30}, {110, 52}, {20, 30}}};
    const Vec2 at = Place();
    return {{at, at + Vec2(9.5, 0.25), at + Vec2(0.0, 7.0)}, {{-9, -9}, {-8, -9}, {-9, -8}}};
  }

  void Fill(std::size_t k) {
    const Key& key = table_[k];
    const Slot& slot = key.slot;
    switch (key.kind) {
      case KeyKind::kSection:
      case KeyKind::kList:
      case KeyKind::kOutline:
        return;
      case KeyKind::kText:
        *std::get<std::string*>(slot) = Letters(static_cast<std::size_t>(key.max));
        return;
      case KeyKind::kWord:
        *std::get<std::string*>(slot) =
            key.choices.others && Chance(0.2)
                ? "pear"
                : key.choices.words[random_() % key.choices.words.size()];
        return;
      case KeyKind::kLength:
      case KeyKind::kAngle:
      case KeyKind::kShare:
        return Store(Number(k), key);
      case KeyKind::kCount:
        return Store(std::floor(Between(key.min, key.max)), key);
      case KeyKind::kFlag:
        return Store(Chance(0.5) ? 1.0 : 0.0, key);
      case KeyKind::kPoint:
        *std::get<std::optional<Vec2>*>(slot) = Place();
        return;
      case KeyKind::kZone: {
        const Vec2 low = Place();
        *std::get<std::optional<Zone>*>(slot) = Zone{low, low + Vec2(33.0, 21.5)};
        return;
      }
      case KeyKind::kPoints:
        *std::get<std::vector<Vec2>*>(slot) = {{0.0, 20.0}, {Between(1.0, 9.0), 12.5}, {10.0, 3.0}};
        return;
      case KeyKind::kRings:
        *std::get<std::vector<Ring>*>(slot) = Rings(key.Name());
        return;
    }
  }

  void AddList(const Key& list, Json* file) {
    const double places[] = {0.0, 60.0, 60.0, 170.0};
    const std::size_t count = list.path == "stations" ? 4 : 1 + random_() % 2;
    for (std::size_t i = 0; i < count; ++i) {
      Json object;
      const bool block = Chance(0.5);  // of contents, instead of an outline
      for (std::size_t k = 0; k < table_.size(); ++k) {
        const Key& key = table_[k];
        if (key.Parent() != list.path + "[]") continue;
        const std::string name = key.Name();
        const bool of_block = name == "back" || name == "front" || name == "height";
        if (!key.fallback.required && Chance(0.3) && !of_block && name != "outline") continue;
        if (list.path == "contents" && (of_block ? !block : name == "outline" && block)) continue;
        Fill(k);
        if (list.path == "stations" && name == "z") draft_.station.z_mm = places[i];
        if (name == "back") draft_.content.back_mm = Between(30.0, 60.0);
        if (name == "front") draft_.content.front_mm = Between(70.0, 190.0);
        if (name == "from_z") draft_.content.from_z_mm = -Between(10.0, 100.0);
        if (name == "to_z") draft_.content.to_z_mm = Between(10.0, 100.0);
        object[name] = WrittenValue(key, table_, draft_.job.inches);
      }
      (*file)[list.path].push_back(std::move(object));
    }
  }

  void Add(std::size_t k, Json* file) {
    const Key& key = table_[k];
    const GoesWith other = stations_ ? GoesWith::kMeasures : GoesWith::kStations;
    if (key.InList() || key.kind == KeyKind::kSection || key.goes_with == other) return;
    if (key.kind == KeyKind::kList) {
      if (key.path == "stations" ? stations_ : Chance(0.4)) AddList(key, file);
      return;
    }
    const bool needed = key.fallback.required || key.path == "case.wall";
    if (!needed && Chance(0.5)) return;
    Fill(k);
    if (key.path == "format") draft_.format = "lidwright job 2";
    if (key.path == "units") draft_.units = draft_.job.inches ? "in" : "mm";
    if (stations_) {  // the stations' own
      const std::map<std::string, double> theirs{
          {"case.width", 340},    {"case.depth", 220},     {"case.height", 120}, {"case.wall", 12},
          {"case.back_wall", 12}, {"case.front_wall", 12}, {"case.floor", 12},   {"lid.wall", 12}};
      const auto found = theirs.find(key.path);
      if (found != theirs.end()) Store(found->second, key);
    }
    const std::string section = key.Parent();
    (section.empty() ? *file : (*file)[section])[key.Name()] =
        WrittenValue(key, table_, draft_.job.inches);
  }

  // Takes away what stands at the place of a problem, or what holds it if that is a list's object.
  static bool Remove(std::string place, Json* file) {
    place = place.substr(0, place.find('['));
    Json* holder = file;
    std::size_t dot;
    while ((dot = place.find('.')) != std::string::npos) {
      if (!holder->contains(place.substr(0, dot))) return false;
      holder = &(*holder)[place.substr(0, dot)];
      place.erase(0, dot + 1);
    }
    return holder->is_object() && holder->erase(place) > 0;
  }

  static void Collect(const Json& object, const std::string& before, std::set<std::string>* said) {
    for (const auto& [name, value] : object.items()) {
      said->insert(before + name);
      if (value.is_object()) Collect(value, before + name + ".", said);
      if (!value.is_array()) continue;
      for (const Json& item : value) {
        if (item.is_object()) Collect(item, before + name + "[].", said);
      }
    }
  }

  std::mt19937_64 random_;
  bool stations_;
  JobDraft near_, draft_;
  std::vector<Key> near_table_, table_;
};

}  // namespace lidwright
