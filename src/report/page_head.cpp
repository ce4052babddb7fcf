// SPDX-License-Identifier: Apache-2.0
// The first screen: the answer in a sentence, the swing, three figures, three risks at most.
#include <algorithm>
#include <cmath>

#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "lidwright/design/risks.h"
#include "lidwright/report/forces_remarks.h"
#include "markup.h"
#include "page_sections.h"
#include "plain_words.h"
#include "verdict_words.h"
#include "words.h"

namespace lidwright {
namespace {

// What is said of one hinge; the page's script shows that of the hinge that is chosen.
std::string OfHinge(std::size_t number) {
  return "data-of=\"" + std::to_string(number) + "\"" + (number > 0 ? " hidden" : "");
}

std::string WholeDegrees(double rad) {
  return Fixed(rad * kDegPerRad, 0) + "\u00b0";
}

// A figure that opens: its name, the number, what it is in plain words; the exact one a tap away.
std::string Fact(const std::string& name, const std::string& number, const std::string& says,
                 const std::string& exact, bool warns = false) {
  return Element("details", warns ? "class=\"fact watch\"" : "class=\"fact\"",
                 Element("summary", "",
                         Element("span", "", Prose(name)) + Element("b", "", Prose(number)) +
                             Element("span", "", Prose(says))) +
                     Element("p", "", Prose(exact))) +
         "\n";
}

// [N] The largest lift at the front edge with the friction supports that are to be fitted: they
// resist by their moment at every angle. The hand's lever is the moment that it holds over its
// force.
double LiftWithSupports_n(const HingeForces& forces) {
  constexpr double kNoLever_n = 0.01;  // where the weight passes over; its neighbours tell as much
  const Feel& feel = forces.feel;
  double most_n = feel.largest_lift_n;
  for (std::size_t i = 0; i < feel.hand_n.size(); ++i) {
    if (std::abs(feel.hand_n[i]) < kNoLever_n) continue;
    const double lever_mm = feel.moment_nmm[i] / feel.hand_n[i];
    most_n = std::max(most_n, feel.raise_n[i] + forces.holdings.support_nmm / lever_mm);
  }
  return most_n;
}

std::string LiftFact(const Hinge& hinge, const Job& job) {
  if (!hinge.forces) {
    return Fact("To lift", "not known", "no arms yet", "It is known once both arms clear.");
  }
  const Feel& feel = hinge.forces->feel;
  const bool heavy = !(feel.largest_lift_n < kEasyLift_n);
  const std::string lid = MassText(feel.lid.mass_kg, job.inches);
  const std::optional<double> falls_open_rad = FallsOpenFrom_rad(feel);
  const std::string supported =
      hinge.forces->holdings.ToBuy()
          ? HeftText(LiftWithSupports_n(*hinge.forces), Bench::kRoom, job.inches)
          : "";
  return Fact(
      "To lift", HeftText(feel.largest_lift_n, Bench::kRoom, job.inches),
      supported.empty()
          ? std::string(heavy ? "heavy, at the front" : "at the front") + "; lid " + lid
          : std::string(heavy ? "heavy; " : "") + supported + " with supports",
      "At most " + ForceText(feel.largest_lift_n, Bench::kRoom, job.inches) +
          " at the front edge, straight off it. The lid alone weighs " +
          MassText(feel.lid.mass_kg, job.inches) + "." +
          (supported.empty()
               ? std::string()
               : " With the friction lid supports that hold it, at most " + supported + ".") +
          (heavy ? " More than " + ForceText(kEasyLift_n, Bench::kRoom, job.inches) +
                       " is heavy for one hand."
                 : "") +
          (falls_open_rad ? " Past " + WholeDegrees(*falls_open_rad) +
                                " it falls open by itself, backwards, " + OntoWhat(hinge) + "."
                          : ""),
      heavy);
}

std::string BehindFact(const Hinge& hinge, const Job& job) {
  return Fact(
      "Room behind", std::isnan(hinge.traits.reach_behind_mm) ? "-" : RoomBehind(hinge, job),
      job.case_form.back_bow_mm != 0.0 ? "free, from its back corners" : "free, from its back",
      "To keep free behind the rear face at the ends of the box" +
          (std::isnan(hinge.traits.reach_behind_rad)
               ? std::string()
               : ", most when the lid is at " + WholeDegrees(hinge.traits.reach_behind_rad)) +
          "." +
          std::string(std::isfinite(job.room.behind_mm)
                          ? " There is " + AsGiven(job.room.behind_mm, job.inches) + "."
                          : ""));
}

std::string WhichFact(const Design& design, std::size_t number) {
  const std::size_t count = design.hinges.size();
  std::string name = design.hinges[number].character;
  if (count > 1 && name == kAllRound) name = "best all-round";
  const std::string drawn = number == 0 ? "This is the one that is drawn and cut."
                                        : "The first one is drawn and cut. Below it says how to "
                                          "have this one.";
  return Fact("Hinge", std::to_string(number + 1) + " of " + std::to_string(count), name,
              (count == 1 ? "There is no other."
                          : PraiseOf(design, number) + " They stand side by side below.") +
                  (" " + drawn));
}

std::string Sentence(const Design& design, const Hinge& hinge) {
  const Verdicts required = RequirementsOf(hinge);
  const auto failed =
      std::count_if(required.begin(), required.end(), [](const Verdict& v) { return !v.met(); });
  if (failed > 0) {
    const Verdict& first =
        *std::find_if(required.begin(), required.end(), [](const Verdict& v) { return !v.met(); });
    const std::string needs = Required(first, design.job.inches),
                      has = Found(first, design.job.inches);
    return "Not yet: " + std::to_string(failed) + " of " + std::to_string(required.size()) +
           (failed == 1 ? " things asked for is missed: "
                        : " things asked for are missed. First: ") +
           NameOf(first) + (needs.empty() ? "" : ", " + needs) + (has.empty() ? "" : ", " + has) +
           ".";
  }
  const Verdict* gap = Find(required, Requirement::kLidToCase);
  if (!gap) return "The lid clears, and so do its arms.";
  const auto degrees = [](double rad) { return Text(rad * kDegPerRad, 1) + "\u00b0"; };
  const std::string which = PlainFirst(design) ? "the hidden hinge" : "it";
  return std::string(ManyBuildsFail(hinge) ? "Yes, as drawn, " : "Yes, ") + which +
         " clears all the way. From " + degrees(design.job.swing.gap_from_rad) + " open it keeps " +
         FoundNumber(*gap, design.job.inches) + " off the box.";
}

std::string RiskItem(const Risk& risk) {
  return Element("li", std::string("class=\"") + NameOf(risk.level) + "\"",
                 Element("b", "class=\"level\"", NameOf(risk.level)) +
                     Element("details", "open",
                             Element("summary", "", Element("b", "", Prose(risk.text))) +
                                 Element("p", "", Prose(risk.remedy)))) +
         "\n";
}

std::string PlainNote(const Design& design) {
  const std::optional<PlainAdvice> plain = PlainFirst(design);
  if (!plain) return "";
  return Element("details", "class=\"plain-first\"",
                 Element("summary", "", Element("b", "", Prose(plain->head))) +
                     Element("p", "", Prose(plain->rest))) +
         "\n";
}

std::string TellHinges(const Design& design) {
  std::string sentences, facts, risks;
  for (std::size_t i = 0; i < design.hinges.size(); ++i) {
    const Hinge& hinge = design.hinges[i];
    sentences += Element(
        "span", std::string("class=\"") + (Does(hinge) ? "good" : "watch") + "\" " + OfHinge(i),
        Prose(Sentence(design, hinge)));
    if (i > 0) {
      facts += Element("p", "class=\"looking\" " + OfHinge(i),
                       "You look at hinge " + std::to_string(i + 1) +
                           ". The parts, files and steps on this page are hinge 1's.");
    }
    facts += Element(
        "div", "class=\"facts\" " + OfHinge(i),
        "\n" + LiftFact(hinge, design.job) + BehindFact(hinge, design.job) + WhichFact(design, i));
    std::string list;
    for (const Risk& risk : RisksOf(design, hinge)) list += RiskItem(risk);
    risks += Element(
        "ol", "class=\"risks\" aria-label=\"What can go wrong, the worst first\" " + OfHinge(i),
        "\n" + list);
  }
  return PlainNote(design) + Element("h2", "id=\"swing-heading\" class=\"verdict\"", sentences) +
         "\n" + facts + risks;
}

std::string TellNone(const Design& design) {
  const NoHinge& none = *design.none;
  std::string text =
      Element("h2", "id=\"swing-heading\" class=\"verdict\"",
              Element("span", "class=\"watch\"", "No hidden hinge fits this box as it is.")) +
      "\n";
  std::string why = InTheWay(design);
  if (!none.remedies.empty()) {
    std::string list;
    for (const Remedy& remedy : none.remedies) list += Element("li", "", Prose(remedy.words));
    why += Element("p", "", "Any one of these lets one in:") + Element("ul", "", list);
  }
  if (none.nearest_hinge) {
    why += Element("p", "class=\"fine\"",
                   "What swings here is the linkage that came nearest. It is not to be built.");
  }
  return text + Element("div", "class=\"why\"", why);
}

}  // namespace

std::string HeadPart(const Design& design) {
  const bool none = design.hinges.empty() && design.none;
  const std::string tell =
      !design.hinges.empty() ? TellHinges(design)
      : none                 ? TellNone(design)
             : Element("h2", "id=\"swing-heading\" class=\"verdict\"", "The box as understood.");
  return "\n<section id=\"swing\" class=\"head\" aria-labelledby=\"swing-heading\">\n" +
         Element("div", "class=\"tell\"", tell + MorePart(design)) + "\n" +
         Element("div", "class=\"see\"", SeePart(design)) + "\n</section>\n";
}

}  // namespace lidwright
