// SPDX-License-Identifier: Apache-2.0
#include <catch2/catch.hpp>
#include <map>

#include "lidwright/base/tolerances.h"
#include "lidwright/job/read_job.h"
#include "lidwright/report/page_views.h"
#include "lidwright/synthesis/box_assembly.h"
#include "session/frames.h"
#include "session/talk.h"

using namespace lidwright;

namespace {

Pivots PivotsIn(const Json& frame) {
  Pivots pivots;
  for (const PivotName& pivot : PivotNames()) {
    const Json& at = frame["hinge"]["pivots"][pivot.label];
    pivots.*pivot.at = {at[0].get<double>(), at[1].get<double>()};
  }
  return pivots;
}

// Least gap of lid and case at quarters of a degree from gap_from on: no certificate, and never
// under what one proves.
double SampledGap_mm(const Assembly& box, const Pivots& pivots, const Limits& limits) {
  const auto pairs = PairsBetween(box.Shapes(PartKind::kLid), box.Shapes(PartKind::kCase));
  const LidMotion motion = *LidMotion::Make(pivots);
  double least = 1e300;
  for (double theta = limits.gap_from_rad; theta <= limits.open_rad; theta += kRadPerDeg / 4) {
    least = std::min(least, GapAt(BodiesAt(motion, theta), pairs)->gap_mm);
  }
  return least;
}

}  // namespace

TEST_CASE("Every frame of a drag of 200 events says what a certificate made from scratch says") {
  const std::string text = SampleChest();
  const Job job = *ReadJob(text, "").job;
  const Solid solid = MakeSolid(job);
  const Assembly box = BoxAssembly(job, solid);
  const Limits limits = LimitsOf(job, solid);
  Talk talk(text);
  talk.Say({{"ask", "place"}});
  // A hinge that clears, as a search gave it once, and from there along a line.
  const double hinge[4][2]{{39, -4}, {73.5, -60.5}, {138.5, -10}, {26, -52}};
  for (int i = 0; i < 4; ++i) {
    talk.Say(
        {{"ask", "drag"}, {"pivot", PivotNames()[i].name}, {"at", {hinge[i][0], hinge[i][1]}}});
  }
  std::map<Outcome, int> seen;
  for (int i = 0; i < 200; ++i) {
    const Json frame = talk.Say(
        {{"ask", "drag"}, {"pivot", "lid_b"}, {"at", {26.0 + 0.12 * (i - 100), -52.0 + 0.06 * i}}});
    const Pivots pivots = PivotsIn(frame);
    const Verdicts scratch = CertifyLid(box, LidMotion::Make(pivots), limits);
    const Outcome outcome = OutcomeOf(scratch);
    ++seen[outcome];
    REQUIRE(frame["outcome"] == OutcomeWord(outcome));
    REQUIRE(frame["proofs"] == VerdictList(scratch, false));
    const Verdict* gap = Find(scratch, Requirement::kLidToCase);
    if (!gap || i % 25 != 0) continue;
    const double sampled = SampledGap_mm(box, pivots, limits);
    if (gap->outcome == Outcome::kClear) CHECK(sampled > *gap->found - kGapTolerance_mm);
    if (sampled < *gap->required - 0.2) CHECK(gap->outcome == Outcome::kViolated);
  }
  CHECK(seen[Outcome::kClear] > 5);
  CHECK(seen[Outcome::kViolated] > 5);
}

TEST_CASE("A pivot that is dragged lies on the shop's grid, one that is typed where it was typed") {
  Talk talk;
  talk.Say({{"ask", "place"}});
  Json frame = talk.Say({{"ask", "drag"}, {"pivot", "case_a"}, {"at", {30.74, -15.26}}});
  CHECK(frame["hinge"]["pivots"]["A0"] == Json({30.5, -15.5}));
  frame = talk.Say({{"ask", "nudge"}, {"pivot", "case_a"}, {"steps", {1, -2}}});
  CHECK(frame["hinge"]["pivots"]["A0"] == Json({31.0, -16.5}));
  frame = talk.Say({{"ask", "put"}, {"pivot", "case_a"}, {"x", "30.7"}, {"y", "-1.52 cm"}});
  CHECK(frame["places"]["case_a"] == Json({"30.7", "-15.2"}));
}

TEST_CASE("A frame is told as the lid's alone until the hand rests, then as the whole hinge's") {
  Talk talk(SampleChest());
  talk.Say({{"ask", "place"}});
  const Json frame = talk.Say({{"ask", "drag"}, {"pivot", "lid_b"}, {"at", {26, -52}}});
  CHECK(frame["whole"] == false);
  CHECK(frame["hinge"]["pieces"].empty());
  CHECK(talk.Say({{"ask", "rest"}})["whole"] == true);
}

TEST_CASE("Pivots on which no lid can turn are told, not drawn wrong") {
  Talk talk;
  talk.Say({{"ask", "place"}});
  talk.Say({{"ask", "put"}, {"pivot", "case_a"}, {"x", "30"}, {"y", "-20"}});
  const Json frame = talk.Say({{"ask", "put"}, {"pivot", "lid_a"}, {"x", "30"}, {"y", "-20"}});
  CHECK(frame["outcome"] == "violated");
  CHECK(frame["hinge"]["open"] == 0.0);
  CHECK(talk.Say({{"ask", "rest"}})["outcome"] == "violated");
  CHECK(talk.Say({{"ask", "drop"}})["now"]["outcome"] == "violated");
}

TEST_CASE("Who asks for the box first gets it without the hinge, then the lid, then all") {
  Talk talk(SampleChest());
  Json set{{"ask", "set"}, {"key", "lid.crown"}, {"text", "41"}, {"box_first", true}};
  CHECK(talk.Say(set)["pending"] == false);  // no pivots yet
  CHECK(talk.Say({{"ask", "lid"}}).contains("refused"));
  talk.Say({{"ask", "place"}});
  set["text"] = "42";
  const Json first = talk.Say(set);
  CHECK(first["pending"] == true);
  CHECK_FALSE(first.contains("now"));
  const Json lid = talk.Say({{"ask", "lid"}});
  CHECK(lid["whole"] == false);
  const Json all = talk.Say({{"ask", "drop"}});
  CHECK(all["pending"] == false);
  CHECK(all["now"]["whole"] == true);
  CHECK(all["box"] == first["box"]);
  // The same as who asks for all at once is told.
  Talk other(SampleChest());
  other.Set("lid.crown", "41");
  other.Say({{"ask", "place"}});
  Json at_once = other.Set("lid.crown", "42");
  CHECK(at_once["now"] == all["now"]);
  CHECK(at_once["box"] == all["box"]);
  // A block is drawn first as well.
  const Json block = talk.Say({{"ask", "entry"},
                               {"list", "contents"},
                               {"number", 0},
                               {"back", "60"},
                               {"front", "90"},
                               {"height", "20"},
                               {"box_first", true}});
  CHECK(block["pending"] == true);
  CHECK(block["lists"]["contents"].size() == 1);
}
