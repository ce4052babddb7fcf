// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <iterator>
#include <sstream>

#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "lidwright/design/block_words.h"
#include "lidwright/report/accuracy_remarks.h"
#include "lidwright/report/forces_remarks.h"
#include "markup.h"
#include "page_sections.h"
#include "plain_words.h"
#include "verdict_words.h"
#include "words.h"

namespace lidwright {
std::string InTheWay(const Design& design) {
  return Element("p", "", Prose("In the way: " + WhatLacks(*design.none, design.job.inches) + "."));
}

namespace {

std::string Degrees(double rad) {
  return Fixed(rad * kDegPerRad, 1) + "\u00b0";
}

// "34.9°, lid end wall / case end wall"
std::string Where(const Verdict& v) {
  std::string text = !v.angle_rad ? "" : Degrees(*v.angle_rad);
  if (!PartsOf(v).empty()) text += (text.empty() ? "" : ", ") + PartsOf(v);
  return text;
}

std::string Figure(const std::string& name, const std::string& value, const std::string& remark) {
  return Element("div", "",
                 Element("dt", "", Prose(name)) +
                     Element("dd", "",
                             Element("b", "", Prose(value)) +
                                 (remark.empty() ? "" : Element("span", "", Prose(remark))))) +
         "\n";
}

const Verdict* TightestArm(const Hinge& hinge) {
  const Verdict* tightest = nullptr;
  for (const Verdict& v : hinge.verdicts) {
    if (!IsGapOfArms(v.what) || !v.nearest || !v.found) continue;
    if (tightest == nullptr || *v.found < *tightest->found) tightest = &v;
  }
  return tightest;
}

std::string Figures(const Design& design, const Hinge& hinge) {
  const bool inches = design.job.inches;
  const Traits& t = hinge.traits;
  std::string text;
  if (const Verdict* gap = Find(hinge.verdicts, Requirement::kLidToCase)) {
    text += Figure("Least gap, lid to case", FoundNumber(*gap, inches),
                   "asked: " + AsGiven(*gap->required, inches) + "; tightest at " + Where(*gap));
  }
  if (const Verdict* arm = TightestArm(hinge)) {
    text += Figure("Least gap of the arms", FoundNumber(*arm, inches),
                   "asked: " + AsGiven(*arm->required, inches) + "; tightest at " + Where(*arm));
  }
  if (hinge.forces) {
    text += Figure("To lift it", ForceText(hinge.forces->feel.largest_lift_n, Bench::kRoom, inches),
                   "at most, at the front edge; the lid weighs " +
                       MassText(hinge.forces->feel.lid.mass_kg, inches));
  }
  if (!std::isnan(t.reach_behind_mm)) {
    text += Figure("Room it takes behind", RoomBehind(hinge, design.job),
                   std::isfinite(design.job.room.behind_mm)
                       ? "there is " + AsGiven(design.job.room.behind_mm, inches)
                       : "behind the case's rear face at the ends");
  }
  if (!std::isnan(t.mouth_free)) {
    text += Figure("Mouth left free", Quantity(t.mouth_free, "share", inches),
                   "asked: " + Quantity(design.job.room.mouth_free, "share", inches));
  }
  if (!std::isnan(t.play_factor)) {
    text += Figure("Play at the front edge", Fixed(t.play_factor, 1) + " \u00d7",
                   "the play at the pins");
  }
  if (hinge.accuracy) {
    text += Figure(
        "Holes may be off by", BenchText(hinge.accuracy->error_it_stands_mm, Bench::kError, inches),
        "as a rule: 99 of 100 lids still clear and open; " +
            BenchText(hinge.accuracy->drill_error_mm, Bench::kError, inches) + " is reckoned with");
  }
  const MountingBlock& block = design.solid.block;
  if (const std::string says = MountingBlockText(block, inches, "\u00b0"); !says.empty()) {
    text += Figure("Mounting blocks", BenchText(block.at_rim_mm, Bench::kSize, inches), says);
  }
  return Element("dl", "class=\"figures\"", "\n" + text);
}

// Sheets, rod and tube in one sentence.
std::string ToBuy(const Design& design, const PartsList& list) {
  const bool inches = design.job.inches;
  std::string buy;
  const auto add = [&](const std::string& what) { buy += (buy.empty() ? "" : "; ") + what; };
  for (const SheetRow& row : list.sheets) add(row.stock);
  for (const SawRow& row : list.saw) {
    add(row.stock + ", " + BenchText(row.total_mm, Bench::kRoom, inches));
  }
  if (!design.hinges.empty() && design.hinges.front().forces &&
      design.hinges.front().forces->holdings.ToBuy()) {
    add("two friction lid supports of " +
        TorqueText(design.hinges.front().forces->holdings.support_nmm / 2.0, inches));
  }
  const bool screws = std::any_of(list.parts.begin(), list.parts.end(),
                                  [](const PartsRow& row) { return row.part == "screw"; });
  return buy.empty()
             ? buy
             : buy + (screws ? "; screws," : "; washers,") + " counts and sizes under Parts.";
}

std::string HingeAnswer(const Design& design) {
  const Hinge& hinge = design.hinges.front();
  const bool inches = design.job.inches;
  const Verdicts required = RequirementsOf(hinge);
  const auto failed =
      std::count_if(required.begin(), required.end(), [](const Verdict& v) { return !v.met(); });
  const auto sampled = std::count_if(required.begin(), required.end(),
                                     [](const Verdict& v) { return v.met() && v.sampled; });
  std::string text;
  if (failed > 0) {
    text = Element("p", "class=\"verdict watch\"",
                   std::to_string(failed) + " of " + std::to_string(required.size()) +
                       " requirements are not met.");
    std::string list;
    for (const Verdict& v : required) {
      if (v.met()) continue;
      const std::string where = Where(v);
      std::string said = Required(v, inches);
      const auto add = [&](const std::string& more) {
        if (!more.empty()) said += (said.empty() ? "" : ", ") + more;
      };
      add(Found(v, inches));
      add(where.empty() ? "" : "at " + where);
      add(RemarkOf(v, inches));
      list += Element("li", "", Element("b", "", Prose(NameOf(v))) + Prose(": " + said));
    }
    text += Element("ul", "", list);
  } else {
    text = Element("p", "class=\"verdict good\"", "The lid clears, and so do its arms.");
    const Verdict* gap = Find(required, Requirement::kLidToCase);
    if (gap != nullptr) {
      text += Element(
          "p", "",
          Prose("From " + Degrees(design.job.swing.gap_from_rad) + " to " +
                Degrees(design.job.swing.open_rad) +
                ", at every angle and over the whole width, lid and case keep at least " +
                FoundNumber(*gap, inches) +
                " apart. Before that, where wood rests on wood, it is proven that every contact "
                "parts at once and nothing comes nearer than when shut."));
    }
  }
  if (sampled > 0) {
    text += Element("p", "class=\"fine\"",
                    std::to_string(sampled) +
                        " of the requirements met are looked at in many positions, not proven; "
                        "they are marked below.");
  }
  if (!design.sizes.empty()) {
    text += Element(
        "p", "",
        Prose("Sizes that the job leaves open: " + design.sizes + ", " + design.sizes_why + "."));
  }
  return text + Figures(design, hinge);
}

std::string NoHingeAnswer(const Design& design) {
  const NoHinge& none = *design.none;
  std::string text =
      Element("p", "class=\"verdict watch\"", "No hidden hinge fits this box as it is.");
  text += InTheWay(design);
  if (!none.cannot.empty()) text += Element("p", "", Prose("Proven: " + none.cannot + "."));
  if (!none.remedies.empty()) {
    std::string list;
    for (const Remedy& remedy : none.remedies) list += Element("li", "", Prose(remedy.words));
    text += Element("p", "", "Any one of these lets one in:") +
            Element("ul", "class=\"remedies\"", list);
  }
  text += Element("p", "class=\"fine\"",
                  Prose("For the record, " + NearestText(none, design.job.inches) + "." +
                        (none.nearest_hinge ? " It is drawn below." : "")));
  return text;
}

}  // namespace

std::string MarkedList(const Remarks& remarks) {
  std::string head, list;
  for (const std::string& sentence : remarks.head) head += (head.empty() ? "" : " ") + sentence;
  for (const Remark& remark : remarks.list) {
    const bool said = remark.mark == Mark::kSaid, pass = remark.mark == Mark::kPass;
    list += Element("li",
                    said   ? "class=\"said\""
                    : pass ? "class=\"good\""
                           : "class=\"watch\"",
                    (said ? "" : Element("b", "class=\"word\"", pass ? "pass" : "warn")) +
                        Element("span", "", Prose(InFull(remark)))) +
            "\n";
  }
  return (head.empty() ? "" : Element("p", "", Prose(head))) +
         Element("ul", "class=\"marked\"", list);
}

std::string AnswerPart(const Design& design, const PartsFound& found) {
  std::string text;
  if (!design.hinges.empty()) {
    text = HingeAnswer(design);
  } else if (design.none) {
    text = NoHingeAnswer(design);
  } else {
    text = Element("p", "class=\"verdict\"", "The box as understood.");
  }
  const std::string buy = ToBuy(design, found.list);
  if (!buy.empty()) text += Element("p", "", Element("b", "", "To buy:") + " " + Prose(buy));
  if (!design.plain.map.empty()) {
    text += Element("p", "",
                    Element("b", "", "Would a plain hinge do?") + " In short: " +
                        Prose(PlainSentence(design.plain, design.job.inches)) + ".");
  }
  return Section("answer", "The answer in full", text);
}

std::string FeelPart(const Design& design) {
  if (design.hinges.empty() || !design.hinges.front().forces) return "";
  const Hinge& hinge = design.hinges.front();
  return Section("feel", "How the lid feels",
                 MarkedList(ForcesRemarks(*hinge.forces, design.job, hinge.gap_by_angle_mm)));
}

std::string AccuracyPart(const Design& design) {
  if (design.hinges.empty() || !design.hinges.front().accuracy) return "";
  const Hinge& hinge = design.hinges.front();
  return Section(
      "accuracy", "How exactly it must be made",
      MarkedList(AccuracyRemarks(*hinge.accuracy, design.job, hinge.traits.play_factor)));
}

std::string WatchPart(const Design& design) {
  if (design.hinges.empty()) return "";  // nothing that could pinch, fall or be cut
  const auto item = [](const std::string& head, const std::string& text) {
    return Element("li", "", Element("b", "", Prose(head)) + " " + Prose(text)) + "\n";
  };
  const std::string finger = design.job.inches ? "1 in (25 mm)" : "25 mm";
  const std::string hand = design.job.inches ? "4 in (100 mm)" : "100 mm";
  std::string list =
      item("Pinched fingers.",
           "Lid, arms and case close on each other. By ISO 13854 a gap that must not crush is at "
           "least " +
               finger + " for a finger and " + hand +
               " for a hand; this hinge closes to less. Keep the other hand off "
               "the rim and out of the ends of the box while the lid moves.") +
      item("A falling lid.",
           "Try the swing with a stick first, never with fingers or a face under it. Where the lid "
           "does not hold itself, fit lid supports or friction washers; a stay only stops it "
           "open.") +
      item("Children.",
           "A chest that children use has rules of its own, for lid supports that hold at any "
           "position, for air inside and against latches; falling lids have killed. Nothing here "
           "shows that they are met.") +
      item("Small parts under a cutter.",
           "They jump and jam: hold them with tabs or tape, never with fingers.") +
      item("Brass.", "Deburr every edge, collect the dust, wear glasses and a mask.") +
      item("Tipping.", "An open lid hangs behind the box and can pull an empty one over.");
  return Section("watch", "What to watch",
                 Element("ul", "class=\"cautions\"", "\n" + list) +
                     Element("p", "class=\"fine\"",
                             "Where a lid can hurt someone, and for furniture that bears loads, "
                             "local codes and licensed practice come before what is written "
                             "here."));
}

}  // namespace lidwright
