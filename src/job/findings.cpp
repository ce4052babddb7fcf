// SPDX-License-Identifier: Apache-2.0
#include "job/findings.h"

#include <algorithm>

#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"

namespace lidwright {

void Findings::Complain(const std::string& place, const std::string& rule, const std::string& hint,
                        const std::string& otherwise) {
  const auto found = given_.find(place);
  if (found != given_.end()) {
    ComplainAt(found->second.line, found->second.written, place, rule, hint);
  } else {
    ComplainAt(LineOf(place), otherwise, place, rule, hint);
  }
}

void Findings::ComplainAt(int line, const std::string& written, const std::string& place,
                          const std::string& rule, const std::string& hint) {
  problems_.push_back({file_, line, place, written, rule, hint});
}

int Findings::LineOf(const std::string& place) const {
  for (std::string above = place;;) {
    const auto found = given_.find(above);
    if (found != given_.end()) return found->second.line;
    if (above.empty()) return 0;
    const std::size_t cut = above.find_last_of(".[");
    above.erase(cut == std::string::npos ? 0 : cut);
  }
}

std::string Findings::Shown(double length_mm) const {
  if (mm_per_unit_ == kMmPerInch) return Text(length_mm / kMmPerInch) + " in";
  return Text(length_mm) + " mm";
}

Problems Findings::TakeProblems(Problems earlier) {
  problems_.insert(problems_.begin(), earlier.begin(), earlier.end());
  std::stable_sort(problems_.begin(), problems_.end(),
                   [](const Problem& a, const Problem& b) { return a.line < b.line; });
  if (problems_.size() > kMostProblems) {
    const std::size_t more = problems_.size() - kMostProblems;
    problems_.resize(kMostProblems);
    problems_.push_back(
        {file_, 0, "", "", "there are " + std::to_string(more) + " more problems", ""});
  }
  return std::move(problems_);
}

}  // namespace lidwright
