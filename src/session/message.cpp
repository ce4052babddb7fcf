// SPDX-License-Identifier: Apache-2.0
#include "message.h"

#include <algorithm>
#include <cmath>

#include "lidwright/session/limits.h"

namespace lidwright {
namespace {

// Objects and lists within each other: a message needs two.
constexpr int kDeepestMessage = 8;
// Commas outside of texts: bounds the memory that a message can take; a message needs three.
constexpr long kMostCommas = 1000;

// Looks before anything is built of it.
void CheckShape(const std::string& text) {
  int depth = 0;
  long commas = 0;
  bool quoted = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (quoted) {
      if (c == '\\') ++i;
      if (c == '"') quoted = false;
      continue;
    }
    if (c == '"') quoted = true;
    if (c == '[' || c == '{') ++depth;
    if (c == ']' || c == '}') --depth;
    if (c == ',') ++commas;
    if (depth > kDeepestMessage || commas > kMostCommas) {
      throw Refusal("this is not a message: it holds too much");
    }
  }
}

}  // namespace

Message::Message(const std::string& text) {
  if (text.size() > kLargestMessage_bytes) {
    throw Refusal("this message is larger than " + std::to_string(kLargestMessage_bytes >> 20) +
                  " MiB; 'trace' and 'slice' make jobs of large files in the terminal");
  }
  CheckShape(text);
  json_ = Json::parse(text, nullptr, false);
  if (json_.is_discarded() || !json_.is_object()) throw Refusal("this is not a message");
  ask_ = Text("ask");
}

const Json& Message::At(const char* key) const {
  const auto found = json_.find(key);
  if (found == json_.end()) throw Refusal(std::string("the message lacks '") + key + "'");
  return *found;
}

std::string Message::Text(const char* key) const {
  const Json& value = At(key);
  if (!value.is_string()) throw Refusal(std::string("'") + key + "' must be a text");
  return value.get<std::string>();
}

std::string Message::TextOr(const char* key) const {
  return json_.contains(key) ? Text(key) : "";
}

int Message::Whole(const char* key, int least, int most) const {
  const Json& value = At(key);
  // Compared as a double: a whole number of JSON may not fit an int.
  if (!value.is_number_integer() || value.get<double>() < least || value.get<double>() > most) {
    throw Refusal(std::string("'") + key + "' must be a whole number from " +
                  std::to_string(least) + " to " + std::to_string(most));
  }
  return value.get<int>();
}

Vec2 Message::Pair(const char* key, double most) const {
  const Json& value = At(key);
  const auto good = [&](const Json& number) {
    return number.is_number() && std::isfinite(number.get<double>()) &&
           std::abs(number.get<double>()) <= most;
  };
  if (!value.is_array() || value.size() != 2 || !std::all_of(value.begin(), value.end(), good)) {
    throw Refusal(std::string("'") + key + "' must be two numbers");
  }
  return {value[0].get<double>(), value[1].get<double>()};
}

bool Message::Flag(const char* key) const {
  if (!json_.contains(key)) return false;
  const Json& value = At(key);
  if (!value.is_boolean()) throw Refusal(std::string("'") + key + "' must be true or false");
  return value.get<bool>();
}

}  // namespace lidwright
