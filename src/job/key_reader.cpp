// SPDX-License-Identifier: Apache-2.0
#include "job/key_reader.h"

#include <algorithm>
#include <cmath>
#include <set>

#include "job/check_value.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/job/length.h"

namespace lidwright {

void KeyReader::ReadObject(const JsonValue& object, const std::string& pattern,
                           const std::string& place) {
  Give(object, place);
  if (object.type != JsonValue::Type::kObject) {
    ComplainAt(object, place, "must be an object: {\"key\": value, ...}");
    return;
  }
  if (unknown_are_errors_) ComplainUnknownKeys(object, pattern, place);
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
      Give(*value, here);
      ReadValue(*value, key, here);
    } else if (key.fallback.required) {
      findings_.Complain(here, "is missing", key.meaning);
    } else if (key.kind == KeyKind::kSection) {
      for (const Key& inner : table_) {
        if (inner.Parent() == key.path) Clear(inner.slot);
      }
    }
  }
}

void KeyReader::ReadValue(const JsonValue& value, const Key& key, const std::string& place) {
  using Type = JsonValue::Type;
  switch (key.kind) {
    case KeyKind::kSection:
      ReadObject(value, key.path, place);
      break;
    case KeyKind::kList:
      if (value.type != Type::kList) ComplainAt(value, place, "must be a list: [{...}, ...]");
      break;
    case KeyKind::kText:
    case KeyKind::kWord:
      ReadText(value, key, place);
      break;
    case KeyKind::kFlag:
      if (value.type != Type::kFlag) {
        ComplainAt(value, place, "must be true or false");
      } else {
        Store(value.flag ? 1.0 : 0.0, key);
      }
      break;
    case KeyKind::kLength:
      Store(ReadLength(value, key, place), key);
      break;
    case KeyKind::kAngle:
    case KeyKind::kShare:
    case KeyKind::kCount: {
      const double number = ReadNumber(value, key, place);
      if (!std::isnan(number)) Store(number, key);
      break;
    }
    case KeyKind::kPoint:
      *std::get<std::optional<Vec2>*>(key.slot) = ReadPoint(value, key, place);
      break;
    case KeyKind::kZone:
      *std::get<std::optional<Zone>*>(key.slot) = ReadZone(value, key, place);
      break;
    case KeyKind::kPoints:
      *std::get<std::vector<Vec2>*>(key.slot) = ReadPoints(value, key, place);
      break;
    case KeyKind::kRings:
      *std::get<std::vector<Ring>*>(key.slot) = ReadRings(value, key, place);
      break;
    case KeyKind::kOutline:
      *std::get<Outline*>(key.slot) = ReadOutline(value, key, place);
      break;
  }
}

void KeyReader::ReadText(const JsonValue& value, const Key& key, const std::string& place) {
  if (value.type != JsonValue::Type::kText) {
    ComplainAt(value, place, "must be a text in quotes");
  } else if (key.max > 0.0 && static_cast<double>(value.text.size()) > key.max) {
    ComplainAt(value, place, "must be at most " + Text(key.max) + " bytes long");
  } else if (Shortened(value.text, value.text.size()) != value.text) {
    ComplainAt(value, place, "must be one line without control characters");
  } else if (key.kind == KeyKind::kText || CheckWord(key, value.text, place, &findings_)) {
    *std::get<std::string*>(key.slot) = value.text;
  }
}

double KeyReader::ReadLength(const JsonValue& value, const Key& key, const std::string& place) {
  using Type = JsonValue::Type;
  const bool inches = findings_.mm_per_unit() == kMmPerInch;
  double length_mm = kUnset;
  if (value.type == Type::kNumber) {
    length_mm = value.number * findings_.mm_per_unit();
  } else {
    const bool text = value.type == Type::kText;
    // In a job of inches "5-3/16" needs no unit; in one of millimetres a bare text is a slip.
    const std::optional<double> read =
        text ? ReadLength_mm(value.text, inches ? kMmPerInch : kUnset) : std::nullopt;
    if (!read && std::isnan(findings_.mm_per_unit()) && text && ReadLength_mm(value.text, 1.0))
      return kUnset;
    if (!read) {
      const bool bare = text && ReadLength_mm(value.text, 1.0).has_value();
      std::string point = text ? value.text : "";  // decimals after a comma
      std::replace(point.begin(), point.end(), ',', '.');
      const bool comma = point != value.text && ReadLength_mm(point, 1.0).has_value();
      ComplainAt(value, place,
                 inches ? "must be a length: a number in inches, or a text such as \"5-3/16\" or "
                          "\"12 mm\""
                        : "must be a length: a number in mm, or a text with its unit such as "
                          "\"12 mm\" or \"1/2 in\"",
                 bare    ? "did you mean \"" + value.text + " mm\"?"
                 : comma ? "decimals after a point: \"" + point + "\""
                         : "");
      return kUnset;
    }
    length_mm = *read;
  }
  if (length_mm < key.min || length_mm > key.max) {
    ComplainAt(value, place, RangeRule(key, findings_),
               value.type == Type::kNumber ? UnitDoubt(value.number, key) : "");
    return kUnset;
  }
  return length_mm;
}

