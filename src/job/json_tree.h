// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "lidwright/base/problem.h"

namespace lidwright {

/// A JSON value that knows where it stands in its text. The JSON library's own tree keeps no
/// positions, and without them no error could name its line.
struct JsonValue {
  enum class Type { kNull, kFlag, kNumber, kText, kList, kObject };
  Type type = Type::kNull;
  int line = 0;           ///< 1-based line of its first character
  std::size_t begin = 0;  ///< first byte in the text
  std::size_t end = 0;    ///< one past its last byte
  bool flag = false;
  double number = 0.0;
  std::string text;               ///< a text's letters, escapes resolved
  std::vector<JsonValue> items;   ///< a list's items or an object's values, in the file's order
  std::vector<std::string> keys;  ///< an object's keys: keys[i] names items[i]

  /// The value under `key`, the first one if it is doubled; nullptr if there is none.
  const JsonValue* Find(const std::string& key) const;
};

struct JsonReading {
  std::optional<JsonValue> root;  ///< nothing if the text is not JSON or beyond the limits
  Problems problems;              ///< doubled keys leave a root, all else does not
};

JsonReading ReadJson(const std::string& text, const std::string& file_name);

/// The value as it stands in `text`, on one line and cut to about forty letters.
std::string AsWritten(const std::string& text, const JsonValue& value);

/// At most `bytes` bytes of `letters` (UTF-8), cut between letters, with "…" if any was cut.
/// Control characters become "?", so that a problem stays on its line.
std::string Shortened(const std::string& letters, std::size_t bytes);

}  // namespace lidwright
