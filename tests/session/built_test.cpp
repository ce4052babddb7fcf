// SPDX-License-Identifier: Apache-2.0
#include <catch2/catch.hpp>
#include <cmath>

#include "lidwright/base/bench.h"
#include "lidwright/design/make_design.h"
#include "lidwright/job/read_job.h"
#include "lidwright/report/page_views.h"
#include "lidwright/report/summary.h"
#include "session/frames.h"
#include "session/talk.h"

using namespace lidwright;

namespace {

// A hinge that clears, as a search gave it once.
const Pivots kPlanned{{39, -4}, {73.5, -60.5}, {138.5, -10}, {26, -52}};

void PutAll(Talk& talk, const Pivots& pivots) {
  talk.Say({{"ask", "place"}});
  for (const PivotName& pivot : PivotNames()) {
    const Vec2& at = pivots.*pivot.at;
    talk.Say({{"ask", "put"},
              {"pivot", pivot.name},
              {"x", std::to_string(at.x())},
              {"y", std::to_string(at.y())}});
  }
  talk.Say({{"ask", "drop"}});
}

Json SayBuilt(Talk& talk, const Pivots& measured) {
  Json message{{"ask", "built"}};
  for (const PivotName& pivot : PivotNames()) {
    const Vec2& at = measured.*pivot.at;
    message[std::string(pivot.name) + "_x"] = std::to_string(at.x());
    message[std::string(pivot.name) + "_y"] = std::to_string(at.y());
  }
  return talk.Say(message);
}

std::vector<std::string> WordsOf(const Json& shown) {
  std::vector<std::string> words;
  for (const Json& row : shown["built"]) words.push_back(row["says"]);
  return words;
}

}  // namespace

TEST_CASE("Measured holes are judged as check judges them, and told by how far they are off") {
  Talk talk(SampleChest());
  CHECK(SayBuilt(talk, kPlanned).contains("refused"));  // nothing was planned
  PutAll(talk, kPlanned);
  const Json plan = talk.Say({{"ask", "state"}});
  CHECK_FALSE(plan.contains("built"));
  CHECK(WordsOf(SayBuilt(talk, kPlanned)) ==
        std::vector<std::string>{"All four holes are where they were to be."});

  Pivots measured = kPlanned;
  measured.case_a += Vec2(0.8, 0.0);
  measured.lid_b += Vec2(-0.05, 1.25);
  const Json shown = SayBuilt(talk, measured);
  const auto mm = [](double length) { return BenchText(length, Bench::kHole, false); };
  const double arm_a = (measured.lid_a - measured.case_a).norm() - std::hypot(99.5, 6.0);
  const double arm_b = (measured.lid_b - measured.case_b).norm() - std::hypot(47.5, 8.5);
  REQUIRE(arm_a < 0.0);
  REQUIRE(arm_b > 0.0);
  CHECK(WordsOf(shown) == std::vector<std::string>{
                              "Case pivot of arm A: " + mm(0.8) + " forward of where it was to be.",
                              "Lid pivot of arm B: " + mm(0.05) + " back and " + mm(1.25) +
                                  " up of where it was to be.",
                              "Arm A as planned is " + mm(-arm_a) + " too long for them.",
                              "Arm B as planned is " + mm(arm_b) + " too short for them."});
  CHECK(shown["built"][0]["far"] == true);
  // The oracle: what `lidwright check` makes of a file with these pivots.
  const BoxModel box(*ReadJob(SampleChest(), "").job);
  GivenHinge given;
  given.case_a = measured.case_a;
  given.case_b = measured.case_b;
  given.lid_a = measured.lid_a;
  given.lid_b = measured.lid_b;
  const Hinge checked = JudgeHinge(box, given);
  CHECK(shown["now"]["proofs"] == VerdictList(RequirementsOf(checked), false));
  CHECK(shown["now"]["outcome"] == OutcomeWord(OutcomeOf(RequirementsOf(checked))));
  // Measured once more they are compared with the plan, not with the measure before.
  measured.case_a = kPlanned.case_a;
  CHECK(WordsOf(SayBuilt(talk, measured)).front().find("Lid pivot of arm B: ") == 0);
  for (int i = 0; i < 3; ++i) talk.Say({{"ask", "undo"}});
  CHECK(talk.Say({{"ask", "state"}})["now"] == plan["now"]);
  CHECK_FALSE(talk.Say({{"ask", "state"}}).contains("built"));
}

