// SPDX-License-Identifier: Apache-2.0
#include "lidwright/report/parts_text.h"

#include <algorithm>

#include "words.h"

namespace lidwright {
namespace {

std::string Line(bool good, const std::string& text) {
  return std::string("  ") + (good ? "pass  " : "warn  ") + text + "\n";
}

const Verdict* Tightest(const Verdicts& verdicts) {
  const Verdict* tightest = nullptr;
  for (const Verdict& v : verdicts) {
    if (v.at_most || v.nearest.gap_mm >= Nearness::kUnsetGap) continue;
    if (tightest == nullptr || v.found - v.required < tightest->found - tightest->required) {
      tightest = &v;
    }
  }
  return tightest;
}

}  // namespace

std::string PartsText(const HingeSet& set, const std::vector<CutFault>& cut_faults,
                      const Job& job) {
  int count = 0;
  for (const HingePiece& piece : set.pieces) count += piece.per_end;
  const auto unmet = std::count_if(set.verdicts.begin(), set.verdicts.end(),
                                   [](const Verdict& v) { return !v.met; });
  std::string text = std::to_string(count) +
                     " pieces at each end of the box; the other end's are " + "mirror images:\n";
  if (const Verdict* v = Tightest(set.verdicts)) {
    text += Line(unmet == 0,
                 (unmet == 0 ? "plates, pins, spacers, heads and stop clear all they pass at every "
                               "angle"
                             : std::to_string(unmet) + " pairs of parts do not clear each other") +
                     std::string("; tightest: ") + v->what + ", " + LengthIn(v->found, job.inches) +
                     " (asked: " + Asked(v->required, job.inches) + ")");
  }
  for (const Verdict& v : set.verdicts) {
    if (!v.met && v.nearest.gap_mm >= Nearness::kUnsetGap) {
      text += Line(false, v.what + (v.remark.empty() ? "" : ": " + v.remark));
    }
  }
  for (const std::string& fault : set.faults) text += Line(false, fault);
  for (const CutFault& fault : cut_faults) text += Line(false, fault.what);
  if (set.complete && cut_faults.empty()) {
    text += Line(true, "every part can be cut with this cutter and fits the bay");
  }
  for (const std::string& sentence : set.sentences) text += "  -     " + sentence + "\n";
  return text;
}

}  // namespace lidwright
