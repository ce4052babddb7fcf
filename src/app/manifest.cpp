// SPDX-License-Identifier: Apache-2.0
#include "manifest.h"

#include <algorithm>
#include <charconv>
#include <sstream>

#include "lidwright/app/output_folder.h"

namespace lidwright {
namespace {

constexpr const char* kHead = "lidwright folder 1\n";
constexpr const char* kRemark =
    "# What lidwright wrote here: it replaces or removes these files while they are unchanged.\n";
constexpr const char* kEnd = "end";
constexpr const char* kSeal = "written by lidwright box ";
// [1] Digits of a check sum.
constexpr std::size_t kDigits = 16;

template <typename Number>
bool ReadWhole(const std::string& text, int base, Number* number) {
  const char* end = text.data() + text.size();
  const auto [at, error] = std::from_chars(text.data(), end, *number, base);
  return error == std::errc() && at == end && !text.empty();
}

}  // namespace

FileSum SumOf(std::string_view text, FileSum before) {
  // Fowler, Noll, Vo: the offset basis is where FileSum begins, this is the prime of 64 bits.
  constexpr std::uint64_t kPrime = 0x100000001b3;
  std::uint64_t fnv = before.fnv;
  for (const char c : text) fnv = (fnv ^ static_cast<unsigned char>(c)) * kPrime;
  return {fnv, before.bytes + text.size()};
}

std::string SumText(const FileSum& sum) {
  std::string digits(kDigits, '0');
  for (std::size_t i = 0; i < kDigits; ++i) {
    digits[kDigits - 1 - i] = "0123456789abcdef"[sum.fnv >> (4 * i) & 15];
  }
  return digits + " " + std::to_string(sum.bytes);
}

std::optional<FileSum> ReadSum(const std::string& text) {
  FileSum sum;
  if (text.size() < kDigits + 2 || text[kDigits] != ' ') return std::nullopt;
  if (!ReadWhole(text.substr(0, kDigits), 16, &sum.fnv)) return std::nullopt;
  if (!ReadWhole(text.substr(kDigits + 1), 10, &sum.bytes)) return std::nullopt;
  return sum;
}

bool StaysWithin(const std::string& name) {
  for (const char c : name) {
    if (static_cast<unsigned char>(c) < 0x20) return false;
  }
  if (name.empty() || name.back() == '/') return false;
  std::istringstream parts(name);
  for (std::string part; std::getline(parts, part, '/');) {
    if (part.empty() || part == "." || part == "..") return false;
  }
  return true;
}

std::string ManifestText(const Manifest& manifest) {
  std::string text = std::string(kHead) + kRemark;
  for (const auto& [name, sum] : manifest) text += SumText(sum) + " " + name + "\n";
  return text + kEnd + "\n";
}

std::optional<Manifest> ReadManifest(const std::string& text) {
  if (text.rfind(kHead, 0) != 0) return std::nullopt;
  Manifest manifest;
  std::istringstream lines(text);
  std::string line;
  std::getline(lines, line);
  while (std::getline(lines, line)) {
    if (line == kEnd) return manifest;
    if (line.rfind('#', 0) == 0) continue;
    const std::size_t behind = line.find(' ', std::min(line.size(), kDigits + 1));
    if (behind == std::string::npos) return std::nullopt;
    const std::optional<FileSum> sum = ReadSum(line.substr(0, behind));
    const std::string name = line.substr(behind + 1);
    if (!sum || !StaysWithin(name) || name == kFolderMark) return std::nullopt;
    manifest[name] = *sum;
  }
  return std::nullopt;  // cut off
}

std::string Sealed(const std::string& text, const std::string& file) {
  const std::string seal = kSeal + SumText(SumOf(text));
  const bool pdf = file.size() > 4 && file.substr(file.size() - 4) == ".pdf";
  return text + (pdf ? "% " + seal + "\n" : "<!-- " + seal + " -->\n");
}

bool IsSealed(const std::string& text) {
  const std::size_t seal = text.rfind(kSeal);
  if (seal == std::string::npos) return false;
  for (const char* file : {"box.svg", "box.pdf"}) {
    const std::string before = file == std::string("box.pdf") ? "% " : "<!-- ";
    if (seal < before.size()) continue;
    const std::string drawing = text.substr(0, seal - before.size());
    if (Sealed(drawing, file) == text) return true;
  }
  return false;
}

}  // namespace lidwright