double KeyReader::ReadNumber(const JsonValue& value, const Key& key, const std::string& place) {
  if (value.type != JsonValue::Type::kNumber) {
    ComplainAt(value, place,
               key.kind == KeyKind::kCount ? "must be a whole number" : "must be a number",
               key.kind == KeyKind::kAngle ? "in degrees, without quotes" : "without quotes");
    return kUnset;
  }
  if (key.kind == KeyKind::kCount && value.number != std::floor(value.number)) {
    ComplainAt(value, place, "must be a whole number");
    return kUnset;
  }
  if (!(value.number >= key.min && value.number <= key.max)) {
    ComplainAt(value, place, RangeRule(key, findings_));
    return kUnset;
  }
  return value.number;
}

// A whole box that is out of range was mostly written in another unit than said.
std::string KeyReader::UnitDoubt(double number, const Key& key) const {
  if (!key.fallback.required || key.path.rfind("case.", 0) != 0) return "";
  const auto fits = [&key](double length_mm) {
    return length_mm >= key.min && length_mm <= key.max;
  };
  if (findings_.mm_per_unit() == kMmPerInch)
    return fits(number) ? "did you mean \"units\": \"mm\"?" : "";
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
  if (findings_.Count() > 10 * kMostProblems) {
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

void KeyReader::ComplainUnknownKeys(const JsonValue& object, const std::string& pattern,
                                    const std::string& place) {
  std::set<std::string> known;
  for (const Key& key : table_) {
    if (key.Parent() != pattern) continue;
    known.insert(key.Name());
    if (!key.earlier.empty()) known.insert(key.earlier);
  }
  for (std::size_t i = 0; i < object.items.size(); ++i) {
    const bool remark = !object.keys[i].empty() && object.keys[i][0] == '#';
    if (!remark && !known.count(object.keys[i])) {
      ComplainUnknown(object.items[i], object.keys[i], pattern, place);
    }
  }
}

void KeyReader::Give(const JsonValue& value, const std::string& place) {
  findings_.Give(place, value.line, AsWritten(text_, value));
}

void KeyReader::ComplainAt(const JsonValue& value, const std::string& place,
                           const std::string& rule, const std::string& hint) {
  findings_.ComplainAt(value.line, AsWritten(text_, value), place, rule, hint);
}

bool CheckFormat(const JsonValue& root, const std::string& text, const FileFormat& format,
                 Findings* findings) {
  const JsonValue* said = root.Find("format");
  if (said == nullptr || said->type != JsonValue::Type::kText) return true;  // told as any key
  const FormatFit fit = FitOf(said->text, format);
  if (fit == FormatFit::kReadable) return true;
  const std::string known = "\"" + FormatText(format) + "\"";
  const bool newer = fit == FormatFit::kNewer;
  findings->ComplainAt(
      said->line, AsWritten(text, *said), "format",
      newer ? "the file is of a newer lidwright; this one reads up to " + known
            : "this program reads " + known,
      newer ? "a newer lidwright is needed" : "leave the key out of a file of your own");
  return false;
}

void TakeUnit(const JsonValue& root, Findings* findings) {
  const JsonValue* units = root.Find("units");
  if (units == nullptr) return;
  if (units->text == "in") findings->SetUnit(kMmPerInch);
  if (units->text == "mm") findings->SetUnit(1.0);
}

void FillDefaults(const std::vector<Key>& table, const Findings& findings,
                  const std::string& pattern, const std::string& place) {
  for (const Key& key : table) {
    const bool mine = pattern.empty() ? !key.InList() : key.Parent() == pattern;
    if (!mine) continue;
    if (findings.WasGiven(pattern.empty() ? key.path : Join(place, key.Name()))) continue;
    if (key.fallback.word) *std::get<std::string*>(key.slot) = key.fallback.word();
    if (key.fallback.number) Store(key.fallback.number(), key);
  }
}

}  // namespace lidwright
