// SPDX-License-Identifier: Apache-2.0
#include "lidwright/report/summary.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "lidwright/cutting/arm_holes.h"
#include "lidwright/design/block_words.h"
#include "lidwright/report/accuracy_remarks.h"
#include "lidwright/report/answer_text.h"
#include "lidwright/report/forces_remarks.h"
#include "lidwright/report/parts_remarks.h"
#include "plain_words.h"
#include "verdict_words.h"
#include "words.h"

namespace lidwright {
namespace {

// Columns padded to their widest cell; the first to the left, numbers to the right.
class Table {
 public:
  void Row(std::vector<std::string> cells) { rows_.push_back(std::move(cells)); }

  std::string Lines(std::size_t left_columns) const {
    std::vector<std::size_t> width;
    for (const auto& row : rows_) {
      width.resize(std::max(width.size(), row.size()));
      for (std::size_t i = 0; i < row.size(); ++i) width[i] = std::max(width[i], row[i].size());
    }
    std::string text;
    for (const auto& row : rows_) {
      std::string line = " ";
      for (std::size_t i = 0; i < row.size(); ++i) {
        const std::string pad(width[i] - row[i].size(), ' ');
        line += " " + (i < left_columns ? row[i] + pad : pad + row[i]) + " ";
      }
      text += line.substr(0, line.find_last_not_of(' ') + 1) + "\n";
    }
    return text;
  }

