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
  // Another measure ends the comparison.
  CHECK_FALSE(talk.Set("lid.crown", "39").contains("built"));
  CHECK(talk.Say({{"ask", "built"}, {"case_a_x", "a hand"}}).contains("refused"));
}
