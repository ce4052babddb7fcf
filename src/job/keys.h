// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "lidwright/geometry/outline.h"
#include "lidwright/geometry/vec.h"
#include "lidwright/job/job.h"
#include "lidwright/job/key_rows.h"

namespace lidwright {

/// What holds when a key is not given. Without `number` and `word` its slot stays empty. `text` is
/// for people.
struct Default {
  bool required = false;
  std::string text;
  std::function<double()> number{};  ///< in the key's written unit, lengths in mm
  std::function<std::string()> word{};
};

/// The words that may stand for a key of kind kWord.
struct Choices {
  std::vector<std::string> words;
  std::string rule{};   ///< what is said of another word; empty: that it must be one of them
  bool others = false;  ///< others may do as well: some check knows more
  bool near = true;     ///< a word much like one of them is likely meant for it

  std::string Text() const;  ///< "inside, outside", "…, or another"
};

/// Where a value stands.
using Slot =
    std::variant<std::monostate, double*, std::string*, bool*, unsigned*, std::optional<Vec2>*,
                 std::optional<Zone>*, std::vector<Vec2>*, std::vector<Ring>*, Outline*>;

/// One key of a file: all that reading, checking, completing, writing and documenting it needs.
/// What only some keys have is added to the row behind it: Key{…}.Once("its earlier name").
struct Key {
  std::string path;  ///< "case.width"; "contents[].from_z" for the keys of a list's objects
  KeyKind kind = KeyKind::kSection;
  double min = 0.0;  ///< as in KeyRow
  double max = 0.0;
  Slot slot;
  Default fallback;
  std::string meaning;  ///< one sentence without full stop
  Choices choices{};
  std::string earlier{};  ///< the name that files of 0.1.0 have; read, never written
  GoesWith goes_with = GoesWith::kEither;
  bool written_if_other = false;  ///< not written where it is its default
  /// Of a list: puts its object of that index into the slots of the object's keys; false if there
  /// is none.
  std::function<bool(std::size_t)> load{};

  Key Of(Choices which) const;
  Key Once(const std::string& name) const;
  Key With(GoesWith which) const;
  Key WrittenIfOther() const;
  Key Loaded(std::function<bool(std::size_t)> by) const;

  std::string Parent() const;  ///< "case" of "case.width", "contents[]" of "contents[].from_z"
  std::string Name() const;    ///< "width"
  bool InList() const;         ///< a key of a list's objects
};

/// A text's default.
Default Word(const std::string& word);
/// A default that is one number (in the key's written unit), with its text.
Default Preset(double value, KeyKind kind);
inline Default Mm(double value) {
  return Preset(value, KeyKind::kLength);
}
/// A default that follows from others, with its text.
Default Rule(const std::string& text, std::function<double()> number);
/// So many millimetres, or so many inches where the job's `units` are inches.
Default RoundFigure(const std::string& units, double mm, double in);
inline Default Required() {
  return {true, "required"};
}
inline Default LeftOut(const std::string& text) {
  return {false, text};
}

/// "mm" or "in".
Choices UnitChoices();

/// The row of an object with keys of its own, and of a list of objects.
Key Section(const std::string& path, const Default& fallback, const std::string& meaning);
Key List(const std::string& path, const Default& fallback, const std::string& meaning);
void Append(std::vector<Key> more, std::vector<Key>* keys);

/// Empties a slot: NaN, no text, no rings.
void Clear(const Slot& slot);
/// Puts a number in the key's written unit (lengths in mm) into its slot.
void Store(double number, const Key& key);
/// Whether nothing stands there (flags and counts always say something).
bool IsEmpty(const Slot& slot);
/// Whether what stands in the key's slot is its default, numbers within that share of them.
bool IsDefault(const Key& key, double slack);
/// [1] A number written, read and turned from unit to unit stays within this share of itself.
inline constexpr double kSameWritten = 1e-12;
/// Copies what stands in one slot into another of its type.
void Copy(const Slot& from, const Slot& to);

/// "case.width" of "case" and "width", "width" of "" and "width".
std::string Join(const std::string& place, const std::string& name);

}  // namespace lidwright
