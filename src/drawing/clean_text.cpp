// SPDX-License-Identifier: Apache-2.0
#include "clean_text.h"

#include <cstdint>

namespace lidwright {
namespace {

constexpr const char* kReplacement = "\xEF\xBF\xBD";  // U+FFFD

// Bytes of the well-formed UTF-8 character at `at`, 0 if there is none (Unicode, table 3-7).
std::size_t CharacterAt(const std::string& text, std::size_t at, std::uint32_t* code) {
  const auto byte = [&](std::size_t i) -> std::uint32_t {
    return at + i < text.size() ? static_cast<unsigned char>(text[at + i]) : 0;
  };
  const std::uint32_t first = byte(0);
  const std::size_t length = first < 0x80                    ? 1
                             : first >= 0xC2 && first < 0xE0 ? 2
                             : first >= 0xE0 && first < 0xF0 ? 3
                             : first >= 0xF0 && first < 0xF5 ? 4
                                                             : 0;
  if (length == 0) return 0;
  *code = length == 1 ? first : first & (0xFFu >> (length + 1));
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(i) & 0xC0) != 0x80) return 0;
    *code = (*code << 6) | (byte(i) & 0x3F);
  }
  const bool overlong = (length == 3 && *code < 0x800) || (length == 4 && *code < 0x10000);
  const bool surrogate = *code >= 0xD800 && *code < 0xE000;
  return overlong || surrogate || *code > 0x10FFFF ? 0 : length;
}

}  // namespace

std::string CleanText(const std::string& text) {
  std::string clean;
  for (std::size_t at = 0; at < text.size();) {
    std::uint32_t code = 0;
    const std::size_t length = CharacterAt(text, at, &code);
    const bool blank = length != 0 && (code == ' ' || (code >= 0x09 && code <= 0x0D));
    const bool control = code < 0x20 || (code >= 0x7F && code < 0xA0) || (code & 0xFFFE) == 0xFFFE;
    if (blank) {
      if (!clean.empty() && clean.back() != ' ') clean += ' ';
    } else if (length == 0 || control) {
      clean += kReplacement;
    } else {
      clean.append(text, at, length);
    }
    at += length == 0 ? 1 : length;
  }
  if (!clean.empty() && clean.back() == ' ') clean.pop_back();
  return clean;
}

std::string XmlText(const std::string& text) {
  std::string escaped;
  for (const char c : text) {
    switch (c) {
      case '&':
        escaped += "&amp;";
        break;
      case '<':
        escaped += "&lt;";
        break;
      case '>':
        escaped += "&gt;";
        break;
      case '"':
        escaped += "&quot;";
        break;
      default:
        escaped += c;
    }
  }
  return escaped;
}

}  // namespace lidwright
