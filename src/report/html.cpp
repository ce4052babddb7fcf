// SPDX-License-Identifier: Apache-2.0
#include "lidwright/report/html.h"

#include "lidwright/base/bench.h"
#include "lidwright/job/write_job.h"
#include "lidwright/looks/looks.h"
#include "lidwright/report/page_views.h"
#include "markup.h"
#include "page_data.h"
#include "page_sections.h"
#include "plain_picture.h"

namespace lidwright {
namespace {

// Numbered in their order: later ones use what earlier ones declare.
constexpr const char* kStyle =
#include "report/page/1_style.css.inc"
#include "report/page/2_figures.css.inc"
    ;

constexpr const char* kScript =
#include "report/page/1_data.js.inc"
#include "report/page/1_looks.js.inc"
#include "report/page/2_section.js.inc"
#include "report/page/3_curves.js.inc"
#include "report/page/4_mesh.js.inc"
#include "report/page/5_solid.js.inc"
#include "report/page/6_choices.js.inc"
#include "report/page/7_controls.js.inc"
#include "report/page/8_bench.js.inc"
    ;
constexpr const char* kScriptEnd = "})();\n";

Json PictureData(const PlainPicture& picture) {
  return {{"pin", Point(picture.pin)},
          {"theta", picture.theta_rad},
          {"deep", picture.deep_mm},
          {"z", picture.z_mm},
          {"at", Point(picture.at)}};
}

Json PlainData(const PlainHinge& plain) {
  std::string outcomes;
  for (const PlainOutcome outcome : plain.map) outcomes += "+rcab"[static_cast<int>(outcome)];
  return {{"low", Point(plain.low)},  {"step", plain.step_mm}, {"columns", plain.columns},
          {"rows", plain.rows},       {"outcomes", outcomes},  {"works", plain.works},
          {"best", Point(plain.best)}};
}

std::string HexColour(unsigned rgb) {
  constexpr char kDigits[] = "0123456789abcdef";
  std::string text = "#";
  for (int shift = 20; shift >= 0; shift -= 4) text += kDigits[(rgb >> shift) & 0xF];
  return text;
}

// The tones of all bodies as properties of the page, on light and dark ground and on paper.
std::string LooksStyle() {
  std::string light, dark, rules;
  for (const Look& look : AllLooks()) {
    const std::string name = std::string("--") + look.name, ink = name + "-ink: ";
    light += name + ": " + HexColour(look.fill) + "; " + ink + HexColour(look.ink) + ";\n";
    dark += name + ": " + HexColour(look.dark_fill) + "; " + ink + HexColour(look.dark_ink) + ";\n";
    rules += std::string(".fill-") + look.name + " { fill: var(" + name + "); }\n.ink-" +
             look.name + " { stroke: var(" + name + "-ink); stroke-width: 0.8; fill: none; }\n" +
             ".dot-" + look.name + " { fill: var(" + name + "-ink); }\n";
  }
  return ":root {\n" + light + "}\n@media (prefers-color-scheme: dark) { :root {\n" + dark +
         "} }\n@media print { :root {\n" + light + "} }\n" + rules;
}

std::string Data(const Design& design) {
  Json json = PageData(design.job, design.solid);
  for (const Hinge& hinge : design.hinges) json["hinges"].push_back(HingeData(design, hinge));
  if (design.hinges.empty() && design.none && design.none->nearest_hinge) {
    json["nearest"] = HingeData(design, *design.none->nearest_hinge);
  }
  json["plain"] = PlainData(design.plain);
  if (!design.plain.map.empty()) {
    json["plain"]["picture"] = PictureData(PlainPictureOf(design.job, design.solid, design.plain));
  }
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

// Ways to those parts that the page has.
std::string WaysTo(const std::string& parts) {
  const std::pair<const char*, const char*> all[] = {
      {"choices", "Hinges"},     {"plain", "Plain hinge"},   {"answer", "Answer in full"},
      {"parts", "Parts"},        {"marking", "Pivots"},      {"accuracy", "Accuracy"},
      {"bench", "At the bench"}, {"files", "Files"},         {"look", "Curves and solid"},
      {"feel", "Feel"},          {"proofs", "Requirements"}, {"missed", "Missed"},
      {"watch", "Cautions"}};
  std::string links;
  for (const auto& [id, name] : all) {
    if (parts.find(std::string("<section id=\"") + id + "\"") == std::string::npos) continue;
    links += Element("a", std::string("href=\"#") + id + "\"", name) + "\n";
  }
  return Element("nav", "aria-label=\"Parts of this page\"", "\n" + links);
}

}  // namespace

std::string PageStyle() {
  return LooksStyle() + kStyle;
}

std::string PageScript(const std::string& more) {
  return std::string(kScript) + more + kScriptEnd;
}

Json PageData(const Job& job, const Solid& solid) {
  Json json;
  json["inches"] = job.inches;
  const char* const kinds[] = {"gap", "room", "size", "hole", "error", "bound"};  // as in Bench
  for (std::size_t i = 0; i < kBenchRules.size(); ++i) {
    const BenchRule& rule = kBenchRules[i];
    json["bench"][kinds[i]] = {rule.steps_per_mm, rule.steps_per_inch, rule.side};
  }
  json["box"] = BoxData(job, solid);
  json["hinges"] = Json::array();
  json["plain"] = PlainData({});
  json["looks"] = Json::array();
  constexpr const char* kPatterns[] = {"plain", "lines", "crossed", "dots"};  // as in Pattern
  for (const Look& look : AllLooks()) {
    json["looks"].push_back({{"name", look.name},
                             {"says", look.says},
                             {"fill", HexColour(look.fill)},
                             {"pattern", kPatterns[static_cast<int>(look.pattern)]},
                             {"angle", look.angle_deg},
                             {"pitch", look.pitch_mm}});
  }
  return json;
}

std::string FilesPart(const ReportLinks& links) {
  if (links.files.empty()) return "";
  std::string list;
  for (const ReportLink& link : links.files) {
    list += Element("li", "",
                    Element("a", "href=\"" + Escaped(link.file) + "\"", Escaped(link.file)) +
                        (link.says.empty() ? "" : " \u2013 " + Escaped(link.says))) +
            "\n";
  }
  return Section("files", "The files", Element("ul", "class=\"files\"", "\n" + list));
}

std::string JobPart(const Design& design, const ReportLinks& links) {
  const std::string made = links.version.empty() ? "lidwright" : "lidwright " + links.version;
  return Section(
      "job", "The job",
      Element("p", "",
              "Every measure that this rests on, defaults filled in. Saved as a file it gives the "
              "same result with the same version.") +
          Element("details", "",
                  Element("summary", "", "The job as a file") +
                      Element("pre", "tabindex=\"0\" aria-label=\"The job as a file\"",
                              Escaped(WriteJob(design.job)))) +
          Element("p", "class=\"fine\"", "Made by " + Escaped(made) + "."));
}

std::string ReportHtml(const Design& design, const ReportLinks& links) {
  const std::string name = design.job.name.empty() ? "Hidden hinge" : design.job.name;
  std::string page =
      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
      // Nothing is fetched, whatever stands in the page.
      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
      "style-src 'unsafe-inline'; script-src 'unsafe-inline'; img-src data:; base-uri 'none'; "
      "form-action 'none'\">\n<meta name=\"color-scheme\" content=\"light dark\">\n";
  page += Element("title", "", Escaped(name) + " \u2013 hidden hinge") + "\n";
  page += Element("style", "", PageStyle()) + "\n</head>\n<body>\n";
  page += "<a class=\"skip\" href=\"#swing\">To the swing</a>\n<header>\n" +
          Element("h1", "", "<small>Hidden hinge for</small> " + Escaped(name));
  // First what is chosen, then what is bought and made, then what stands behind it.
  const std::string parts =
      ChoicePart(design, links.job_file) + PlainPart(design) + AnswerPart(design, links.parts) +
      MissedPart(design) + PartsPart(design, links.parts) + MarkingPart(design) +
      AccuracyPart(design) + BenchPart(design, links.parts) + FilesPart(links) + LookPart(design) +
      FeelPart(design) + ProofPart(design) + WatchPart(design) + JobPart(design, links);
  page += "\n</header>\n<main>\n" + HeadPart(design) + WaysTo(parts) + parts;
  page += "</main>\n<script type=\"application/json\" id=\"data\">" + InScript(Data(design)) +
          "</script>\n<script>" + PageScript("") + "</script>\n</body>\n</html>\n";
  return page;
}

}  // namespace lidwright
