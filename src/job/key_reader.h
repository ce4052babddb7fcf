// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "job/findings.h"
#include "job/json_tree.h"
#include "job/keys.h"
#include "lidwright/job/file_format.h"

namespace lidwright {

/// Reads JSON objects by a table of keys into the table's slots and complains about what is wrong.
/// A slot whose value is missing or faulty is left empty (NaN, no text, no rings).
///
/// Places are paths with indices ("contents[2].from_z"), the table's paths are patterns without
/// ("contents[].from_z").
class KeyReader {
 public:
  /// All three must outlive the reader.
  KeyReader(const std::string& text, const std::vector<Key>& table, Findings* findings)
      : text_(text), table_(table), findings_(*findings) {}

  void PassOverUnknownKeys() { unknown_are_errors_ = false; }

  /// Empties the slots of the object's keys and of its sections' keys, then reads those given.
  void ReadObject(const JsonValue& object, const std::string& pattern, const std::string& place);

 private:
  void ReadValue(const JsonValue& value, const Key& key, const std::string& place);
  void ReadText(const JsonValue& value, const Key& key, const std::string& place);
  double ReadLength(const JsonValue& value, const Key& key, const std::string& place);
  double ReadNumber(const JsonValue& value, const Key& key, const std::string& place);
  std::optional<Vec2> ReadPoint(const JsonValue& value, const Key& key, const std::string& place);
  std::optional<Zone> ReadZone(const JsonValue& value, const Key& key, const std::string& place);
  std::vector<Vec2> ReadPoints(const JsonValue& value, const Key& key, const std::string& place);
  std::vector<Ring> ReadRings(const JsonValue& value, const Key& key, const std::string& place);
  std::optional<Ring> ReadRing(const JsonValue& value, const Key& key, const std::string& place);
  bool CheckRings(const JsonValue& value, const std::vector<Ring>& rings, const std::string& place);
  Outline ReadOutline(const JsonValue& value, const Key& key, const std::string& place);
  void Give(const JsonValue& value, const std::string& place);
  void ComplainUnknownKeys(const JsonValue& object, const std::string& pattern,
                           const std::string& place);
  void ComplainUnknown(const JsonValue& value, const std::string& name, const std::string& pattern,
                       const std::string& place);
  void ComplainAt(const JsonValue& value, const std::string& place, const std::string& rule,
                  const std::string& hint = "");
  std::string UnitDoubt(double number, const Key& key) const;

  const std::string& text_;
  const std::vector<Key>& table_;
  Findings& findings_;
  bool unknown_are_errors_ = true;
};

/// Whether the file is of that kind and not newer than this program, as far as it says so;
/// complains if it is not: then nothing else about it is worth telling.
bool CheckFormat(const JsonValue& root, const std::string& text, const FileFormat& format,
                 Findings* findings);

/// The file's unit of length, if it says one.
void TakeUnit(const JsonValue& root, Findings* findings);

/// Fills the keys that were not given and have a default, in the table's order; those of list
/// objects only where `pattern` names them.
void FillDefaults(const std::vector<Key>& table, const Findings& findings,
                  const std::string& pattern, const std::string& place);

}  // namespace lidwright
