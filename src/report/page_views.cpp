// SPDX-License-Identifier: Apache-2.0
#include "lidwright/report/page_views.h"

#include "page_sections.h"
#include "verdict_words.h"

namespace lidwright {

std::string VerdictList(const Verdicts& verdicts, bool inches) {
  std::string list;
  for (std::size_t i = 0; i < verdicts.size(); ++i) list += VerdictRow(verdicts[i], i, inches);
  return list;
}

DesignMarkup MarkupOf(const Design& design) {
  return {AnswerPart(design, {}), ProofPart(design), FeelPart(design), WatchPart(design),
          ChoicePart(design, "")};
}

std::string OutcomeWord(Outcome outcome) {
  return WordOf(outcome);
}

}  // namespace lidwright
