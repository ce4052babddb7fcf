// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/base/units.h"

// What the table of a job file's keys says to others: references, help, questions, forms.
namespace lidwright {

/// What stands as a key's value.
enum class KeyKind {
  kSection,  ///< an object with keys of its own
  kList,     ///< a list of objects; their keys' paths carry "[]"
  kText,
  kWord,    ///< one of some words
  kLength,  ///< stored in mm
  kAngle,   ///< written in degrees, stored in rad
  kShare,   ///< a plain number
  kCount,   ///< a whole number
  kFlag,
  kPoint,    ///< [x, y]
  kZone,     ///< [[xmin, ymin], [xmax, ymax]]
  kPoints,   ///< an open line [[x, y], …]
  kRings,    ///< one outline [[x, y], …] or a list of them
  kOutline,  ///< [[x, y, bulge], …]
};

/// A box is given by its measures or by stations. With which of them a key may be given.
enum class GoesWith {
  kEither,
  kMeasures,  ///< what stations show themselves: beside them it is told as a contradiction
  kStations,  ///< says nothing without stations, and is told so
};

/// One key of a job file; lengths in mm, angles in degrees, as `unit` says.
struct KeyRow {
  std::string key;      ///< its path
  std::string section;  ///< the path of what holds it: "case", "contents[]", "" at the top
  std::string label;    ///< its name in words: "back wall"
  KeyKind kind = KeyKind::kSection;
  std::string unit;      ///< "mm", "deg", "1", "text", "object", "[x, y] in mm" …
  std::string range;     ///< in words, empty where there is none
  double min = kUnset;   ///< of numbers; of points, zones and outlines that of a coordinate
  double max = kUnset;   ///< (of texts: bytes)
  std::string fallback;  ///< the default in words, empty if there is none
  bool required = false;
  std::string meaning;               ///< a sentence without full stop
  std::vector<std::string> choices;  ///< of words
  bool other_words = false;          ///< others may do as well: reading the job, or fitting, tells
  GoesWith goes_with = GoesWith::kEither;
};

/// All keys of a job file, in the order of the file's sections.
const std::vector<KeyRow>& JobKeyRows();

/// The row of a path; nothing if there is no such key.
std::optional<KeyRow> FindKeyRow(const std::string& path);

/// The rows as a Markdown table.
std::string JobReference();

}  // namespace lidwright
