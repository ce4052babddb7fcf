// SPDX-License-Identifier: Apache-2.0
#include "trace/drawing.h"

#include <algorithm>
#include <charconv>
#include <cmath>

#include "lidwright/base/numbers.h"
#include "lidwright/base/problem.h"
#include "lidwright/base/tolerances.h"

namespace lidwright {

void LeftOut::NoteIn(Notes* notes) const {
  std::string list;
  for (const auto& [what, count] : counts_) {
    list += (list.empty() ? "left out: " : ", ") + std::to_string(count) + " " + what;
  }
  if (!list.empty()) notes->push_back(list);
}

std::string Quoted(const std::string& text) {
  std::size_t end = std::min<std::size_t>(text.size(), 40);
  const auto continues = [&](std::size_t i) { return i < text.size() && (text[i] & 0xC0) == 0x80; };
  while (end > 0 && continues(end)) --end;  // not within a letter of several bytes
  return WithoutControls(text.substr(0, end));
}

bool Drawing::Add(DrawnPath path, const std::string& file_name) {
  if (curves > kMostCurves) return false;
  curves += path.pieces.size();
  if (curves > kMostCurves) {
    problems.push_back({file_name, path.line, path.label, "",
                        "the drawing has more than " + std::to_string(kMostCurves) + " curves",
                        "leave only the section in it"});
    return false;
  }
  for (const Piece& piece : path.pieces) {
    if (Reach(piece) <= kFarthestCoordinate) continue;
    if (problems.size() < kMostProblems) {
      problems.push_back({file_name, path.line, path.label, "",
                          "has coordinates beyond " + Text(kFarthestCoordinate, 0), ""});
    }
    return false;
  }
  paths.push_back(std::move(path));
  return true;
}

int WholeFrom(double value, int otherwise) {
  const bool whole = std::abs(value) < 1e9 && value == std::round(value);  // no NaN either
  return whole ? static_cast<int>(value) : otherwise;
}

double NumberFrom(const std::string& text) {
  const std::size_t first = text.find_first_not_of(" \t\r");
  if (first == std::string::npos) return kUnset;
  const std::size_t last = text.find_last_not_of(" \t\r");
  const char* begin = text.data() + first + (text[first] == '+' ? 1 : 0);
  const char* end = text.data() + last + 1;
  double value = 0.0;
  const auto [stop, error] = std::from_chars(begin, end, value);
  if (error != std::errc() || stop != end || !std::isfinite(value)) return kUnset;
  return value;
}

}  // namespace lidwright
