// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <initializer_list>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "lidwright/geometry/outline.h"
#include "lidwright/geometry/vec.h"
#include "lidwright/job/job.h"

namespace lidwright {

enum class Kind {
  kSection,  ///< an object with keys of its own
  kList,     ///< a list of objects; their keys' paths carry "[]"
  kText,
  kUnits,   ///< "mm" or "in"
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

/// What holds when a key is not given. `rule` gives the default in the key's written unit, lengths
/// in mm; without a rule the field stays empty. `text` is for people.
struct Default {
  bool required = false;
  std::string text;
  std::function<double()> rule;
  std::string word{};  ///< the default of a text
};

/// Where a value goes.
using Slot =
    std::variant<std::monostate, double*, std::string*, bool*, unsigned*, std::optional<Vec2>*,
                 std::optional<Zone>*, std::vector<Vec2>*, std::vector<Ring>*, Outline*>;

/// One key of a file: all that reading, checking, suggesting and documenting it needs.
struct Key {
  std::string path;  ///< "case.width"; "contents[].from_z" for the keys of a list's objects
  Kind kind = Kind::kSection;
  double min = 0.0;  ///< in mm, degrees or plain; for points, zones and outlines: of a coordinate
  double max = 0.0;
  Slot slot;
  Default fallback;
  std::string meaning;    ///< one sentence without full stop
  std::string earlier{};  ///< the name that files of 0.1.0 have; read, never written

  std::string Parent() const;  ///< "case" of "case.width", "contents[]" of "contents[].from_z"
  std::string Name() const;    ///< "width"
};

/// Keys renamed since files were first written: path now, name then.
struct RenamedKey {
  const char* path;
  const char* earlier;
};
void KeepEarlierNames(std::initializer_list<RenamedKey> renamed, std::vector<Key>* keys);

/// A text's default.
inline Default Word(const std::string& word) {
  return {false, word, {}, word};
}
/// A default that is one number (in the key's written unit), with its text.
Default Preset(double value, Kind kind);
inline Default Required() {
  return {true, "required", {}};
}
inline Default LeftOut(const std::string& text) {
  return {false, text, {}};
}

}  // namespace lidwright