 private:
  std::vector<std::vector<std::string>> rows_;
};

std::string Angle(double rad) {
  return std::isnan(rad) ? "" : Fixed(rad * kDegPerRad, 1) + " deg";
}

std::string Spot(const Verdict& v, bool inches) {
  std::string text = PartsOf(v);
  const std::string angle = v.angle_rad ? Angle(*v.angle_rad) : std::string();
  if (!angle.empty()) text += (text.empty() ? "at " : ", at ") + angle;
  if (v.nearest) {
    const double unit = inches ? kMmPerInch : 1.0;
    const int places = inches ? 2 : 1;
    const auto at = [&](double value) { return Fixed(value / unit, places); };
    text += ", x " + at(v.nearest->on_second.x()) + " y " + at(v.nearest->on_second.y()) + " z " +
            at(v.nearest->z_mm);
  }
  if (!RemarkOf(v, inches).empty()) text += (text.empty() ? "" : ": ") + RemarkOf(v, inches);
  return text;
}

std::string Pivot(const Vec2& p, bool inches) {
  return BenchPlace(p.x(), inches) + ", " + BenchPlace(p.y(), inches);
}

std::string ArmLine(const std::string& name, const Hinge& hinge, Body body, bool inches) {
  const std::optional<Arm>& arm = body == Body::kArmA ? hinge.arm_a : hinge.arm_b;
  if (!arm) return "  " + name + ": none\n";
  return "  " + name + ": " + BenchText(arm->length_mm, Bench::kHole, inches) + " hole to hole, " +
         (IsStraight(*arm)
              ? "straight"
              : "curved, inside radius " + BenchText(arm->inside_radius_mm, Bench::kSize, inches)) +
         (arm->layer == 0 ? ", nearest the end wall" : ", on spacers beyond the other arm") + "; " +
         HoleText(HolesOf(hinge, body), inches) + "\n";
}

constexpr const char* kCautions =
    "Cautions: hold small arms down with tabs or tape while they are cut, never with\n"
    "fingers; deburr brass and keep its dust away from eyes and lungs; arms and lid\n"
    "pinch; a heavy lid falls, and an open one can tip the box. Chests for children\n"
    "have rules of their own. Local codes and licensed practice come first.\n";

// What the plates of a leaning or cupped end stand on.
std::string BlockText(const MountingBlock& block, bool inches) {
  const std::string text = MountingBlockText(block, inches, " deg");
  return text.empty() ? "" : Folded(text, 0);
}

std::string HingesTable(const Design& design) {
  Table table;
  table.Row({"hinge", "least gap", "arms", "behind", "mouth free", "play x", "lift x"});
  for (const Hinge& hinge : design.hinges) {
    const Traits& t = hinge.traits;
    table.Row({hinge.character, LeastGap(hinge, design.job),
               BenchText(t.arms_length_mm, Bench::kSize, design.job.inches),
               RoomBehind(hinge, design.job), ShareText(t.mouth_free), Fixed(t.play_factor, 1),
               Fixed(t.lift_factor, 2)});
  }
  return table.Lines(1) +
         "  play x: movement at the lid's front edge per play at the pins; lift x: largest lift\n"
         "  force at the front edge over the lid's weight. The first one is drawn and cut.\n";
}

}  // namespace

std::string RemedyFile(int number) {
  return "remedy_" + std::to_string(number) + ".json";
}

std::string UnmetLine(const Verdict& v, bool inches) {
  const std::string required = Required(v, inches), found = Found(v, inches);
  const std::string spot = Spot(v, inches);
  return NameOf(v) + ": " + (required.empty() ? "not met" : required) +
         (found.empty() ? "" : ", " + found) + (spot.empty() ? "" : "; " + spot);
}

std::string UnmetText(const Hinge& hinge, const Job& job) {
  std::string failures;
  int failed = 0;
  const Verdicts all = RequirementsOf(hinge);
  for (const Verdict& v : all) {
    if (v.met()) continue;
    ++failed;
    failures += "  " + UnmetLine(v, job.inches) + "\n";
  }
  if (failed == 0) return "All requirements are met.\n";
  return std::to_string(failed) + " of " + std::to_string(all.size()) +
         " requirements are not met:\n" + failures;
}

std::string VerdictTable(const Hinge& hinge, const Job& job) {
  Table table;
  for (const Verdict& v : hinge.verdicts) {
    table.Row({v.met() ? (!v.sampled ? "pass" : "pass (sampled)") : "FAIL", NameOf(v),
               Required(v, job.inches), Found(v, job.inches), Spot(v, job.inches)});
  }
  return table.Lines(5) +
         "  Places: x from the rear face forward, y from the rim up, z from mid-width, " +
         (job.inches ? "in" : "mm") + ".\n\n" + UnmetText(hinge, job);
}

std::string SummaryText(const Design& design, const std::vector<CutFault>& cut_faults) {
  const bool inches = design.job.inches;
  std::string text = design.job.name.empty() ? "" : design.job.name + "\n";
  text += Folded("Plain hinge: " + PlainSentence(design.plain, design.job.inches) + ".", 4);
  if (design.none) {
    const NoHinge& none = *design.none;
    text += "\nNo hidden hinge was found. In the way: " + none.failing;
    if (!std::isnan(none.missed_by)) {
      text += ", short by " + Quantity(none.missed_by, none.unit, inches);
    }
    text += ".\n";
    if (!none.cannot.empty()) text += Folded("Proven: " + none.cannot + ".", 0);
    text += "For the record, " + NearestText(none, inches) + ".\n";
    if (!none.remedies.empty()) {
      text += "Any one of these lets one in:\n";
      for (const Remedy& remedy : none.remedies) text += "  - " + remedy.words + "\n";
      text += "  " + RemedyFile(1) +
              (none.remedies.size() == 1
                   ? " is this job so changed, to be fitted as it stands.\n"
                   : " and on are this job with one of these each, in this order.\n");
    }
    return text;
  }
  const Hinge& best = design.hinges.front();
  if (const Verdict* gap = Find(best.verdicts, Requirement::kLidToCase)) {
    text += "Hidden hinge: the lid clears the case by at least " + FoundNumber(*gap, inches) +
            " at every angle from " + Angle(design.job.swing.gap_from_rad) +
            " on (asked: " + AsGiven(*gap->required, inches) +
            ").\n  Tightest: " + Spot(*gap, inches) + ".\n";
  }
  text += "\n" + HingesTable(design) + "\n";
  Table pivots;
  pivots.Row(
      {"pivot", std::string("x, y from the rear face at the rim, ") + (inches ? "in" : "mm")});
  const Pivots& p = best.pivots;
  pivots.Row({"case, arm A", Pivot(p.case_a, inches)});
  pivots.Row({"case, arm B", Pivot(p.case_b, inches)});
  pivots.Row({"lid, arm A", Pivot(p.lid_a, inches)});
  pivots.Row({"lid, arm B", Pivot(p.lid_b, inches)});
  text += pivots.Lines(2) + ArmLine("arm A", best, Body::kArmA, inches) +
          ArmLine("arm B", best, Body::kArmB, inches) + BlockText(design.solid.block, inches) +
          "\n" + VerdictTable(best, design.job) + "\n";
  if (!design.sizes.empty()) {
    text += "Sizes that the job leaves open: " + design.sizes + ", " + design.sizes_why + ".\n\n";
  }
  if (best.forces)
    text += RemarksText(ForcesRemarks(*best.forces, design.job, best.gap_by_angle_mm)) + "\n";
  if (best.accuracy) {
    text +=
        RemarksText(AccuracyRemarks(*best.accuracy, design.job, best.traits.play_factor)) + "\n";
  }
  if (best.parts) text += RemarksText(PartsRemarks(*best.parts, cut_faults, design.job)) + "\n";
  text += kCautions;
  return text;
}

std::string CorrectionText(const CorrectionSearch& sought, const Job& job) {
  if (sought.end == CorrectionEnd::kClearsAlready) {
    return "These pivots clear, with arms and parts made for them: no move of a pivot was looked "
           "for.";
  }
  if (!sought.found) {
    return "No move of a single pivot by up to " +
           BenchText(sought.reach_mm, Bench::kHole, job.inches) +
           " was found with which it clears.";
  }
  const Correction& correction = *sought.found;
  const auto along = [&](double mm, const char* up, const char* down) {
    return BenchText(std::abs(mm), Bench::kHole, job.inches) + " " + (mm >= 0.0 ? up : down);
  };
  const std::string would = Does(correction.hinge)
                                ? "It would do with the "
                                : "It would clear, though it is still too weak, with the ";
  return would + PivotNameOf(correction.pin) + " moved by " +
         along(correction.by.x(), "forward", "back") + " and " +
         along(correction.by.y(), "up", "down") + " (as it sits with the lid shut).";
}

}  // namespace lidwright
