// SPDX-License-Identifier: Apache-2.0
#include "lidwright/report/summary.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <sstream>

#include "drawing/made_up_design.h"

namespace lidwright {
namespace {

bool Has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

// The first line that holds `part`.
std::string LineWith(const std::string& text, const std::string& part) {
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    if (Has(line, part)) return line;
  }
  return "";
}

Design Sample(bool inches = false) {
  Design design = testing::MakeDesign(testing::Examples()[0]);
  design.job.inches = inches;
  design.plain.map = {PlainOutcome::kRimDigsIn};
  Hinge& hinge = design.hinges.front();
  hinge.verdicts[0].first = "lid end wall";
  hinge.verdicts[0].second = "case end wall";
  hinge.verdicts[0].nearest->z_mm = 151.0;
  hinge.traits.least_gap_mm = 2.13;
  hinge.traits.arms_length_mm = 100.0;
  hinge.traits.reach_behind_mm = 75.8;
  hinge.traits.mouth_free = 0.97;
  hinge.traits.play_factor = 2.25;
  hinge.traits.lift_factor = 0.61;
  return design;
}

}  // namespace

TEST_CASE("the summary says what clears, by how much and where", "[report]") {
  const std::string text = SummaryText(Sample());
  CHECK(Has(text, "Plain hinge: no plain hinge does: at 100 % of the pins tried the rim digs"));
  CHECK(Has(text, "clears the case by at least 2.1 mm at every angle from 10.0 deg on"));
  CHECK(Has(LineWith(text, "Tightest"), "lid end wall / case end wall, at 34.4 deg"));
  CHECK(Has(LineWith(text, "made up "), "75.8 mm"));
  CHECK(Has(LineWith(text, "case, arm A"), "17.00, -21.50"));
  CHECK(Has(LineWith(text, "arm A: "), "curved"));
  CHECK(Has(LineWith(text, "arm B: "), "straight"));
  CHECK(Has(text, "Cautions:"));
  CHECK(Has(text, "All requirements are met."));
  const std::string inches = SummaryText(Sample(true));
  CHECK(Has(inches, "at least 5/64 in at every angle"));
  CHECK_FALSE(Has(inches, " mm"));
}

TEST_CASE("the summary fits a terminal", "[report]") {
  std::istringstream lines(SummaryText(Sample()));
  int count = 0;
  for (std::string line; std::getline(lines, line); ++count) {
    INFO(line);
    CHECK(line.size() <= 140);
    CHECK((line.empty() || line.back() != ' '));
    // Plain text: nothing that a terminal would take for a command.
    CHECK(std::none_of(line.begin(), line.end(), [](char c) { return c >= 0 && c < ' '; }));
  }
  CHECK(count > 20);
}

TEST_CASE("a failing requirement is told by word, with what is asked, found and where",
          "[report]") {
  Design design = Sample();
  Hinge& hinge = design.hinges.front();
  hinge.verdicts[1].outcome = Outcome::kViolated;
  hinge.verdicts[1].found = 0.4;
  hinge.verdicts[1].first = "arm A";
  hinge.verdicts[1].second = "case";
  const std::string table = VerdictTable(hinge, design.job);
  CHECK(Has(LineWith(table, "lid to case"), "pass"));
  CHECK(LineWith(table, "FAIL").find("arm A to case") < 30);
  const std::string end = table.substr(table.find("not met:"));
  CHECK(Has(table, "1 of 3 requirements are not met:"));
  CHECK(Has(end, "arm A to case: needs 1 mm, has 0.4 mm; arm A / case, at 63.0 deg, x 30."));
  CHECK_FALSE(Has(end, "lid to case"));
  CHECK_FALSE(Has(table, "All requirements"));
}

TEST_CASE("printed bounds never claim more than was found", "[report]") {
  Design design = Sample();
  Hinge& hinge = design.hinges.front();
  hinge.verdicts.resize(2);
  hinge.verdicts[0].found = 2.0399;
  hinge.verdicts[1].found = 24.9012;
  hinge.verdicts[1].required = 25.0;
  hinge.verdicts[1].at_most = true;
  const std::string table = VerdictTable(hinge, design.job);
  CHECK(Has(LineWith(table, "lid to case"), "has 2 mm"));
  CHECK(Has(LineWith(table, "arm A to case"), "at most 25 mm  has 25 mm"));
  // A whole number of tenths stays what it is.
  hinge.verdicts[0].found = 2.3;
  CHECK(Has(VerdictTable(hinge, design.job), "has 2.3 mm"));
  // A limit in inches is printed as it was given.
  design.job.inches = true;
  hinge.verdicts[0].required = 25.4 / 16;
  CHECK(Has(VerdictTable(hinge, design.job), "needs 1/16 in"));
}

TEST_CASE("without a hinge the summary says why, by how much, and what would help", "[report]") {
  Design design = Sample();
  design.hinges.clear();
  design.none =
      NoHinge{"room behind",
              15.0,
              "mm",
              "",
              true,
              Reckoned(Requirement::kLidToRoom, Unit::kMm, 0.0, -3.0),
              {{"room behind of 75 mm instead of 60 mm", {}}, {"opening to 87.5 deg", {}}},
              {}};
  std::string text = SummaryText(design);
  CHECK(Has(text, "No hidden hinge was found. In the way: room behind, short by 15 mm."));
  CHECK(Has(text,
            "the nearest linkage found misses: lid to wall and ceiling, needs 0 mm "
            "and has -3 mm."));
  CHECK(Has(text, "  - room behind of 75 mm instead of 60 mm\n  - opening to 87.5 deg\n"));
  design.none->unit = "of it";
  design.none->missed_by = 0.25;
  CHECK(Has(SummaryText(design), "short by 25 % of it."));
}

}  // namespace lidwright
