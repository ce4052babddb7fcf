// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <functional>

#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "markup.h"
#include "page_sections.h"
#include "plain_words.h"
#include "words.h"

namespace lidwright {
namespace {

struct Aspect {
  const char* name;
  double sign;  // +1: least is best
  std::function<double(const Hinge&)> of;
  std::function<std::string(const Hinge&)> say;
};

double StrengthInUse(const Hinge& hinge) {
  const Strength* weakest = hinge.forces ? Weakest(*hinge.forces, false) : nullptr;
  return weakest ? weakest->Factor() : kUnset;
}

double LeanBorne_n(const Hinge& hinge) {
  const Strength* weakest = hinge.forces ? Weakest(*hinge.forces, true) : nullptr;
  return weakest ? weakest->Factor() * hinge.forces->load.lean_n : kUnset;
}

double LeastGap_mm(const Hinge& hinge) {
  return hinge.traits.least_gap_mm;
}
double ArmsLength_mm(const Hinge& hinge) {
  return hinge.traits.arms_length_mm;
}
double RoomBehind_mm(const Hinge& hinge) {
  return hinge.traits.reach_behind_mm;
}
double MouthFree(const Hinge& hinge) {
  return hinge.traits.mouth_free;
}
double Play(const Hinge& hinge) {
  return hinge.traits.play_factor;
}
double Lift(const Hinge& hinge) {
  return hinge.traits.lift_factor;
}
double ArmsAngle_rad(const Hinge& hinge) {
  return hinge.traits.arms_angle_rad;
}

std::vector<Aspect> Aspects(const Job& job) {
  const auto times = [](double (*of)(const Hinge&), int places) {
    return [=](const Hinge& h) { return Fixed(of(h), places) + " \u00d7"; };
  };
  return {
      {"Least gap, lid to case", -1, LeastGap_mm, [&](const Hinge& h) { return LeastGap(h, job); }},
      {"Both arms, hole to hole", 1, ArmsLength_mm,
       [&](const Hinge& h) { return BenchText(ArmsLength_mm(h), Bench::kSize, job.inches); }},
      {"Room behind", 1, RoomBehind_mm, [&](const Hinge& h) { return RoomBehind(h, job); }},
      {"Mouth left free", -1, MouthFree, [](const Hinge& h) { return ShareText(MouthFree(h)); }},
      {"Play, front edge over pins", 1, Play, times(Play, 1)},
      {"Lift over the lid's weight", 1, Lift, times(Lift, 2)},
      {"Weakest part in use, strength over load", -1, StrengthInUse, times(StrengthInUse, 1)},
      {"Hand leaning on the open lid that it bears", -1, LeanBorne_n,
       [&](const Hinge& h) { return ForceIn(LeanBorne_n(h), job.inches, Bench::kGap); }},
      {"Least angle between arms", -1, ArmsAngle_rad,
       [](const Hinge& h) { return Fixed(ArmsAngle_rad(h) * kDegPerRad, 0) + "\u00b0"; }},
  };
}

std::string AspectRow(const Aspect& aspect, const std::vector<Hinge>& hinges) {
  const Hinge *best = nullptr, *worst = nullptr;
  for (const Hinge& h : hinges) {
    const double value = aspect.sign * aspect.of(h);
    if (std::isnan(value)) continue;
    if (!best || value < aspect.sign * aspect.of(*best)) best = &h;
    if (!worst || value > aspect.sign * aspect.of(*worst)) worst = &h;
  }
  const bool differ = best && aspect.say(*best) != aspect.say(*worst);
  std::string cells = Element("th", "scope=\"row\"", Prose(aspect.name));
  for (const Hinge& h : hinges) {
    if (std::isnan(aspect.of(h))) {
      cells += Element("td", "", "-");
      continue;
    }
    // What reads the same is as good.
    const bool is_best = differ && aspect.say(h) == aspect.say(*best);
    cells += Element("td", is_best ? "class=\"best\"" : "",
                     Prose(aspect.say(h)) + (is_best ? " <small>best</small>" : ""));
  }
  return Element("tr", "", cells) + "\n";
}

}  // namespace

std::string ChoicePart(const Design& design) {
  const std::vector<Hinge>& hinges = design.hinges;
  if (hinges.size() < 2) return "";
  std::string head = Element("th", "scope=\"col\"", "hinge");
  std::string pictures = Element("th", "scope=\"row\"", "Shut and open");
  std::string buttons = Element("th", "scope=\"row\"", "In the figures");
  for (std::size_t i = 0; i < hinges.size(); ++i) {
    const std::string number = std::to_string(i), name = Prose(hinges[i].character);
    head += Element("th", "scope=\"col\"", name + (i == 0 ? " <small>drawn and cut</small>" : ""));
    pictures +=
        Element("td", "",
                "<svg class=\"thumb\" data-hinge=\"" + number + "\" role=\"img\" aria-label=\"" +
                    name + ": lid shut and open, with its arms\"></svg>");
    buttons += Element("td", "",
                       Element("button",
                               "type=\"button\" class=\"pick\" data-hinge=\"" + number +
                                   "\" aria-pressed=\"" + (i == 0 ? "true" : "false") +
                                   "\" aria-label=\"Show the hinge " + name + " in the swing\"",
                               "Show"));
  }
  std::string rows = Element("tr", "", pictures) + "\n";
  for (const Aspect& aspect : Aspects(design.job)) rows += AspectRow(aspect, hinges);
  rows += Element("tr", "class=\"noprint\"", buttons);
  return Section(
      "choices", "The hinges side by side",
      Element("p", "",
              "They clear alike; they differ in what they give and take. Least gap is certified; "
              "the other figures say how the lid will be to live with.") +
          Element("div",
                  "class=\"scroll\" tabindex=\"0\" role=\"region\" aria-label=\"Hinges side by "
                  "side\"",
                  Element("table",
                          "class=\"choices\" style=\"--columns: " +
                              std::to_string(hinges.size() + 1) + "\"",
                          Element("caption", "", "Hinges that were found, the best first") +
                              Element("thead", "", Element("tr", "", head)) +
                              Element("tbody", "", "\n" + rows))));
}

std::string PlainPart(const Design& design) {
  const PlainHinge& plain = design.plain;
  if (plain.map.empty()) return "";
  const std::string step = BenchText(plain.step_mm, Bench::kSize, design.job.inches);
  return Section(
      "plain", "Would a plain hinge do?",
      Element("p", "", Prose("In short: " + PlainSentence(plain, design.job.inches) + ".")) +
          Element("figure", "",
                  "<svg id=\"map\" role=\"img\" aria-label=\"Map of places for the pin of a plain "
                  "hinge around the back edge of the rim\"></svg>" +
                      Element("figcaption", "",
                              Element("div", "id=\"map-legend\" class=\"legend\"", "") +
                                  "Each mark is a place for the pin, " + Prose(step) +
                                  " apart, over the section of the end wall, with what goes wrong "
                                  "there first.")));
}

}  // namespace lidwright
