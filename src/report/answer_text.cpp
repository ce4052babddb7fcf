// SPDX-License-Identifier: Apache-2.0
#include "lidwright/report/answer_text.h"

#include <algorithm>
#include <cmath>
#include <sstream>

#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "lidwright/report/accuracy_remarks.h"
#include "lidwright/report/forces_remarks.h"
#include "lidwright/report/parts_remarks.h"
#include "lidwright/report/summary.h"
#include "plain_words.h"
#include "verdict_words.h"
#include "words.h"

namespace lidwright {
namespace {

constexpr std::size_t kColumns = 80;

std::string Right(const std::string& text, std::size_t width) {
  return text.size() < width ? std::string(width - text.size(), ' ') + text : text;
}
std::string Left(const std::string& text, std::size_t width) {
  return text.size() < width ? text + std::string(width - text.size(), ' ') : text;
}

void AddWarnings(const Remarks& remarks, Remarks& answer) {
  for (const Remark& remark : remarks.list) {
    if (remark.mark == Mark::kWarn) answer.Judge(false, remark.text);
  }
}

std::string FoldedRemarks(const Remarks& remarks) {
  std::string text;
  for (const std::string& sentence : remarks.head) text += Folded(sentence, 0);
  for (const Remark& remark : remarks.list) {
    text += Folded(RemarkLine(remark.mark, InFull(remark)), kRemarkIndent);
  }
  return text;
}

std::string AngleOf(const Verdict& v) {
  return !v.angle_rad ? "" : " at " + Fixed(*v.angle_rad * kDegPerRad, 1) + " deg";
}

std::string HingesTable(const Design& design) {
  const bool inches = design.job.inches;
  std::string text = "  " + Left("hinge", 15) + Right("least gap", 11) + Right("arms", 11) +
                     Right("behind", 11) + Right("mouth free", 12) + Right("play", 8) +
                     Right("merit", 8) + "\n";
  for (const Hinge& hinge : design.hinges) {
    const Traits& t = hinge.traits;
    text += "  " + Left(hinge.character, 15) + Right(LeastGap(hinge, design.job), 11) +
            Right(BenchText(t.arms_length_mm, Bench::kSize, inches), 11) +
            Right(RoomBehind(hinge, design.job), 11) + Right(ShareText(t.mouth_free), 12) +
            Right("x " + Fixed(t.play_factor, 1), 8) +
            Right(std::isnan(hinge.merit.rattle) ? "-" : Fixed(hinge.merit.Total(), 2), 8) + "\n";
  }
  return text;
}

std::string PivotTable(const Hinge& hinge, bool inches) {
  const Pivots& p = hinge.pivots;
  const auto length = [&](double mm) { return BenchPlace(mm, inches) + (inches ? " in" : " mm"); };
  std::string text =
      "  " + Left("pivot", 10) + Right("x, rear face", 14) + Right("y, rim", 14) + "\n";
  for (const auto& [name, at] : {std::pair<std::string, Vec2>{"A0 case", p.case_a},
                                 {"B0 case", p.case_b},
                                 {"A  lid", p.lid_a},
                                 {"B  lid", p.lid_b}}) {
    text += "  " + Left(name, 10) + Right(length(at.x()), 14) + Right(length(at.y()), 14) + "\n";
  }
  return text;
}

}  // namespace

std::string Folded(const std::string& text, std::size_t indent) {
  std::string folded;
  std::size_t start = 0, width = kColumns;
  while (text.size() - start > width) {
    std::size_t cut = text.rfind(' ', start + width);
    if (cut == std::string::npos || cut <= start + indent) cut = text.find(' ', start + width);
    if (cut == std::string::npos) break;
    folded += text.substr(start, cut - start) + "\n" + std::string(indent, ' ');
    start = cut + 1;
    width = kColumns - indent;
  }
  return folded + text.substr(start) + "\n";
}

namespace {

// The table has lid and arms; the others are counted, so that its numbers add up.
std::string OfTheRest(const Hinge& hinge) {
  const Verdicts all = RequirementsOf(hinge);
  const auto unmet = [](const Verdicts& verdicts) {
    return std::count_if(verdicts.begin(), verdicts.end(),
                         [](const Verdict& v) { return !v.met(); });
  };
  const std::size_t more = all.size() - hinge.verdicts.size();
  if (more == 0) return "";
  const auto missed = unmet(all) - unmet(hinge.verdicts);
  return "  and " + std::to_string(more) + " of plates, pins, stop and strength: " +
         (missed == 0 ? "all met" : std::to_string(missed) + " not met") + "\n";
}

}  // namespace

std::string JudgementText(const Hinge& hinge, const Job& job) {
  const bool inches = job.inches;
  std::string text = "  " + Left("", 6) + Left("requirement", 36) + Right("asked", 13) +
                     Right("found", 13) + Right("at", 10) + "\n";
  bool sampled = false;
  for (const Verdict& v : hinge.verdicts) {
    std::string asked = Required(v, inches), found = Found(v, inches);
    if (asked.rfind("needs ", 0) == 0) asked.erase(0, 6);
    if (asked.rfind("at most ", 0) == 0) asked.replace(0, 8, "<= ");
    if (found.rfind("has ", 0) == 0) found.erase(0, 4);
    const bool only_looked = v.met() && !!v.sampled;
    sampled = sampled || only_looked;
    const std::string angle = AngleOf(v);
    std::string line = "  " + Left(v.met() ? "pass" : "FAIL", 6) +
                       Left(NameOf(v) + (only_looked ? " *" : ""), 36) + Right(asked, 13) +
                       Right(found, 13) + Right(angle.empty() ? "" : angle.substr(4), 10);
    text += line.substr(0, line.find_last_not_of(' ') + 1) + "\n";
  }
  text += OfTheRest(hinge);
  if (sampled) text += "  * looked at in many positions, not proven\n";
  text += "\n";
  std::istringstream lines(UnmetText(hinge, job));
  for (std::string line; std::getline(lines, line);) text += Folded(line, 4);
  if (hinge.forces) {
    text += "\n" + FoldedRemarks(ForcesRemarks(*hinge.forces, job, hinge.gap_by_angle_mm));
  }
  if (hinge.parts) text += "\n" + FoldedRemarks(PartsRemarks(*hinge.parts, {}, job));
  return text;
}

std::string AnswerText(const Design& design, const std::vector<CutFault>& cut_faults) {
  if (design.hinges.empty()) {
    std::istringstream lines(SummaryText(design, cut_faults));
    std::string text;
    for (std::string line; std::getline(lines, line);) text += Folded(line, 4);
    return text;
  }
  const bool inches = design.job.inches;
  const Hinge& best = design.hinges.front();
  const std::size_t count = design.hinges.size();
  const std::optional<PlainAdvice> plain = PlainFirst(design);
  std::string text = (plain ? Folded(plain->Text(), 0) + "\n" : "") +
                     (design.job.name.empty() ? "A box" : design.job.name) + ": " +
                     (count == 1 ? "one hinge" : std::to_string(count) + " hinges") + " found; '" +
                     best.character + "' is drawn.\n\n";
  text += HingesTable(design) + "\n" + PivotTable(best, inches) + "\n";

  Remarks answer;
  if (const Verdict* gap = Find(best.verdicts, Requirement::kLidToCase)) {
    answer.Judge(gap->met(), "the lid clears the case by " + FoundNumber(*gap, inches) +
                                 " or more from " +
                                 Fixed(design.job.swing.gap_from_rad * kDegPerRad, 0) +
                                 " deg on (asked: " + AsGiven(*gap->required, inches) + ")");
  }
  const Verdicts required = RequirementsOf(best);
  const auto failed = static_cast<std::size_t>(
      std::count_if(required.begin(), required.end(), [](const Verdict& v) { return !v.met(); }));
  std::string all = failed == 0 ? "all " + std::to_string(required.size()) + " requirements met"
                                : std::to_string(failed) + " of " +
                                      std::to_string(required.size()) + " requirements not met";
  const Verdict* tight = failed == 0 ? LeastToSpare(required) : nullptr;
  if (tight) {
    all += "; least to spare: " + NameOf(*tight) + ", " + FoundNumber(*tight, inches) +
           AngleOf(*tight) + " (asked: " + AsGiven(*tight->required, inches) + ")";
  }
  answer.Judge(failed == 0, all);
  for (const Verdict& v : required) {
    if (!v.met()) answer.Judge(false, UnmetLine(v, inches));
  }
  if (!design.sizes.empty()) answer.Say("chosen: " + design.sizes);
  if (best.forces) {
    AddWarnings(ForcesRemarks(*best.forces, design.job, best.gap_by_angle_mm), answer);
  }
  if (best.accuracy) {
    AddWarnings(AccuracyRemarks(*best.accuracy, design.job, best.traits.play_factor), answer);
  }
  if (best.parts) AddWarnings(PartsRemarks(*best.parts, cut_faults, design.job), answer);
  return text + FoldedRemarks(answer);
}

}  // namespace lidwright
