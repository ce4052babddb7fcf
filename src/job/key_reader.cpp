// SPDX-License-Identifier: Apache-2.0
#include "job/key_reader.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/job/length.h"

namespace lidwright {
namespace {

std::string Join(const std::string& place, const std::string& name) {
  return place.empty() ? name : place + "." + name;
}

void Clear(const Slot& slot) {
  struct Visitor {
    void operator()(std::monostate) const {}
    void operator()(double* d) const { *d = kUnset; }
    void operator()(std::string* s) const { s->clear(); }
    void operator()(bool* b) const { *b = false; }
    void operator()(unsigned* u) const { *u = 0; }
    void operator()(std::optional<Vec2>* p) const { p->reset(); }
    void operator()(std::optional<Zone>* z) const { z->reset(); }
    void operator()(std::vector<Vec2>* p) const { p->clear(); }
    void operator()(std::vector<Ring>* r) const { r->clear(); }
    void operator()(Outline* o) const { o->vertices.clear(); }
  };
  std::visit(Visitor{}, slot);
}

// Puts a number in the key's written unit (lengths in mm) into its slot.
void Store(double number, const Key& key) {
  if (double* const* real = std::get_if<double*>(&key.slot)) {
    **real = key.kind == Kind::kAngle ? number * kRadPerDeg : number;
  } else if (unsigned* const* count = std::get_if<unsigned*>(&key.slot)) {
    **count = static_cast<unsigned>(number);
  } else if (bool* const* flag = std::get_if<bool*>(&key.slot)) {
    **flag = number != 0.0;
  }
}

}  // namespace

KeyReader::KeyReader(std::string file, const std::string& text, std::vector<Key> table)
    : file_(std::move(file)), text_(text), table_(std::move(table)) {}

void KeyReader::ReadObject(const JsonValue& object, const std::string& pattern,
                           const std::string& place) {
  given_[place] = &object;
  if (object.type != JsonValue::Type::kObject) {
    ComplainAt(object, place, "must be an object: {\"key\": value, ...}");
    return;
  }
  std::set<std::string> known;
  for (const Key& key : table_) {
    if (key.Parent() != pattern) continue;
    known.insert(key.Name());
    if (!key.earlier.empty()) known.insert(key.earlier);
  }
  for (std::size_t i = 0; unknown_are_errors_ && i < object.items.size(); ++i) {
    const bool remark = !object.keys[i].empty() && object.keys[i][0] == '#';
    if (!remark && !known.count(object.keys[i])) {
      ComplainUnknown(object.items[i], object.keys[i], pattern, place);
    }
  }
  for (const Key& key : table_) {
    if (key.Parent() != pattern) continue;
    Clear(key.slot);
    const std::string here = Join(place, key.Name());
    const JsonValue* value = object.Find(key.Name());
    if (!key.earlier.empty()) {
      const JsonValue* before = object.Find(key.earlier);
      if (value && before)
        ComplainAt(*before, Join(place, key.earlier),
                   "stands there as \"" + key.Name() + "\" as well", "leave one of them out");
      if (!value) value = before;
    }
    if (value) {
      given_[here] = value;
      ReadValue(*value, key, here);
    } else if (key.fallback.required) {
      Complain(here, "is missing", key.meaning);
    } else if (key.kind == Kind::kSection) {
      for (const Key& inner : table_) {
        if (inner.Parent() == key.path) Clear(inner.slot);
      }
    }
  }
}

void KeyReader::FillDefaults(const std::string& pattern, const std::string& place) {
  for (const Key& key : table_) {
    const bool listed = key.path.find("[]") != std::string::npos;
    const bool mine = pattern.empty() ? !listed : key.Parent() == pattern;
    if (!mine) continue;
    if (!key.fallback.word.empty() && pattern.empty() && !WasGiven(key.path)) {
      *std::get<std::string*>(key.slot) = key.fallback.word;
    }
    if (!key.fallback.rule) continue;
    if (!WasGiven(pattern.empty() ? key.path : Join(place, key.Name()))) {
      Store(key.fallback.rule(), key);
    }
  }
}

void KeyReader::ReadValue(const JsonValue& value, const Key& key, const std::string& place) {
  using Type = JsonValue::Type;
  switch (key.kind) {
    case Kind::kSection:
      ReadObject(value, key.path, place);
      break;
    case Kind::kList:
      if (value.type != Type::kList) ComplainAt(value, place, "must be a list: [{...}, ...]");
      break;
    case Kind::kText:
    case Kind::kUnits: {
      if (value.type != Type::kText) {
        ComplainAt(value, place, "must be a text in quotes");
      } else if (key.kind == Kind::kUnits && value.text != "mm" && value.text != "in") {
        ComplainAt(value, place, "must be \"mm\" or \"in\"");
      } else if (key.kind == Kind::kText && value.text.size() > key.max) {
        ComplainAt(value, place, "must be at most " + Text(key.max) + " bytes long");
      } else if (Shortened(value.text, value.text.size()) != value.text) {
        ComplainAt(value, place, "must be one line without control characters");
      } else {
        *std::get<std::string*>(key.slot) = value.text;
      }
      break;
    }
    case Kind::kFlag:
      if (value.type != Type::kFlag) {
        ComplainAt(value, place, "must be true or false");
      } else {
        Store(value.flag ? 1.0 : 0.0, key);
      }
      break;
    case Kind::kLength:
      Store(ReadLength(value, key, place), key);
      break;
    case Kind::kAngle:
    case Kind::kShare:
    case Kind::kCount: {
      const double number = ReadNumber(value, key, place);
      if (!std::isnan(number)) Store(number, key);
      break;
    }
    case Kind::kPoint:
      *std::get<std::optional<Vec2>*>(key.slot) = ReadPoint(value, key, place);
      break;
    case Kind::kZone:
      *std::get<std::optional<Zone>*>(key.slot) = ReadZone(value, key, place);
      break;
    case Kind::kPoints:
      *std::get<std::vector<Vec2>*>(key.slot) = ReadPoints(value, key, place);
      break;
    case Kind::kRings:
      *std::get<std::vector<Ring>*>(key.slot) = ReadRings(value, key, place);
      break;
    case Kind::kOutline:
      *std::get<Outline*>(key.slot) = ReadOutline(value, key, place);
      break;
  }
}

double KeyReader::ReadLength(const JsonValue& value, const Key& key, const std::string& place) {
  using Type = JsonValue::Type;
  const bool inches = mm_per_unit_ == kMmPerInch;
  double length_mm = kUnset;
  if (value.type == Type::kNumber) {
    length_mm = value.number * mm_per_unit_;
  } else {
    const bool text = value.type == Type::kText;
    // In a job of inches "5-3/16" needs no unit; in one of millimetres a bare text is a slip.
    const std::optional<double> read =
        text ? ReadLength_mm(value.text, inches ? kMmPerInch : kUnset) : std::nullopt;
    if (!read && std::isnan(mm_per_unit_) && text && ReadLength_mm(value.text, 1.0)) return kUnset;
    if (!read) {
      const bool bare = text && ReadLength_mm(value.text, 1.0).has_value();
      ComplainAt(value, place,
                 inches ? "must be a length: a number in inches, or a text such as \"5-3/16\" or "
                          "\"12 mm\""
                        : "must be a length: a number in mm, or a text with its unit such as "
                          "\"12 mm\" or \"1/2 in\"",
                 bare ? "did you mean \"" + value.text + " mm\"?" : "");
      return kUnset;
    }
    length_mm = *read;
  }
  if (length_mm < key.min || length_mm > key.max) {
    ComplainAt(value, place, Range(key),
               value.type == Type::kNumber ? UnitDoubt(value.number, key) : "");
    return kUnset;
  }
  return length_mm;
}

double KeyReader::ReadNumber(const JsonValue& value, const Key& key, const std::string& place) {
  if (value.type != JsonValue::Type::kNumber) {
    ComplainAt(value, place,
               key.kind == Kind::kCount ? "must be a whole number" : "must be a number",
               key.kind == Kind::kAngle ? "in degrees, without quotes" : "without quotes");
    return kUnset;
  }
  if (key.kind == Kind::kCount && value.number != std::floor(value.number)) {
    ComplainAt(value, place, "must be a whole number");
    return kUnset;
  }
  if (!(value.number >= key.min && value.number <= key.max)) {
    ComplainAt(value, place, Range(key));
    return kUnset;
  }
  return value.number;
}

std::string KeyReader::Range(const Key& key) const {
  if (key.kind == Kind::kAngle) {
    return "must be from " + Text(key.min) + " to " + Text(key.max) + " deg";
  }
  if (key.kind == Kind::kShare || key.kind == Kind::kCount) {
    return "must be from " + Text(key.min) + " to " + Text(key.max);
  }
  const std::string low = Shown(key.min);
  return "must be from " + low.substr(0, low.find(' ')) + " to " + Shown(key.max);
}

// A whole box that is out of range was mostly written in another unit than said.
std::string KeyReader::UnitDoubt(double number, const Key& key) const {
  if (!key.fallback.required || key.path.rfind("case.", 0) != 0) return "";
  const auto fits = [&key](double length_mm) {
    return length_mm >= key.min && length_mm <= key.max;
  };
  if (mm_per_unit_ == kMmPerInch) return fits(number) ? "did you mean \"units\": \"mm\"?" : "";
  std::string doubt;
  if (fits(number * kMmPerInch)) doubt = "did you mean \"units\": \"in\"";
  if (fits(number * 10.0)) {
    doubt += std::string(doubt.empty() ? "did you mean" : ", or") + " \"" + Text(number) + " cm\"";
  }
  if (fits(number / 10.0)) doubt = "did you mean " + Text(number / 10.0);
  return doubt.empty() ? doubt : doubt + "?";
}

void KeyReader::ComplainUnknown(const JsonValue& value, const std::string& name,
                                const std::string& pattern, const std::string& place) {
  const std::string here = Join(place, Shortened(name, kLongestKey_bytes));
  if (problems_.size() > 10 * kMostProblems) {
    // Will not be shown most likely, and a hint would take time.
    ComplainAt(value, here, "unknown key");
    return;
  }
  std::vector<std::string> allowed;
  std::string elsewhere, all;
  for (const Key& key : table_) {
    if (key.Parent() == pattern) {
      allowed.push_back(key.Name());
      all += (all.empty() ? "" : ", ") + key.Name();
    } else if (key.Name() == name && elsewhere.empty()) {
      elsewhere = key.path;
    }
  }
  std::string hint = "known here: " + all;
  if (name.size() <= kLongestKey_bytes) {
    const std::string nearest = Nearest(name, allowed);
    if (!nearest.empty()) hint = "did you mean \"" + nearest + "\"?";
    if (!elsewhere.empty()) hint = "did you mean " + elsewhere + "?";
  }
  ComplainAt(value, here, "unknown key", hint);
}

void KeyReader::ComplainAt(const JsonValue& value, const std::string& place,
                           const std::string& rule, const std::string& hint) {
  problems_.push_back({file_, value.line, place, AsWritten(text_, value), rule, hint});
}

void KeyReader::Complain(const std::string& place, const std::string& rule, const std::string& hint,
                         const std::string& otherwise) {
  const auto found = given_.find(place);
  if (found != given_.end()) {
    ComplainAt(*found->second, place, rule, hint);
  } else {
    problems_.push_back({file_, LineOf(place), place, otherwise, rule, hint});
  }
}

int KeyReader::LineOf(const std::string& place) const {
  for (std::string above = place;;) {
    const auto found = given_.find(above);
    if (found != given_.end()) return found->second->line;
    if (above.empty()) return 0;
    const std::size_t cut = above.find_last_of(".[");
    above.erase(cut == std::string::npos ? 0 : cut);
  }
}

std::string KeyReader::Shown(double length_mm) const {
  if (mm_per_unit_ == kMmPerInch) return Text(length_mm / kMmPerInch) + " in";
  return Text(length_mm) + " mm";
}

Problems KeyReader::TakeProblems(Problems earlier) {
  problems_.insert(problems_.begin(), earlier.begin(), earlier.end());
  std::stable_sort(problems_.begin(), problems_.end(),
                   [](const Problem& a, const Problem& b) { return a.line < b.line; });
  if (problems_.size() > kMostProblems) {
    const std::size_t more = problems_.size() - kMostProblems;
    problems_.resize(kMostProblems);
    problems_.push_back(
        {file_, 0, "", "", "there are " + std::to_string(more) + " more problems", ""});
  }
  return std::move(problems_);
}

}  // namespace lidwright
