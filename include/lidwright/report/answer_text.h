// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "lidwright/design/design.h"

namespace lidwright {

/// One line of an answer: what is good, or what to look at again.
struct AnswerLine {
  bool pass = true;
  std::string text;
};

/// What a design came to in a few lines of a terminal of 80 columns: what was found, the hinges
/// with their trade-offs, the pivots, and then by the words pass and warn what is met and what is
/// not good. All of it, and more, is in SummaryText and in the report. `more` are lines that other
/// layers add. Lengths in the job's unit. Without a hinge it is SummaryText, in lines of 80
/// columns.
std::string AnswerText(const Design& design, const std::vector<AnswerLine>& more = {});

/// The verdicts on one hinge in 80 columns: pass or FAIL by word, what, asked, found, at which
/// angle; below, what is not met with its place, and how the lid feels.
std::string JudgementText(const Hinge& hinge, const Job& job);

/// `text` and a line end, in lines of 80 bytes at most where it has blanks to break at; all but the
/// first begin with `indent` blanks.
std::string Folded(const std::string& text, std::size_t indent);

}  // namespace lidwright