TEST_CASE("Of holes that rub it is said which to shift, and none is shifted on the page") {
  Talk talk(SampleChest());
  PutAll(talk, kPlanned);
  Pivots measured = kPlanned;
  measured.lid_b += Vec2(6.0, 0.0);
  const Json shown = SayBuilt(talk, measured);
  CHECK(shown["now"]["outcome"] == "violated");
  const std::optional<SessionWork> work = talk.session.TakeWork();
  REQUIRE(work);
  CHECK(work->kind == SessionWork::Kind::kNearest);
  CHECK(work->pivots.lid_b == measured.lid_b);
  CorrectionSearch sought;
  sought.end = CorrectionEnd::kFound;
  sought.found.emplace();
  sought.found->pin = Member::kLidPinB;
  sought.found->by = Vec2(-4.5, 0.5);
  sought.found->hinge.pivots = kPlanned;
  talk.session.Moved(work->ticket, sought);
  const Json told = talk.Say({{"ask", "state"}});
  CHECK(told["work"]["said"] == CorrectionText(sought, work->job));
  CHECK(told["work"]["said"].get<std::string>().find("4.5") != std::string::npos);
  CHECK(told["now"] == shown["now"]);
  // Another measure keeps the comparison, and the holes where they are.
  REQUIRE_FALSE(WordsOf(shown).empty());
  const Json crowned = talk.Set("lid.crown", "39");
  CHECK(WordsOf(crowned) == WordsOf(shown));
  talk.Say({{"ask", "nearest"}});
  const std::optional<SessionWork> again = talk.session.TakeWork();
  REQUIRE(again);
  CHECK(again->job.lid.crown_mm == 39.0);
  CHECK(again->pivots.lid_b == measured.lid_b);
  talk.session.Moved(again->ticket, sought);
  const Json still = talk.Say({{"ask", "state"}});
  CHECK(still["now"]["hinge"]["pivots"] == crowned["now"]["hinge"]["pivots"]);
  CHECK(WordsOf(still) == WordsOf(shown));
  // A pivot moved by hand ends it, before it is let go too.
  talk.Say({{"ask", "nudge"}, {"pivot", "lid_b"}, {"steps", {1, 0}}});
  CHECK_FALSE(talk.Set("lid.crown", "40").contains("built"));
  CHECK(talk.Say({{"ask", "built"}, {"case_a_x", "a hand"}}).contains("refused"));
}

TEST_CASE("What came of the work before is not told of holes that clear or of another measure") {
  Talk talk(SampleChest());
  talk.Set("loads.hand_n", "0");
  PutAll(talk, kPlanned);
  CorrectionSearch none;
  none.reach_mm = 12.5;
  const auto none_near = [&] {
    talk.Say({{"ask", "nearest"}});
    const std::optional<SessionWork> work = talk.session.TakeWork();
    REQUIRE(work);
    talk.session.Moved(work->ticket, none);
    return talk.Say({{"ask", "state"}})["work"];
  };
  Json work = none_near();
  CHECK(work["said"] ==
        "No move of one pivot by up to 12.5 mm was found with which it clears: find a hinge "
        "instead.");
  CHECK(work["good"] == false);
  const Json shown = SayBuilt(talk, kPlanned);
  REQUIRE(shown["now"]["outcome"] == "clear");
  CHECK_FALSE(talk.session.TakeWork());
  CHECK(shown["work"]["said"] == "");
  CHECK(shown["work"]["good"] == true);
  work = none_near();
  CHECK(work["said"] ==
        "No move of a single pivot by up to 12.5 mm was found with which it clears.");
  CHECK(work["good"] == false);
  work = talk.Set("lid.crown", "39")["work"];
  CHECK(work["said"] == "");
  CHECK(work["good"] == true);
}

TEST_CASE("How far a pivot might be moved is told in the unit of the job") {
  Talk talk(R"({"units": "in", "case": {"width": 13, "depth": 8.5, "height": 5, "wall": 0.5},
                "lid": {"rim": 0.5, "crown": 1.5}})");
  talk.Say({{"ask", "place"}});
  talk.Say({{"ask", "nearest"}});
  const std::optional<SessionWork> work = talk.session.TakeWork();
  REQUIRE(work);
  CorrectionSearch none;
  none.reach_mm = 25.0;  // 0.984 in, and 0.984 in is 0.984375 in
  talk.session.Moved(work->ticket, none);
  CHECK(talk.Say({{"ask", "state"}})["work"]["said"] ==
        "No move of one pivot by up to 0.984 in was found with which it clears: find a hinge "
        "instead.");
  CHECK(CorrectionText(none, work->job) ==
        "No move of a single pivot by up to 0.984 in was found with which it clears.");
}
