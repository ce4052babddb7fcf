// SPDX-License-Identifier: Apache-2.0
#include "lidwright/report/parts_remarks.h"

#include <algorithm>

#include "verdict_words.h"
#include "words.h"

namespace lidwright {

Remarks PartsRemarks(const HingeSet& set, const std::vector<CutFault>& cut_faults, const Job& job) {
  int count = 0;
  for (const HingePiece& piece : set.pieces) count += piece.per_end;
  const auto unmet = std::count_if(set.verdicts.begin(), set.verdicts.end(),
                                   [](const Verdict& v) { return !v.met(); });
  Remarks remarks;
  remarks.head.push_back(std::to_string(count) +
                         " pieces at each end of the box; the other end's are " + "mirror images:");
  if (const Verdict* v = LeastToSpare(set.verdicts)) {
    remarks.Judge(
        unmet == 0,
        (unmet == 0 ? std::string(job.plates.on_case || job.plates.on_lid ? "plates, " : "") +
                          "pins, spacers, heads and stop clear all they pass at every angle"
                    : std::to_string(unmet) + " pairs of parts do not clear each other") +
            std::string("; tightest: ") + NameOf(*v) + ", " + FoundNumber(*v, job.inches) +
            " (asked: " + AsGiven(*v->required, job.inches) + ")");
  }
  for (const Verdict& v : set.verdicts) {
    if (!v.met() && !v.nearest) {
      remarks.Judge(
          false,
          NameOf(v) + (RemarkOf(v, job.inches).empty() ? "" : ": " + RemarkOf(v, job.inches)));
    }
  }
  for (const std::string& fault : set.faults) remarks.Judge(false, fault);
  for (const CutFault& fault : cut_faults) remarks.Judge(false, fault.what);
  if (set.complete && cut_faults.empty()) {
    remarks.Judge(true, "every part can be cut with this cutter and fits the bay");
  }
  for (const std::string& sentence : set.sentences) remarks.Say(sentence);
  return remarks;
}

}  // namespace lidwright
