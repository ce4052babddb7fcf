// SPDX-License-Identifier: Apache-2.0
// Everything that one job writes, read back as text: a quantity that stands in several places is
// the same number in all of them.
#include <catch2/catch.hpp>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>

#include "app/run_shell.h"
#include "app/scratch_folder.h"
#include "design/examples.h"
#include "lidwright/cutting/cut_set.h"
#include "lidwright/cutting/parts_list.h"
#include "lidwright/design/sized_design.h"
#include "lidwright/drawing/arm_sheet.h"
#include "lidwright/drawing/arrangement.h"
#include "lidwright/drawing/booklet.h"
#include "lidwright/drawing/charts.h"
#include "lidwright/drawing/overlay.h"
#include "lidwright/drawing/swing_frames.h"
#include "lidwright/drawing/templates.h"
#include "lidwright/job/length.h"
#include "lidwright/report/answer_text.h"
#include "lidwright/report/hinge_json.h"
#include "lidwright/report/html.h"
#include "lidwright/report/summary.h"
#include "report/texts.h"

namespace lidwright {
namespace {

using testing::Plain;
using testing::ReadDrawing;
using testing::ReadPage;
using Texts = std::map<std::string, std::string>;  // by where they stand

std::string ReadGallery(const Design& design) {
  const testing::ScratchFolder folder;
  std::filesystem::create_directories(folder / "results/job");
  std::ofstream(folder / "results/job/hinge.json") << WriteHingeJson(design);
  std::ofstream(folder / "results/job/box.svg") << "<svg/>";
  std::ofstream(folder / "README.md")
      << "<!-- gallery: made by examples/run -->\n<!-- /gallery -->";
  std::filesystem::create_directories(folder / "pages");
  std::filesystem::copy_file(folder / "README.md", folder / "pages/README.md");
  const testing::Run run = testing::RunShell(
      testing::Gallery() + " " + (folder / "results").string() + " " + (folder / "pages").string() +
      " " + (folder / "README.md").string() + " job");
  INFO(run.text);
  REQUIRE(run.code == 0);
  std::ifstream page(folder / "README.md");
  return Plain({std::istreambuf_iterator<char>(page), {}});
}

Texts TextsOf(const Design& design) {
  const Job& job = design.job;
  const Hinge& hinge = design.hinges.front();
  const HingeSet& set = *hinge.parts;
  ReportLinks links;
  links.parts.list = MakePartsList(set.pieces, set.buy, job.inches);
  SwingFrameOptions frames;
  frames.count = 24;
  return {
      {"report", ReadPage(ReportHtml(design, links))},
      {"summary", Plain(SummaryText(design))},
      {"answer", Plain(AnswerText(design, {}))},
      {"gallery", ReadGallery(design)},
      {"parts.csv", Plain(PartsListCsv(links.parts.list, job.inches))},
      {"arms", ReadDrawing({ArmSheet(design, hinge)})},
      {"arrangement", ReadDrawing({Arrangement(design, hinge)})},
      {"booklet", ReadDrawing(BenchBooklet(design, hinge, MakeCutSet(set.pieces, CutWishFor(job)),
                                           links.parts.list))},
      {"overlay", ReadDrawing({Overlay(design, hinge)})},
      {"charts", ReadDrawing({Charts(design, hinge)})},
      {"frames", ReadDrawing(SwingFrameCanvases(design, hinge, frames))},
      {"templates", ReadDrawing(DrillTemplates(job, design.solid, set.pieces, set.bench_work))}};
}

// Where a quantity is printed: "{}" stands for its number, "~" for a unit that may follow. Each
// place is one source and a pattern that must be found in it.
struct Quantity {
  std::string name;
  std::vector<std::pair<std::string, std::string>> places;
};

std::vector<Quantity> Quantities(const std::string& character, bool inches) {
  const std::string a0 = "A\u2080", b0 = "B\u2080", in = inches ? ", in" : ", mm",
                    force = inches ? "lbf" : "N";
  std::vector<Quantity> all = {
      {"least gap of lid and case",
       {{"report", "keep at least {}"},
        {"report", "Least gap, lid to case {}"},
        {"report", "lid to case needs [^|]{1,12} has {}"},
        {"summary", "clears the case by at least {}"},
        {"summary", "\n  " + character + " +{}"},
        {"summary", "lid to case +needs [^ ]+ .. +has {}"},
        {"answer", "clears the case by {}"},
        {"answer", "\n  " + character + " +{}"},
        {"overlay", "{}~ lid to case"},
        {"charts", "at least {}"},
        {"frames", "{}~ lid to case"},
        {"gallery", "clears by {}"}}},
      {"room behind",
       {{"report", "Room it takes behind {}"},
        {"report", "Room behind {}"},
        {"summary", "\n  " + character + " +[^ ]+ .. +[^ ]+ .. +{}"},
        {"answer", "\n  " + character + " +[^ ]+ .. +[^ ]+ .. +{}"},
        {"arrangement", "\\[room: (?:[^|]+ open \\| needs )?{}"},
        {"booklet", "it (?:\\| )?needs (?:\\| )?{}"},
        {"gallery", "needs {}"}}},
      {"mouth left free",
       {{"report", "Mouth left free {} %"},
        {"report", "mouth left free needs [0-9]+ % has {} %"},
        {"summary", "mouth left free +needs [0-9]+ % +has {} %"},
        {"summary", "\n  " + character + "[^%]*?{} %"},
        {"answer", "\n  " + character + "[^%]*?{} %"},
        {"gallery", "leaves {} %"}}},
      {"force to lift",
       {{"report", "To lift it {} " + force},
        {"report", "takes at most {} " + force},
        {"summary", "takes at most {} " + force},
        {"gallery", "takes {} " + force}}},
      {"hand that the open lid bears",
       {{"report", "gives at about {} " + force}, {"summary", "gives at about {} " + force}}},
      {"error the holes stand",
       {{"report", "Holes may be off by {}"},
        {"report", "with holes up to {}"},
        {"summary", "with holes up to {}"}}},
      {"hole for a bushing",
       {{"report", "at each end a hole {}"},
        {"report", "Holes for bushings in the arms: {}"},
        {"summary", "; hole {}"},
        {"summary", "Holes for bushings in the arms: {}"},
        {"arms", "\u2300 {}"},
        {"arms", "inside radius \\| Arm A \\| [^|]+ \\| [^|]+ \\| {}"},
        {"parts.csv", "arm A,[^\n]*hole {}"}}},
      {"bushing",
       {{"report", "for a {}~ bushing"},
        {"report", "Bushings: {}"},
        {"summary", "for a {}~ bushing"},
        {"summary", "Bushings: {}"},
        {"arms", "inside radius \\| Arm A \\| [^|]+ \\| [^|]+ \\| [^|]+ \\| {}"},
        {"parts.csv", "arm A,[^\n]*for a {}~ bushing"}}},
  };
  for (const auto& [arm, base, row] :
       {std::tuple<std::string, std::string, std::string>{"A", a0, "Arm A"}, {"B", b0, "Arm B"}}) {
    all.push_back({"arm " + arm + " from hole to hole",
                   {{"report", "Arm " + arm + " ?: {}"},
                    {"summary", "arm " + arm + ": {}"},
                    {"arms", row + " \\| {}"},
                    {"arms", "\\[arm-" + std::string(arm == "A" ? "a" : "b") + ": [0-9]+ \\| " +
                                 row + " \\| {}"},
                    {"booklet", base + " \u2013 " + arm + " +arm " + arm + " \\| {}"},
                    {"arrangement", "arm " + arm + " \\| {}"},
                    {"arrangement", "arm " + arm + " \\| [^|]+ \\| {}"}}});
  }
  const std::tuple<const char*, std::string, const char*, const char*> pivots[] = {
      {"A 0 case, arm A", a0, "in the case", "hole for the case pin of arm A"},
      {"B 0 case, arm B", b0, "in the case", "hole for the case pin of arm B"},
      {"A lid, arm A", "A", "in the lid, from the case", ""},
      {"B lid, arm B", "B", "in the lid, from the case", ""}};
  for (const auto& [row, letter, where, hole] : pivots) {
    const std::string body = std::string(where).find("lid") == std::string::npos ? "case" : "lid";
    const std::string file = body + ", arm " + letter.substr(0, 1);
    const std::string table = letter + " " + where, name = letter + " " + body;
    Quantity x{name + " from the rear face",
               {{"report", std::string(row) + " {}"}, {"summary", file + " +{},"}}};
    Quantity y{name + " from the rim at the ends",
               {{"report", std::string(row) + " [^ ]+ {}"}, {"summary", file + " +[^ ]+, {}"}}};
    Quantity back{name + " from the back's inner face",
                  {{"report", std::string(row) + " [^ ]+ [^ ]+ {}"},
                   {"overlay", name + " \\| {}"},
                   {"arrangement", table + " \\| {}"}}};
    Quantity rim{name + " from the rim",
                 {{"report", std::string(row) + " [^ ]+ [^ ]+ [^ ]+ {}"},
                  {"overlay", name + " \\| [^|]+ \\| {}"},
                  {"arrangement", table + " \\| [^|]+ \\| {}"}}};
    if (*hole) {
      back.places.push_back({"templates", std::string(hole) + " \\| [^|]+ \\| [^|]+ \\| {}"});
      rim.places.push_back(
          {"templates", std::string(hole) + " \\| [^|]+ \\| [^|]+ \\| [^|]+ \\| {}"});
    }
    for (Quantity& q : std::vector<Quantity>{x, y, back, rim}) all.push_back(q);
  }
  return all;
}

// A text as a pattern that finds it.
std::string Literal(const std::string& text) {
  std::string pattern;
  for (const char c : text) {
    if (std::string("\\^$.|?*+()[]{}").find(c) != std::string::npos) pattern += '\\';
    pattern += c;
  }
  return pattern;
}

// What parts list, report, sheets and booklet have in common.
std::vector<Quantity> OfTheList(const PartsList& list) {
  std::vector<Quantity> all;
  for (const SawRow& row : list.saw) {
    const std::string stock = Literal(row.stock);
    // A table's cell may be more than one line.
    const std::string in_cell = std::regex_replace(stock, std::regex(" "), "(?: \\| | )");
    all.push_back({row.stock + " in all",
                   {{"report", "To buy:[^!]*? " + stock + ", {}"},
                    {"booklet", "\\| " + stock + ", {}~ in all"},
                    {"booklet", "\\| " + in_cell + "(?: \\| )+{}~ \\| all of it"},
                    {"parts.csv", "saw,,\"?" + stock + "\"?,1,{}"}}});
  }
  for (const char letter : {'A', 'B'}) {
    const std::string name = std::string("arm ") + letter;
    const std::string drawn =
        std::string("\\[arm-") + (letter == 'A' ? "a" : "b") + ": [0-9]+ \\| Arm [AB] \\| [^|]+ ";
    all.push_back({"length of the blank of " + name,
                   {{"arms", drawn + "\\| {}"},
                    {"report", name + " 2 {}"},
                    {"booklet", name + " \\| 2 \\| {}"},
                    {"parts.csv", name + ",2,\"?{}"}}});
    all.push_back({"width of the blank of " + name,
                   {{"arms", drawn + "\\| [^|]+ \\| {}"},
                    {"report", name + " 2 [^ ]+ (?:mm|in) by {}"},
                    {"booklet", name + " \\| 2 \\| [^|]*? by {}"},
                    {"parts.csv", name + ",2,[^\n]*? by {}"}}});
  }
  for (const PartsRow& row : list.parts) {
    if (row.part != "stop rod") continue;
    all.push_back({"length of the stop's rod",
                   {{"report", "stop rod 2 [^!]*?, {}~ long"},
                    {"parts.csv", "stop rod,2,[^\n]*?, {}~ long"}}});
  }
  return all;
}

// Numbers of a quantity as printed, with the places each was found in.
struct Printed {
  std::map<double, std::set<std::string>> numbers;
  std::vector<std::string> lacking;  ///< places that do not print it
};

Printed Find(const Quantity& quantity, const Texts& texts, bool inches) {
  const std::string number = inches
                                 ? "(-?(?:[0-9]+-[0-9]+/[0-9]+|[0-9]+/[0-9]+|[0-9]+(?:\\.[0-9]+)?))"
                                 : "(-?[0-9]+(?:\\.[0-9]+)?)";
  Printed printed;
  for (const auto& [source, place] : quantity.places) {
    std::string pattern = place;
    pattern.replace(pattern.find("{}"), 2, number);
    if (const auto at = pattern.find('~'); at != std::string::npos) {
      pattern.replace(at, 1, "(?: mm| in|\")?");
    }
    const std::string& text = texts.at(source);
    const std::regex regex(pattern);
    const auto begin = std::sregex_iterator(text.begin(), text.end(), regex);
    if (begin == std::sregex_iterator()) printed.lacking.push_back(source + ": " + place);
    for (auto match = begin; match != std::sregex_iterator(); ++match) {
      const auto value = ReadLength_mm((*match)[1].str(), 1.0);
      REQUIRE(value);
      printed.numbers[*value].insert(source + " \"" + (*match)[1].str() + "\"");
    }
  }
  return printed;
}

std::string Told(const Printed& printed) {
  std::string text;
  for (const auto& [number, places] : printed.numbers) {
    text += std::to_string(number) + ":";
    for (const std::string& place : places) text += " " + place;
    text += "; ";
  }
  for (const std::string& place : printed.lacking) text += "not in " + place + "; ";
  return text;
}

Design MakeOne(const std::string& name) {
  Design design = MakeSizedDesign(testing::ExampleJob(name));
  REQUIRE_FALSE(design.hinges.empty());
  REQUIRE(design.hinges.front().parts);
  REQUIRE(design.hinges.front().accuracy);
  // Tables of hinges are printed for two or more: a lone hinge stands there beside itself.
  if (design.hinges.size() == 1) {
    design.hinges.push_back(design.hinges.front());
    design.hinges.back().character = "steady";
  }
  return design;
}

}  // namespace

TEST_CASE("no quantity is printed as two numbers by one job", "[report][slow]") {
  for (const char* name : {"sample_chest", "jewellery_casket", "barrel_chest"}) {
    const Design design = MakeOne(name);
    const Texts texts = TextsOf(design);
    std::size_t places = 0;
    std::vector<Quantity> all = Quantities(design.hinges.front().character, design.job.inches);
    const HingeSet& set = *design.hinges.front().parts;
    for (Quantity& one : OfTheList(MakePartsList(set.pieces, set.buy, design.job.inches))) {
      all.push_back(std::move(one));
    }
    for (const Quantity& quantity : all) {
      const Printed printed = Find(quantity, texts, design.job.inches);
      INFO(name << ", " << quantity.name << ": " << Told(printed));
      CHECK(printed.numbers.size() == 1);
      CHECK(printed.lacking.empty());
      places += quantity.places.size();
    }
    CHECK(places > 80);
  }
}

TEST_CASE("a number that differs in one place of many is found", "[report][slow]") {
  const Design design = MakeOne("sample_chest");
  Texts texts = TextsOf(design);
  const std::vector<Quantity> all = Quantities(design.hinges.front().character, false);
  const Quantity& arm = *std::find_if(all.begin(), all.end(), [](const Quantity& q) {
    return q.name == "arm B from hole to hole";
  });
  REQUIRE(Find(arm, texts, false).numbers.size() == 1);
  std::string& report = texts["report"];
  const std::size_t row = report.find("Arm B : ");
  REQUIRE(row != std::string::npos);
  char& digit = report[report.find(" mm from hole to hole", row) - 1];
  digit = digit == '9' ? '8' : '9';
  const Printed two = Find(arm, texts, false);
  INFO(Told(two));
  CHECK(two.numbers.size() == 2);
}

TEST_CASE("what is printed is the result in full, rounded to its side", "[report][slow]") {
  const Design design = MakeOne("sample_chest");
  const Texts texts = TextsOf(design);
  const auto file = nlohmann::json::parse(WriteHingeJson(design)).at("hinges").at(0);
  const std::vector<Quantity> all = Quantities(design.hinges.front().character, false);
  const auto said = [&](const std::string& name) {
    const auto q =
        std::find_if(all.begin(), all.end(), [&](const Quantity& one) { return one.name == name; });
    REQUIRE(q != all.end());
    const Printed printed = Find(*q, texts, false);
    REQUIRE(printed.numbers.size() == 1);
    return printed.numbers.begin()->first;
  };
  const double gap = file.at("traits").at("least_gap"),
               behind = file.at("traits").at("reach_behind");
  CHECK(said("least gap of lid and case") == Approx(std::floor(gap * 10.0) / 10.0));
  CHECK(said("room behind") == Approx(std::ceil(behind * 10.0) / 10.0));
  CHECK(said("arm A from hole to hole") ==
        Approx(std::round(file.at("arms").at("a").at("length").get<double>() * 100.0) / 100.0));
  CHECK(said("hole for a bushing") ==
        Approx(file.at("arms").at("a").at("drilled_mm").get<double>()));
  CHECK(said("bushing") == Approx(file.at("arms").at("a").at("hole_mm").get<double>()));
  for (const auto& piece : file.at("parts").at("pieces")) {
    if (piece.at("kind") != "arm") continue;
    CHECK(said("hole for a bushing") ==
          Approx(piece.at("holes").at(0).at("diameter").get<double>()));
  }
  CHECK(said("A\u2080 case from the rear face") ==
        Approx(file.at("pivots").at("case_a").at(0).get<double>()));
}

}  // namespace lidwright
