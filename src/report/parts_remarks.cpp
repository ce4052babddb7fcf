// SPDX-License-Identifier: Apache-2.0
#include "lidwright/report/parts_remarks.h"

#include <algorithm>

#include "lidwright/base/numbers.h"
#include "lidwright/geometry/compound_mitre.h"
#include "verdict_words.h"
#include "words.h"

namespace lidwright {

namespace {

// How the saw is set for sides that lean out and are mitred.
void AddMitres(const Job& job, Remarks& remarks) {
  const CaseMeasures& form = job.case_form;
  if (!job.stations.empty()) return;
  const auto say = [&](const std::string& where, const std::string& board, double lean_rad) {
    if (lean_rad == 0.0 && form.end_flare_rad == 0.0) return;
    const LeaningCorner corner = CornerOf(lean_rad, form.end_flare_rad);
    const auto set = [](const SawSetting& saw) {
      return "mitre " + Fixed(std::abs(saw.mitre_rad) * kDegPerRad, 1) + " and bevel " +
             Fixed(saw.bevel_rad * kDegPerRad, 1) + " deg";
    };
    remarks.Say("mitred corners at the " + where + ", boards flat on the saw's table: " + board +
                " " + set(corner.first) + ", ends " + set(corner.second) +
                "; try a corner in scrap against a paper gauge of " +
                Fixed(corner.between_faces_rad * kDegPerRad, 1) +
                " deg, square to the arris, before the walls are hollowed");
  };
  if (form.back_flare_rad == form.front_flare_rad) {
    say("back and front", "back and front", form.back_flare_rad);
  } else {
    say("back", "back", form.back_flare_rad);
    say("front", "front", form.front_flare_rad);
  }
}

}  // namespace

Remarks PartsRemarks(const HingeSet& set, const std::vector<CutFault>& cut_faults, const Job& job) {
  const auto unmet = std::count_if(set.verdicts.begin(), set.verdicts.end(),
                                   [](const Verdict& v) { return !v.met(); });
  Remarks remarks;
  remarks.head.push_back(std::to_string(PiecesAtEachEnd(set)) +
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
  AddMitres(job, remarks);
  return remarks;
}

}  // namespace lidwright
