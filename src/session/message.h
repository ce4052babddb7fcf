// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <stdexcept>
#include <string>

#include "lidwright/geometry/vec.h"
#include "lidwright/job/json_lines.h"

namespace lidwright {

/// Why a message cannot be followed, in words for the page.
class Refusal : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// An incoming message. Throws Refusal for anything that is not one: too long, too deep, no JSON,
/// no object, without "ask".
class Message {
 public:
  explicit Message(const std::string& text);

  const std::string& ask() const { return ask_; }
  /// What goes with it; throw Refusal where it is missing or of another kind.
  std::string Text(const char* key) const;
  int Whole(const char* key, int least, int most) const;
  Vec2 Pair(const char* key, double most) const;
  bool Has(const char* key) const { return json_.contains(key); }
  /// False if it is missing.
  bool Flag(const char* key) const;
  /// "" if it is missing.
  std::string TextOr(const char* key) const;

 private:
  const Json& At(const char* key) const;

  Json json_;
  std::string ask_;
};

}  // namespace lidwright
