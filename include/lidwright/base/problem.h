// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

namespace lidwright {

/// One thing that is wrong with what the user gave us, as data: where, what, and what would be
/// right. A job is checked to its end and all its problems are returned at once.
struct Problem {
  std::string file;   ///< as the user named it; empty if there is none
  int line = 0;       ///< 1-based; 0 if unknown
  std::string place;  ///< path in the job, such as "case.back_wall" or "stations[2].lid[5]"
  std::string value;  ///< the value found, as written; empty if there is none
  std::string rule;   ///< what is wrong, as a sentence without full stop
  std::string hint;   ///< what would be right, or "did you mean"; may be empty
};

using Problems = std::vector<Problem>;

/// "box.json:12: lid.crown = -4: must be from 0 to 1000 mm (did you mean …)". One line.
std::string Describe(const Problem& problem);

/// The same from the place on, for who sees no file.
std::string DescribeInPlace(const Problem& problem);

/// `text` with a "?" for every control character, those behind Latin-1's letters (U+0080 to U+009F)
/// included: some of them are commands to a terminal.
std::string WithoutControls(const std::string& text);

/// The allowed word nearest to `word` by edit distance, or "" if none is near enough to suggest
/// (more than a third of the letters differ).
std::string Nearest(const std::string& word, const std::vector<std::string>& allowed);

}  // namespace lidwright
