// SPDX-License-Identifier: Apache-2.0
#include "lidwright/report/forces_remarks.h"

#include <catch2/catch.hpp>
#include <sstream>

#include "forces/force_cases.h"
#include "lidwright/report/accuracy_remarks.h"

namespace lidwright {
namespace {

std::string LineWith(const std::string& text, const std::string& part) {
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    if (line.find(part) != std::string::npos) return line;
  }
  return "";
}

bool Has(const std::string& line, const std::string& part) {
  return line.find(part) != std::string::npos;
}
bool Good(const std::string& line) {
  return line.rfind("  pass  ", 0) == 0;
}
bool Watch(const std::string& line) {
  return line.rfind("  warn  ", 0) == 0;
}

}  // namespace

TEST_CASE("what the forces found is told a line each, good or watch, with its margin", "[report]") {
  const testing::Chest chest;
  const Job& job = chest.hinge.box.job;
  HingeForces forces = chest.Forces();
  const auto text = [&] { return RemarksText(ForcesRemarks(forces, job)); };

  forces.feel.lid.mass_kg = 1.234;
  forces.hardware_kg = 0.16;
  CHECK(Has(LineWith(text(), "The lid weighs 1.23 kg"), "12 % moisture; 0.16 kg of it hardware"));
  Job weighed = job;
  weighed.loads.lid_mass_kg = 1.234;
  CHECK_FALSE(Has(LineWith(RemarksText(ForcesRemarks(forces, weighed)), "as weighed"), "moisture"));

  forces.feel.largest_lift_n = 14.0;
  CHECK(Good(LineWith(text(), "to lift it takes at most 14 N")));
  forces.feel.largest_lift_n = 80.0;
  CHECK(Watch(LineWith(text(), "to lift it takes")));
  forces.feel.largest_lift_n = std::numeric_limits<double>::infinity();
  CHECK(Watch(LineWith(text(), "friction locks the joints")));
  CHECK_FALSE(Has(text(), "inf "));

  // A stretch of less than a degree is no stretch.
  forces.feel.stays = {{0.45, 0.46}};
  CHECK(Watch(LineWith(text(), "balances it at 26 deg at best")));
  forces.feel.stays = {{0.45, 0.46}, {0.6, 0.9}};
  CHECK(Good(LineWith(text(), "keeps it from 34 deg to 52 deg")));
  CHECK_FALSE(Has(LineWith(text(), "keeps it from"), "26"));
  forces.feel.stays.clear();
  CHECK(Watch(LineWith(text(), "keeps it nowhere")));

  forces.feel.balance_rad = forces.feel.over_centre_rad = kUnset;
  CHECK(Watch(LineWith(text(), "still wants to shut")));
  forces.feel.balance_rad = 1.2;
  forces.feel.over_centre_rad = 0.4;
  CHECK(Good(LineWith(text(), "open it leans 23 deg beyond")));

  // One strength to buy. What every angle would take is the reason for it, and left out where it
  // is about the same.
  REQUIRE(forces.holdings.needed);
  forces.holdings.support_nmm = 420.0;
  forces.holdings.stay_nmm = 6320.0;
  forces.holdings.washers = {{kCaseB, 100.0, 80.4, StockFrictions().front()}};
  TorsionSpring spring;
  spring.joint = kCaseA;
  spring.turn_rad = 1.0;
  spring.shut_nmm = 300.0;
  spring.open_nmm = 100.0;
  spring.left_nmm = 30.0;
  forces.holdings.springs = {spring};
  const auto holding = [&] { return LineWith(text(), "a friction lid support of"); };
  CHECK(Watch(holding()));
  CHECK(Has(holding(), "support of 0.21 N m at each end holds it from 15 deg on"));
  CHECK(Has(holding(), "nearer to shut as well would take 6.32 N m in all"));
  CHECK(Has(holding(), StockFrictions().front().name + " on the case pin of arm B"));
  CHECK(Has(holding(), "squeezed with 81 N"));
  CHECK(Has(holding(), "torsion spring on the case pin of arm A"));
  forces.holdings.stay_nmm = 440.0;
  CHECK_FALSE(Has(holding(), "nearer to shut"));
  forces.holdings.washers.clear();
  forces.holdings.springs[0].left_nmm = 230.0;  // leaves half of it: no remedy
  CHECK_FALSE(Has(holding(), "washer"));
  CHECK_FALSE(Has(holding(), "torsion spring"));
  forces.holdings.support_nmm = 0.0;
  CHECK(Good(LineWith(text(), "by its joints' friction from 15 deg on")));
  forces.holdings.needed = false;
  CHECK(Good(LineWith(text(), "holds itself at every angle by its joints")));

  // In use and leaned on are two lines; each names the weakest, and what else is weak.
  const auto strength = [](LoadedPart kind, const char* part, bool leaning, double acts,
                           double bears, double wanted) {
    return Strength{kind, part, "in bending", leaning, 20.0, acts, bears, "MPa", wanted, "known"};
  };
  forces.load.lean_n = 50.0;
  forces.load.arm_material = "brass";
  forces.strengths = {strength(LoadedPart::kArm, "arm A", true, 190.0, 38.0, 4.0),
                      strength(LoadedPart::kArm, "arm B", true, 95.0, 38.0, 4.0),
                      strength(LoadedPart::kStop, "stop", true, 9.0, 9.0, 2.0),
                      strength(LoadedPart::kScrews, "screws", true, 1.0, 9.0, 2.0),
                      strength(LoadedPart::kPin, "lid pin of arm A", false, 10.0, 30.0, 2.0),
                      strength(LoadedPart::kArm, "arm A", false, 1.0, 38.0, 4.0)};
  const std::string used = LineWith(text(), "in use the weakest");
  CHECK(Good(used));
  CHECK(Has(used, "lid pin of arm A in bending bears 3.0 times the load (2 wanted)"));
  const std::string leaned = LineWith(text(), "leaning on the open lid with 50 N");
  CHECK(Watch(leaned));
  CHECK(Has(leaned, "with 50 N: arm A of brass in bending bears 0.2 times the load (4 wanted)"));
  CHECK(Has(leaned, "it gives at about 10 N"));
  CHECK(Has(leaned, "besides, stop in bending bears 1.0 times"));
  CHECK_FALSE(Has(leaned, "arm B"));
  CHECK_FALSE(Has(leaned, "screws"));

  forces.tipping.least_margin_nmm = 700.0;
  forces.tipping.pull_n = 30.0;
  CHECK(Good(LineWith(text(), "with 0.70 N m to spare")));
  CHECK(Watch(LineWith(text(), "leaned on with more than 30 N")));
  forces.tipping.pull_n = 70.0;
  CHECK(Good(LineWith(text(), "leaned on with more than 70 N")));
  forces.tipping.least_margin_nmm = -1.0;
  CHECK(Watch(LineWith(text(), "tips over backwards")));

  // What is not covered stands in any case.
  for (const char* words : {"wood varies", "glue lines", "shock", "children", "Local codes"}) {
    INFO(words);
    CHECK(Has(text(), words));
  }
}

