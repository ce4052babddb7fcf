// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/length.h"

#include <algorithm>
#include <charconv>
#include <cmath>

#include "lidwright/base/units.h"

namespace lidwright {
namespace {

bool IsDigit(char c) {
  return c >= '0' && c <= '9';
}

// The rest of the text, consumed from the front. Plain ASCII on purpose: no locale has a say.
struct Rest {
  std::string_view text;

  void SkipBlanks() {
    while (!text.empty() && (text[0] == ' ' || text[0] == '\t')) text.remove_prefix(1);
  }
  bool Take(char c) {
    if (text.empty() || text[0] != c) return false;
    text.remove_prefix(1);
    return true;
  }
  // Digits with at most one decimal point among them; `whole` says that there was none.
  std::optional<double> TakeNumber(bool* whole) {
    std::size_t length = 0, digits = 0, points = 0;
    while (length < text.size() && (IsDigit(text[length]) || text[length] == '.')) {
      (text[length] == '.' ? points : digits) += 1;
      ++length;
    }
    if (digits == 0 || digits > 12 || points > 1) return std::nullopt;
    double number = 0.0;
    std::from_chars(text.data(), text.data() + length, number);
    text.remove_prefix(length);
    *whole = points == 0;
    return number;
  }
};

// The number without sign and unit: decimal, fraction or mixed number.
std::optional<double> TakeMagnitude(Rest* rest) {
  bool whole = false;
  const std::optional<double> first = rest->TakeNumber(&whole);
  if (!first || !whole) return first;
  const auto denominator = [rest]() -> std::optional<double> {
    rest->SkipBlanks();
    bool integer = false;
    const std::optional<double> number = rest->TakeNumber(&integer);
    return number && integer && *number > 0.0 ? number : std::nullopt;
  };
  rest->SkipBlanks();
  if (rest->Take('/')) {
    const std::optional<double> below = denominator();
    return below ? std::optional(*first / *below) : std::nullopt;
  }
  const bool dash = rest->Take('-');
  rest->SkipBlanks();
  if (!dash && (rest->text.empty() || !IsDigit(rest->text[0]))) return first;
  const std::optional<double> above = rest->TakeNumber(&whole);
  rest->SkipBlanks();
  if (!above || !whole || !rest->Take('/')) return std::nullopt;
  const std::optional<double> below = denominator();
  if (!below || *above >= *below) return std::nullopt;
  return *first + *above / *below;
}

}  // namespace

std::optional<double> ReadLength_mm(const std::string& text, double mm_per_unit) {
  Rest rest{text};
  rest.SkipBlanks();
  const bool negative = rest.Take('-');
  if (!negative) rest.Take('+');
  const std::optional<double> magnitude = TakeMagnitude(&rest);
  if (!magnitude) return std::nullopt;
  rest.SkipBlanks();
  std::string unit(rest.text);
  while (!unit.empty() && (unit.back() == ' ' || unit.back() == '\t')) unit.pop_back();
  for (char& c : unit) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  double scale = mm_per_unit;
  if (unit == "mm") {
    scale = 1.0;
  } else if (unit == "cm") {
    scale = 10.0;
  } else if (unit == "in" || unit == "inch" || unit == "\"") {
    scale = kMmPerInch;
  } else if (!unit.empty()) {
    return std::nullopt;
  }
  if (std::isnan(scale)) return std::nullopt;
  return (negative ? -1.0 : 1.0) * *magnitude * scale;
}

}  // namespace lidwright
