// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <string>
#include <vector>

#include "job/json_tree.h"
#include "job/keys.h"
#include "lidwright/base/problem.h"
#include "lidwright/base/units.h"

namespace lidwright {

/// Reads JSON objects by a table of keys into the table's slots and collects what is wrong. A slot
/// whose value is missing or faulty is left empty (NaN, no text, no rings).
///
/// Places are paths with indices ("contents[2].from_z"), the table's paths are patterns without
/// ("contents[].from_z").
class KeyReader {
 public:
  KeyReader(std::string file, const std::string& text, std::vector<Key> table);

  void PassOverUnknownKeys() { unknown_are_errors_ = false; }

  /// Millimetres in the file's unit of length; while it is NaN lengths are only checked for type.
  void SetUnit(double mm_per_unit) { mm_per_unit_ = mm_per_unit; }

  /// Empties the slots of the object's keys and of its sections' keys, then reads those given.
  void ReadObject(const JsonValue& object, const std::string& pattern, const std::string& place);

  /// Fills the keys that were not given and have a default, in the table's order; list objects
  /// only where `pattern` names them.
  void FillDefaults(const std::string& pattern, const std::string& place);

  /// Adds a problem about the value at `place`. If that was given, its line and text are named,
  /// else the line of what would hold it, and `otherwise` as the value.
  void Complain(const std::string& place, const std::string& rule, const std::string& hint = "",
                const std::string& otherwise = "");

  bool WasGiven(const std::string& place) const { return given_.count(place) > 0; }

  /// "110 mm", or "4.331 in" in a job of inches.
  std::string Shown(double length_mm) const;

  /// All problems, `earlier` ones among them, by line. Those past kMostProblems are only counted.
  Problems TakeProblems(Problems earlier);

 private:
  void ReadValue(const JsonValue& value, const Key& key, const std::string& place);
  double ReadLength(const JsonValue& value, const Key& key, const std::string& place);
  double ReadNumber(const JsonValue& value, const Key& key, const std::string& place);
  std::optional<Vec2> ReadPoint(const JsonValue& value, const Key& key, const std::string& place);
  std::optional<Zone> ReadZone(const JsonValue& value, const Key& key, const std::string& place);
  std::vector<Vec2> ReadPoints(const JsonValue& value, const Key& key, const std::string& place);
  std::vector<Ring> ReadRings(const JsonValue& value, const Key& key, const std::string& place);
  std::optional<Ring> ReadRing(const JsonValue& value, const Key& key, const std::string& place);
  bool CheckRings(const JsonValue& value, const std::vector<Ring>& rings, const std::string& place);
  Outline ReadOutline(const JsonValue& value, const Key& key, const std::string& place);
  void ComplainUnknown(const JsonValue& value, const std::string& name, const std::string& pattern,
                       const std::string& place);
  void ComplainAt(const JsonValue& value, const std::string& place, const std::string& rule,
                  const std::string& hint = "");
  std::string Range(const Key& key) const;
  std::string UnitDoubt(double number, const Key& key) const;
  int LineOf(const std::string& place) const;

  std::string file_;
  const std::string& text_;
  std::vector<Key> table_;
  bool unknown_are_errors_ = true;
  double mm_per_unit_ = kUnset;
  std::map<std::string, const JsonValue*> given_;
  Problems problems_;
};

}  // namespace lidwright