TEST_CASE("an inch job reads forces, torques, speeds and masses in its own units alone",
          "[report]") {
  const testing::Chest chest;
  HingeForces forces = chest.Forces();
  Job job = chest.hinge.box.job;
  job.inches = true;
  forces.feel.lid.mass_kg = 1.0;
  forces.feel.largest_lift_n = 20.0;
  forces.feel.slam_m_s = 2.0;
  forces.holdings.needed = true;
  forces.holdings.support_nmm = 3000.0;
  forces.holdings.stay_nmm = 6000.0;
  const std::string text = RemarksText(ForcesRemarks(forces, job));
  // 1 kg = 2.2046 lb, 1 N = 0.22481 lbf, 1 N m = 8.8507 lbf in, 1 m/s = 3.2808 ft/s: tables of
  // units, from memory.
  CHECK(Has(text, "The lid weighs 2.20 lb ("));
  CHECK(Has(text, "at most 4.5 lbf at the front edge"));
  CHECK(Has(text, "reaches the rim at 6.6 ft/s"));
  CHECK(Has(text, "a friction lid support of 13.3 lbf in at each end"));
  job.inches = false;
  CHECK_FALSE(Has(RemarksText(ForcesRemarks(forces, job)), "lb"));
}

TEST_CASE("finger gaps are told by angle where the gap by angle is known", "[report]") {
  const testing::Chest chest;
  const HingeForces forces = chest.Forces();
  const Job& job = chest.hinge.box.job;
  const double open = forces.feel.theta_rad.back();
  std::vector<double> gap;
  for (const double theta : forces.feel.theta_rad) gap.push_back(30.0 * theta / open);
  const std::string line =
      LineWith(RemarksText(ForcesRemarks(forces, job, gap)), "ISO 13854's 25 mm");
  CHECK(Watch(line));
  // 25 of 30 mm at 79 of 95°, 5 and 12 mm at 16 and 38°.
  CHECK(Has(line, "crushed between lid and case at 0 deg to 79 deg"));
  CHECK(Has(line, "at 16 deg to 38 deg"));
  gap.assign(gap.size(), 26.0);
  CHECK(Good(LineWith(RemarksText(ForcesRemarks(forces, job, gap)), "no finger is crushed")));
  CHECK(LineWith(RemarksText(ForcesRemarks(forces, job)), "finger").empty());
}

