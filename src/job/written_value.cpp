// SPDX-License-Identifier: Apache-2.0
#include "job/written_value.h"

#include <cmath>
#include <nlohmann/json.hpp>

#include "lidwright/base/numbers.h"
#include "lidwright/job/file_format.h"
#include "lidwright/job/length.h"

namespace lidwright {
namespace {

// The number that gives `value` when the reader multiplies it by `per_unit`: the decimal that a
// person would have written if there is one, else the double next to the quotient; nothing if none
// of them does.
std::optional<double> Divided(double value, double per_unit) {
  const double plain = value / per_unit;
  for (const double places : {1.0, 1e3, 1e6, 1e9}) {
    const double rounded = std::round(plain * places) / places;
    if (rounded * per_unit == value) return rounded;
  }
  // Quotient and product are each rounded: what gave the value lies within two steps.
  double below = plain, above = plain;
  for (int step = 0; step <= 2; ++step) {
    if (below * per_unit == value) return below;
    if (above * per_unit == value) return above;
    below = std::nextafter(below, 0.0);
    above = std::nextafter(above, 2 * above);
  }
  return std::nullopt;
}

Json Number(double value, double per_unit) {
  return Divided(value, per_unit).value_or(value / per_unit);
}

// A length that no number of inches gives, such as one of whole millimetres, is said in mm.
Json Length(double mm, bool inches) {
  if (!inches) return Number(mm, 1.0);
  if (const std::optional<double> in = Divided(mm, kMmPerInch)) return *in;
  const std::string text = Exact(mm) + " mm";
  if (ReadLength_mm(text, kUnset) == mm) return text;
  return mm / kMmPerInch;
}

// Null where there is nothing, or no limit: a key left out reads the same.
struct Writer {
  const Key& key;
  const std::vector<Key>& table;
  bool inches;

  Json operator()(std::monostate) const {
    if (key.kind != KeyKind::kList) return nullptr;
    Json list;
    for (std::size_t i = 0; key.load(i); ++i) {
      Json object;
      for (const Key& inner : table) {
        if (inner.Parent() != key.path + "[]") continue;
        Json value = WrittenValue(inner, table, inches);
        if (!value.is_null()) object[inner.Name()] = std::move(value);
      }
      list.push_back(std::move(object));
    }
    return list;
  }
  Json operator()(const double* number) const {
    if (!std::isfinite(*number)) return nullptr;
    if (key.kind == KeyKind::kLength) return Length(*number, inches);
    return Number(*number, key.kind == KeyKind::kAngle ? kRadPerDeg : 1.0);
  }
  Json operator()(const std::string* text) const {
    return text->empty() ? Json(nullptr) : Json(*text);
  }
  Json operator()(const bool* flag) const { return *flag; }
  Json operator()(const unsigned* count) const { return *count; }
  Json operator()(const std::optional<Vec2>* point) const {
    return *point ? At(**point) : Json(nullptr);
  }
  Json operator()(const std::optional<Zone>* zone) const {
    return *zone ? Json::array({At((*zone)->low), At((*zone)->high)}) : Json(nullptr);
  }
  Json operator()(const std::vector<Vec2>* points) const {
    return points->empty() ? Json(nullptr) : Line(*points);
  }
  Json operator()(const std::vector<Ring>* rings) const {
    Json json = Json::array();
    for (const Ring& ring : *rings) json.push_back(Line(ring));
    return json;
  }
  Json operator()(const Outline*) const { return nullptr; }  // no key of a job

  Json At(const Vec2& p) const {
    return Json::array({Length(p.x(), inches), Length(p.y(), inches)});
  }
  Json Line(const std::vector<Vec2>& points) const {
    Json json = Json::array();
    for (const Vec2& p : points) json.push_back(At(p));
    return json;
  }
};

}  // namespace

JobDraft DraftOf(const Job& job) {
  JobDraft draft;
  draft.job = job;
  draft.has_stations = !job.stations.empty();
  draft.format = FormatText(kJobFormat);
  draft.units = job.inches ? "in" : "mm";
  return draft;
}

Json WrittenValue(const Key& key, const std::vector<Key>& table, bool inches) {
  return std::visit(Writer{key, table, inches}, key.slot);
}

std::string PlainText(const Json& value) {
  if (value.is_number_float()) return Exact(value.get<double>());
  if (!value.is_array()) return value.dump(-1, ' ', false, Json::error_handler_t::replace);
  std::string text = "[";
  for (const Json& item : value) text += (text.size() > 1 ? ", " : "") + PlainText(item);
  return text + "]";
}

bool IsSaid(const Key& key, const JobDraft& draft) {
  const GoesWith other = draft.has_stations ? GoesWith::kMeasures : GoesWith::kStations;
  return key.goes_with != other && !(key.written_if_other && IsDefault(key, 0.0));
}

}  // namespace lidwright
