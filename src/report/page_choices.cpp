// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <functional>

#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "markup.h"
#include "page_sections.h"
#include "plain_picture.h"
#include "plain_words.h"
#include "words.h"

namespace lidwright {
namespace {

// A figure by which hinges are told apart, and what is said of the one that is best at it.
struct Aspect {
  const char* name;
  const char* praise;
  double sign;  // +1: least is best
  std::function<double(const Hinge&)> of;
  std::function<std::string(const Hinge&)> say;
};

// [-] Figures nearer to each other than this share decide nothing.
constexpr double kAlike = 0.03;

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
double Lift_n(const Hinge& hinge) {
  return hinge.forces ? hinge.forces->feel.largest_lift_n : kUnset;
}
std::vector<Aspect> Aspects(const Job& job) {
  const auto times = [](double (*of)(const Hinge&), int places) {
    return [=](const Hinge& h) { return Fixed(of(h), places) + " \u00d7"; };
  };
  return {
      {"Least gap, lid to case", "the widest gap", -1, LeastGap_mm,
       [&](const Hinge& h) { return LeastGap(h, job); }},
      {"Both arms together", "the shortest arms", 1, ArmsLength_mm,
       [&](const Hinge& h) { return BenchText(ArmsLength_mm(h), Bench::kSize, job.inches); }},
      {"Room behind", "the least room behind", 1, RoomBehind_mm,
       [&](const Hinge& h) { return RoomBehind(h, job); }},
      {"Mouth left free", "the freest mouth", -1, MouthFree,
       [](const Hinge& h) { return ShareText(MouthFree(h)); }},
      {"Rattle, times the pins' play", "the least rattle", 1, Play, times(Play, 1)},
      {"To lift", "the lightest lift", 1, Lift_n,

       [&](const Hinge& h) { return HeftText(Lift_n(h), Bench::kRoom, job.inches); }},
      {"Strength, times the load", "the strongest parts", -1, StrengthInUse,
       [](const Hinge& h) { return TimesBorne(StrengthInUse(h)) + " \u00d7"; }},
      {"Open, bears a hand of", "the most when leaned on", -1, LeanBorne_n,
       [&](const Hinge& h) { return ForceText(LeanBorne_n(h), Bench::kGap, job.inches); }},
  };
}

// The hinge that is best at an aspect, or none if it decides nothing between them.
const Hinge* BestAt(const Aspect& aspect, const std::vector<Hinge>& hinges) {
  const Hinge *best = nullptr, *worst = nullptr;
  for (const Hinge& h : hinges) {
    const double value = aspect.sign * aspect.of(h);
    if (std::isnan(value)) return nullptr;
    if (!best || value < aspect.sign * aspect.of(*best)) best = &h;
    if (!worst || value > aspect.sign * aspect.of(*worst)) worst = &h;
  }
  const double apart = std::abs(aspect.of(*worst) - aspect.of(*best));
  const bool decides =
      aspect.say(*best) != aspect.say(*worst) && apart > kAlike * std::abs(aspect.of(*best));
  return decides ? best : nullptr;
}

// What one of them is best at; what reads the same is as good.
std::string PraisesOf(const Hinge& hinge, const std::vector<Hinge>& hinges,
                      const std::vector<Aspect>& aspects) {
  std::string best_at;
  for (const Aspect& aspect : aspects) {
    const Hinge* best = BestAt(aspect, hinges);
    if (!best || aspect.say(hinge) != aspect.say(*best)) continue;
    best_at += (best_at.empty() ? "" : ", ") + std::string(aspect.praise);
  }
  return best_at;
}
std::string Praise(const Hinge& hinge, const std::string& best_at) {
  std::string praise = hinge.character == kAllRound ? "Best in all taken together." : "";
  if (!best_at.empty()) praise += (praise.empty() ? "" : " ") + ("Best at: " + best_at + ".");
  return praise;
}

std::string Thumb(const std::string& number, const std::string& name, const char* share,
                  const char* says) {
  return Element("figure", "",
                 "<svg class=\"thumb\" data-hinge=\"" + number + "\" data-share=\"" + share +
                     "\" role=\"img\" aria-label=\"" + name + ", lid " + says + "\"></svg>" +
                     Element("figcaption", "", says));
}

// A file's name as a shell takes it for one word that is no option.
std::string ShellWord(const std::string& name) {
  constexpr const char* kPlain =
      "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-+=.,:/@%";
  const std::string path = name[0] == '-' ? "./" + name : name;
  if (path.find_first_not_of(kPlain) == std::string::npos) return path;
  std::string quoted = "'";
  for (const char c : path) quoted += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return quoted + "'";
}

// How to have another hinge drawn than the first.
std::string Command(const std::string& job_file, const std::string& character) {
  const std::string job = job_file.empty() ? Element("i", "", "JOB") : Escaped(ShellWord(job_file));
  return Element("p", "class=\"command noprint\"",
                 Element("code", "",
                         "<span>lidwright fit " + job + "</span> <span>--choose \"" +
                             Escaped(character) + "\"</span> <span>--replace</span>") +
                     Element("button",
                             "type=\"button\" class=\"copy\" aria-label=\"Copy the line for " +
                                 Escaped(character) + "\"",
                             "Copy"));
}

std::string Card(const Design& design, const std::string& job_file,
                 const std::vector<Aspect>& aspects, std::size_t i) {
  const std::vector<Hinge>& hinges = design.hinges;
  const Hinge& hinge = hinges[i];
  const std::string number = std::to_string(i), name = Prose(hinge.character);
  const std::string best_at = PraisesOf(hinge, hinges, aspects);
  std::string rows;
  for (const Aspect& aspect : aspects) {
    const Hinge* best = BestAt(aspect, hinges);
    if (!best) continue;
    const bool is_best = aspect.say(hinge) == aspect.say(*best);
    rows +=
        Element("div", is_best ? "class=\"best\"" : "",
                Element("dt", "", Prose(aspect.name)) +
                    Element("dd", "",
                            Prose(aspect.say(hinge)) + (is_best ? " <small>best</small>" : ""))) +
        "\n";
  }
  const std::string praise = Praise(hinge, best_at);
  return Element(
             "li",
             "class=\"choice" + std::string(i == 0 ? " now" : "") + "\" data-card=\"" + number +
                 "\"",
             Element("h3", "", name + (i == 0 ? " <small>drawn and cut</small>" : "")) +
                 Element("div", "class=\"thumbs\"",
                         Thumb(number, name, "0", "shut") +
                             Thumb(number, name, "0.5", "half open") +
                             Thumb(number, name, "1", "open")) +
                 Element("p", "", Prose(praise)) + Element("dl", "", "\n" + rows) +
                 Element("p", "class=\"noprint\"",
                         Element("button",
                                 "type=\"button\" class=\"pick\" data-hinge=\"" + number +
                                     "\" aria-pressed=\"" + (i == 0 ? "true" : "false") +
                                     "\" aria-label=\"Show the hinge " + name + " in all figures\"",
                                 "Show")) +
                 (i == 0 ? "" : Command(job_file, hinge.character))) +
         "\n";
}

}  // namespace

std::string PraiseOf(const Design& design, std::size_t number) {
  const Hinge& hinge = design.hinges[number];
  return Praise(hinge, PraisesOf(hinge, design.hinges, Aspects(design.job)));
}

std::string ChoicePart(const Design& design, const std::string& job_file) {
  if (design.hinges.size() < 2) return "";
  const std::vector<Aspect> aspects = Aspects(design.job);
  std::string cards;
  for (std::size_t i = 0; i < design.hinges.size(); ++i)
    cards += Card(design, job_file, aspects, i);
  return Section("choices", "Which hinge?",
                 Element("p", "",
                         "All of them clear. Only what differs is told here. " +
                             Element("span", "class=\"by-line noprint\"",
                                     job_file.empty()
                                         ? "To have another one drawn and cut, run its line with "
                                           "your job's file for " +
                                               Element("i", "", "JOB") + "."
                                         : "To have another one drawn and cut, run its line where "
                                           "your job's file is.")) +
                     Element("ul", "class=\"choices\"", "\n" + cards));
}

std::string PlainPart(const Design& design) {
  const PlainHinge& plain = design.plain;
  if (plain.map.empty()) return "";
  const bool inches = design.job.inches;
  const std::string step = BenchText(plain.step_mm, Bench::kSize, inches);
  const PlainPicture picture = PlainPictureOf(design.job, design.solid, plain);
  const std::string angle = Fixed(picture.theta_rad * kDegPerRad, 0) + "\u00b0";
  const std::string says =
      picture.deep_mm > 0.0
          ? "On a plain hinge the lid digs " + BenchText(picture.deep_mm, Bench::kGap, inches) +
                " into the case at " + angle + "."
      : PlainDoes(plain)
          ? "A plain hinge would do: here the lid stands at " + angle + " on it."
          : "On a plain hinge at the back's edge the lid digs in nowhere, yet something "
            "else is in its way: see below.";
  const auto figure = [](const char* id, const std::string& caption) {
    return Element("figure", "",
                   std::string("<svg id=\"") + id + "\" role=\"img\" aria-label=\"" +
                       Prose(caption) + "\"></svg>" + Element("figcaption", "", Prose(caption)));
  };
  std::string pictures = figure("plain-picture", says);
  if (!design.hinges.empty()) {
    pictures += figure("hidden-picture", "The hidden hinge with its lid at the same angle.");
  }
  return Section(
      "plain", "Would a plain hinge do?",
      Element("p", "", Prose("In short: " + PlainSentence(plain, inches) + ".")) +
          Element("div", "class=\"compare\"", pictures) +
          Element("details", "",
                  Element("summary", "", "Every place for its pin that was tried") +
                      Element("figure", "",
                              "<svg id=\"map\" role=\"img\" aria-label=\"Map of places for the "
                              "pin of a plain hinge around the back edge of the rim\"></svg>" +
                                  Element("figcaption", "",
                                          Element("div", "id=\"map-legend\" class=\"legend\"", "") +
                                              "Each mark is a place for the pin, " + Prose(step) +
                                              " apart, over the section of the end wall, with what "
                                              "goes wrong there first."))));
}

}  // namespace lidwright
