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
  std::function<std::string(double)> say;
};

double StrengthInUse(const Hinge& hinge) {
  const Strength* weakest = hinge.forces ? Weakest(*hinge.forces, false) : nullptr;
  return weakest ? weakest->Factor() : kUnset;
}

double LeanBorne_n(const Hinge& hinge) {
  const Strength* weakest = hinge.forces ? Weakest(*hinge.forces, true) : nullptr;
  return weakest ? weakest->Factor() * hinge.forces->load.lean_n : kUnset;
}

std::vector<Aspect> Aspects(bool inches) {
  const auto down = [=](double mm) { return LengthIn(mm, inches); };
  const auto up = [=](double mm) { return LengthIn(mm, inches, Rounding::kUp); };
  const auto times = [](double v) { return Fixed(v, 1) + " \u00d7"; };
  return {
      {"Least gap, lid to case", -1, [](const Hinge& h) { return h.traits.least_gap_mm; }, down},
      {"Both arms, hole to hole", 1, [](const Hinge& h) { return h.traits.arms_length_mm; }, down},
      {"Room behind", 1, [](const Hinge& h) { return h.traits.reach_behind_mm; }, up},
      {"Mouth left free", -1, [](const Hinge& h) { return h.traits.mouth_free; },
       [](double v) { return Rounded(100.0 * v, 0, Rounding::kDown) + " %"; }},
      {"Play, front edge over pins", 1, [](const Hinge& h) { return h.traits.play_factor; }, times},
      {"Lift over the lid's weight", 1, [](const Hinge& h) { return h.traits.lift_factor; },
       [](double v) { return Fixed(v, 2) + " \u00d7"; }},
      {"Weakest part in use, strength over load", -1, StrengthInUse, times},
      {"Hand leaning on the open lid that it bears", -1, LeanBorne_n,
       [](double v) { return Rounded(v, 0, Rounding::kDown) + " N"; }},
      {"Least angle between arms", -1, [](const Hinge& h) { return h.traits.arms_angle_rad; },
       [](double v) { return Fixed(v * kDegPerRad, 0) + "\u00b0"; }},
  };
}

std::string AspectRow(const Aspect& aspect, const std::vector<Hinge>& hinges) {
  double best = 1e300, worst = -1e300;
  for (const Hinge& h : hinges) {
    const double value = aspect.of(h);
    if (std::isnan(value)) continue;
    best = std::min(best, aspect.sign * value);
    worst = std::max(worst, aspect.sign * value);
  }
  const bool differ =
      best < worst && aspect.say(aspect.sign * best) != aspect.say(aspect.sign * worst);
  std::string cells = Element("th", "scope=\"row\"", Prose(aspect.name));
  for (const Hinge& h : hinges) {
    const double value = aspect.of(h);
    if (std::isnan(value)) {
      cells += Element("td", "", "-");
      continue;
    }
    // What reads the same is as good.
    const bool is_best = differ && aspect.say(value) == aspect.say(aspect.sign * best);
    cells += Element("td", is_best ? "class=\"best\"" : "",
                     Prose(aspect.say(value)) + (is_best ? " <small>best</small>" : ""));
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
  for (const Aspect& aspect : Aspects(design.job.inches)) rows += AspectRow(aspect, hinges);
  rows += Element("tr", "class=\"noprint\"", buttons);
  return Section(
      "choices", "The hinges side by side",
      Element("p", "",
              "They clear alike; they differ in what they give and take. Least gap is certified; "
              "the other figures say how the lid will be to live with.") +
          Element("table", "class=\"choices\"",
                  Element("caption", "", "Hinges that were found, the best first") +
                      Element("thead", "", Element("tr", "", head)) +
                      Element("tbody", "", "\n" + rows)));
}

std::string PlainPart(const Design& design) {
  const PlainHinge& plain = design.plain;
  if (plain.map.empty()) return "";
  const std::string step = LengthIn(plain.step_mm, design.job.inches);
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
