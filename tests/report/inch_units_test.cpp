// SPDX-License-Identifier: Apache-2.0
// All that an inch job writes for its maker is in inches and pounds.
#include <catch2/catch.hpp>
#include <regex>

#include "design/examples.h"
#include "lidwright/cutting/cut_set.h"
#include "lidwright/cutting/parts_list.h"
#include "lidwright/design/sized_design.h"
#include "lidwright/drawing/arm_sheet.h"
#include "lidwright/drawing/arrangement.h"
#include "lidwright/drawing/booklet.h"
#include "lidwright/drawing/box_drawing.h"
#include "lidwright/drawing/charts.h"
#include "lidwright/drawing/overlay.h"
#include "lidwright/drawing/swing_frames.h"
#include "lidwright/report/answer_text.h"
#include "lidwright/report/html.h"
#include "lidwright/report/summary.h"
#include "report/texts.h"

namespace lidwright {
namespace {

using testing::Plain;
using testing::ReadDrawing;
using testing::ReadPage;

std::map<std::string, std::string> AllReadOf(const Design& design) {
  const Job& job = design.job;
  const Hinge& hinge = design.hinges.front();
  const HingeSet& set = *hinge.parts;
  const CutWish wish = CutWishFor(job);
  const CutSet cut = MakeCutSet(set.pieces, wish);
  ReportLinks links;
  links.parts.list = MakePartsList(set.pieces, set.buy, job.inches, &cut);
  SwingFrameOptions frames;
  frames.count = 3;
  std::string names;
  std::vector<CutFault> faults;
  for (const auto& [name, text] : CutFiles(cut, wish, &faults)) {
    names += std::regex_replace(name, std::regex("_"), " ") + "\n";
  }
  return {{"report", ReadPage(ReportHtml(design, links))},
          {"summary", Plain(SummaryText(design))},
          {"answer", Plain(AnswerText(design, {}))},
          {"judgement", Plain(JudgementText(hinge, job))},
          {"parts.csv", Plain(PartsListCsv(links.parts.list, job.inches))},
          {"cut files", names},
          {"booklet", ReadDrawing(BenchBooklet(design, hinge, cut, links.parts.list))},
          {"arms", ReadDrawing({ArmSheet(design, hinge)})},
          {"arrangement", ReadDrawing({Arrangement(design, hinge)})},
          {"overlay", ReadDrawing({Overlay(design, hinge)})},
          {"charts", ReadDrawing({Charts(design, hinge)})},
          {"frames", ReadDrawing(SwingFrameCanvases(design, hinge, frames))},
          {"box", ReadDrawing({BoxDrawing(job, design.solid)})}};
}

// What is metric on purpose: a standard's or a product's own size in brackets behind the inch one,
// the bar beside the 4 in one
// by which a print is measured, and what the job itself is echoed with.
std::string WithoutMeant(const std::string& text) {
  const std::regex meant(
      "in\\s+\\([0-9]+( and [0-9]+)?\\s+mm\\)|100 mm \\| (\\[bar: \\] )?4 in|\": \"[0-9.]+ mm\"");
  return std::regex_replace(text, meant, "in");
}

// Metric units that stand in a text, each with what is round it.
std::vector<std::string> MetricIn(const std::string& text) {
  const std::regex unit("\\bmm\\b|\\bMPa\\b|[0-9] (N|J|kg|m/s)\\b|, (N|J|kg)( |$)|newton|kg/m3");
  std::vector<std::string> found;
  const std::string left = WithoutMeant(text);
  for (auto at = std::sregex_iterator(left.begin(), left.end(), unit); at != std::sregex_iterator();
       ++at) {
    const auto from = static_cast<std::size_t>(std::max<long>(0, at->position() - 40));
    found.push_back(left.substr(from, 80));
  }
  return found;
}

}  // namespace

TEST_CASE("an inch job's maker reads no newton, kilogram or millimetre", "[report][slow]") {
  for (const char* name : {"ledger_casket", "jewellery_casket"}) {
    const Design design = MakeSizedDesign(testing::ExampleJob(name));
    REQUIRE_FALSE(design.hinges.empty());
    REQUIRE(design.hinges.front().parts);
    REQUIRE(design.hinges.front().forces);
    for (const auto& [where, text] : AllReadOf(design)) {
      INFO(name << ", " << where);
      CHECK(text.size() > 100);
      for (const std::string& metric : MetricIn(text)) FAIL_CHECK(metric);
      if (where == "report" || where == "summary") CHECK(text.find(" lbf") != std::string::npos);
    }
  }
}

TEST_CASE("metric units are found where they stand, and those that are meant are passed over") {
  CHECK(MetricIn("takes 5.8 N to lift").size() == 1);
  CHECK(MetricIn("a torque of 0.4 N m").size() == 1);
  CHECK(MetricIn("2.5 mm from it, 1.2 kg").size() == 2);
  CHECK(MetricIn("Lift at the front edge, N | ").size() == 1);
  CHECK(MetricIn("ISO 13854's 1 in (25 mm); the 3/16 and 1/2 in (5 and 12 mm) of").empty());
  CHECK(MetricIn("M3, 5/32 in, 4.5 lbf, 13.3 lbf in, No. 4").empty());
}

}  // namespace lidwright
