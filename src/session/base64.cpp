// SPDX-License-Identifier: Apache-2.0
#include "base64.h"

#include <array>

namespace lidwright {
namespace {

// What each letter stands for, -1 for those that stand for nothing.
std::array<int, 256> Values() {
  std::array<int, 256> values;
  values.fill(-1);
  const char* const letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
  for (int i = 0; letters[i] != 0; ++i) values[static_cast<unsigned char>(letters[i])] = i;
  return values;
}

}  // namespace

std::optional<std::string> FromBase64(const std::string& text) {
  static const std::array<int, 256> kValues = Values();
  if (text.size() % 4 != 0) return std::nullopt;
  std::size_t letters = text.size();
  for (int k = 0; k < 2 && letters > 0 && text[letters - 1] == '='; ++k) --letters;
  std::string bytes;
  bytes.reserve(text.size() / 4 * 3);
  unsigned bits = 0;
  int held = 0;
  for (std::size_t i = 0; i < letters; ++i) {
    const int value = kValues[static_cast<unsigned char>(text[i])];
    if (value < 0) return std::nullopt;
    bits = (bits << 6 | static_cast<unsigned>(value)) & 0xffffu;
    held += 6;
    if (held < 8) continue;
    held -= 8;
    bytes += static_cast<char>(bits >> held & 0xffu);
  }
  if ((bits & ((1u << held) - 1u)) != 0) return std::nullopt;  // bits that belong to no byte
  return bytes;
}

}  // namespace lidwright
