// SPDX-License-Identifier: Apache-2.0
#include "lidwright/report/page_views.h"

#include <cmath>

#include "page_sections.h"
#include "plain_words.h"
#include "verdict_words.h"
#include "words.h"

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

std::string WhatFails(const Design& design) {
  const bool inches = design.job.inches;
  if (design.hinges.empty()) return design.none ? WhatLacks(*design.none, inches) : "";
  for (const Verdict& v : RequirementsOf(design.hinges.front())) {
    if (v.met()) continue;
    std::string text = NameOf(v);
    for (const std::string& more : {Required(v, inches), Found(v, inches)}) {
      if (!more.empty()) text += ", " + more;
    }
    return text;
  }
  return "";
}

std::string PlainHingeFirst(const Design& design) {
  if (design.plain.map.empty() || !PlainDoes(design.plain)) return "";
  if (const std::optional<PlainAdvice> advice = PlainFirst(design)) return advice->Text();
  return "Yet " + PlainSentence(design.plain, design.job.inches) + ".";
}

std::string OutcomeWord(Outcome outcome) {
  return WordOf(outcome);
}

}  // namespace lidwright
