// SPDX-License-Identifier: Apache-2.0
#include "lidwright/base/problem.h"

#include <algorithm>
#include <numeric>
#include <set>
#include <sstream>

namespace lidwright {
namespace {

// Levenshtein distance by the usual two-row table.
std::size_t EditDistance(const std::string& a, const std::string& b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t substitute = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
      diagonal = row[j];
      row[j] = std::min({row[j] + 1, row[j - 1] + 1, substitute});
    }
  }
  return row.back();
}

}  // namespace

std::string WithoutControls(const std::string& text) {
  std::string plain;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto byte = static_cast<unsigned char>(text[i]);
    const auto next = static_cast<unsigned char>(i + 1 < text.size() ? text[i + 1] : 0);
    const bool behind_latin = byte == 0xC2 && next >= 0x80 && next < 0xA0;  // in UTF-8
    const bool control = byte < 0x20 || byte == 0x7F || behind_latin;
    plain += control ? '?' : text[i];
    i += behind_latin;
  }
  return plain;
}

std::string DescribeInPlace(const Problem& problem) {
  std::string text;
  if (!problem.place.empty()) {
    text += problem.place;
    if (!problem.value.empty()) text += " = " + problem.value;
    text += ": ";
  }
  text += problem.rule;
  if (!problem.hint.empty()) text += " (" + problem.hint + ")";
  return WithoutControls(text);
}

std::string Describe(const Problem& problem) {
  std::string before;
  if (!problem.file.empty()) {
    before = problem.file;
    if (problem.line > 0) before += ":" + std::to_string(problem.line);
    before += ": ";
  }
  return WithoutControls(before) + DescribeInPlace(problem);
}

namespace {

std::multiset<std::string> WordsOf(const std::string& name) {
  std::multiset<std::string> words;
  std::istringstream parts(name);
  for (std::string part; std::getline(parts, part, '_');) words.insert(part);
  return words;
}

}  // namespace

std::string Nearest(const std::string& word, const std::vector<std::string>& allowed) {
  // The words of a key in another order: back_bow for bow_back.
  const std::multiset<std::string> words = WordsOf(word);
  for (const std::string& candidate : allowed) {
    if (WordsOf(candidate) == words) return candidate;
  }
  std::string best;
  std::size_t best_distance = word.size() / 3 + 2;
  for (const std::string& candidate : allowed) {
    const std::size_t distance = EditDistance(word, candidate);
    if (distance < best_distance) {
      best_distance = distance;
      best = candidate;
    }
  }
  return best;
}

}  // namespace lidwright