TEST_CASE("how exactly it must be made names the worst error, the jig's effect and the rattle",
          "[report]") {
  Accuracy a;
  a.builds = 3000;
  a.drill_error_mm = 0.2;
  a.place_error_mm = 0.5;
  a.touching_share = 0.0;
  a.short_share = 0.2;
  a.gap_5_percent_mm = 1.5;
  a.error_it_stands_mm = 0.9;
  a.worst_drop = 2.0;
  a.seam_jig_mm = 0.8;
  a.seam_measured_mm = 2.5;
  a.gap_measured_mm = 0.3;
  a.play_mm = 0.08;
  a.rattle_mm = 0.7;
  a.rattle_rad = 0.5;
  ErrorEffect small, large, turn;
  small.what = "lid pivot of arm A, up";
  small.gap_in_place = 0.2;
  large.what = "case pivot of arm B, forward";
  large.gap_in_place = -0.7;
  turn.what = "lid plate, turned";
  turn.turns = true;
  turn.gap_in_place = 9.0;
  a.effects = {small, large, turn};
  const Job job;
  const std::string text = RemarksText(AccuracyRemarks(a, job, 3.0));
  CHECK(Good(LineWith(text, "no lid touches")));
  CHECK(LineWith(text, "cannot be opened").empty());
  CHECK(Watch(LineWith(text, "20 % have less than the gap asked for")));
  CHECK(Good(LineWith(text,
                      "most sensitive: case pivot of arm B, forward; the tightest gap changes by "
                      "0.70 of its error")));
  CHECK(Has(text, "fix the last plate with the lid shut"));
  CHECK(Has(LineWith(text, "placed by measuring"),
            "0.5 mm, one lid in twenty shuts more than 2.5 mm off its place"));
  CHECK(Watch(LineWith(text, "by the jig alone, one lid in twenty shuts more than 0.8 mm")));
  CHECK(Good(LineWith(text, "rattle by up to 0.7 mm in all, most at 29 deg")));
  // Builds that do not open are told as that, the others beside them.
  a.unopened_share = 0.06;
  const std::string bent = RemarksText(AccuracyRemarks(a, job, 3.0));
  CHECK(Watch(LineWith(bent, "6 % cannot be opened all the way")));
  CHECK(Good(LineWith(bent, "no other lid touches the case")));
  CHECK(Has(bent, "99 of 100 lids still clear and open all the way with holes up to 0.9 mm off"));
  // Lids that cannot be shut are said to be that, not to be off by some number.
  a.stuck_jig_share = 0.03;
  a.stuck_measured_share = 0.2;
  a.seam_measured_mm = kUnset;
  const std::string stuck = RemarksText(AccuracyRemarks(a, job, 3.0));
  CHECK(Watch(LineWith(stuck, "0.8 mm off its place and 3 % cannot be shut")));
  CHECK(Has(LineWith(stuck, "placed by measuring"), "20 % of lids cannot be shut"));
  a.seam_jig_mm = kUnset;
  a.stuck_jig_share = 0.06;
  CHECK(Watch(LineWith(RemarksText(AccuracyRemarks(a, job, 3.0)),
                       "by the jig alone, 6 % of lids cannot be shut")));
}

}  // namespace lidwright
