// SPDX-License-Identifier: Apache-2.0
#include "lidwright/base/numbers.h"

#include <array>
#include <charconv>
#include <cmath>

#include "lidwright/base/units.h"

namespace lidwright {

std::string Fixed(double value, int decimals) {
  if (std::isnan(value)) return "-";
  std::array<char, 400> buffer;
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                 std::chars_format::fixed, decimals);
  std::string text(buffer.data(), end.ptr);
  if (text[0] == '-' && text.find_first_not_of("-0.") == std::string::npos) text.erase(0, 1);
  return text;
}

std::string TimesBorne(double times) {
  const int decimals = times < 0.1 ? 2 : 1;
  const double step = std::pow(10.0, decimals);
  // What is a tenth but for rounding is that tenth.
  return Fixed(std::floor(times * step + 1e-9) / step, decimals);
}

std::string Text(double value, int decimals) {
  std::string text = Fixed(value, decimals);
  if (text.find('.') == std::string::npos) return text;
  text.erase(text.find_last_not_of('0') + 1);
  if (text.back() == '.') text.pop_back();
  return text;
}

std::string LengthText_mm(double value_mm, bool inches) {
  if (inches) return Text(value_mm / kMmPerInch, 3) + " in";
  return Text(value_mm, 1) + " mm";
}

std::string InchFraction(double mm) {
  if (!std::isfinite(mm)) return Text(mm);
  const long long parts = std::llround(std::abs(mm) / kMmPerInch * 64.0);
  const long long whole = parts / 64;
  long long above = parts % 64, below = 64;
  while (above != 0 && above % 2 == 0) {
    above /= 2;
    below /= 2;
  }
  std::string text = mm < 0.0 && parts != 0 ? "-" : "";
  if (whole != 0 || above == 0) text += std::to_string(whole);
  if (whole != 0 && above != 0) text += "-";
  if (above != 0) text += std::to_string(above) + "/" + std::to_string(below);
  return text;
}

double OffSixtyfourth(double mm) {
  const double parts = mm / kMmPerInch * 64.0;
  return std::abs(parts - std::round(parts));
}

std::string Trimmed(const std::string& text, const char* blanks) {
  const std::size_t first = text.find_first_not_of(blanks);
  if (first == std::string::npos) return "";
  return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

std::optional<double> PlainNumber(const std::string& text) {
  double value = 0.0;
  const char* end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, value, std::chars_format::fixed);
  if (error != std::errc() || stop != end || !std::isfinite(value)) return std::nullopt;
  return value;
}

std::string Exact(double value) {
  if (std::isnan(value)) return "-";
  std::array<char, 64> buffer;
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value);
  return std::string(buffer.data(), end.ptr);
}

}  // namespace lidwright
