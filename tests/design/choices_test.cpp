// SPDX-License-Identifier: Apache-2.0
#include "lidwright/design/choices.h"

#include <catch2/catch.hpp>

#include "design/examples.h"
#include "lidwright/design/make_design.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

std::vector<std::string> NamesOf(const std::vector<Hinge>& hinges) {
  std::vector<std::string> names;
  for (const Hinge& hinge : hinges) names.push_back(hinge.character);
  return names;
}

// One that does all that is required, and one that misses a requirement.
Hinge Made(const char* name, double arms, double total_else, bool does) {
  Hinge hinge;
  hinge.character = name;
  hinge.merit.arms = arms;
  hinge.merit.rattle = total_else;
  hinge.merit.misfit = 0.0;
  Verdict verdict;
  verdict.what = Requirement::kLidToCase;
  verdict.outcome = does ? Outcome::kClear : Outcome::kViolated;
  verdict.required = 2.0;
  verdict.found = does ? 3.0 : 1.0;
  hinge.verdicts.push_back(verdict);
  return hinge;
}

}  // namespace

TEST_CASE("what still does leads when the first no longer does, and is named so") {
  std::vector<Hinge> hinges{Made(kAllRound, 2.0, 5.0, false), Made("short arms", 1.0, 6.0, true)};
  REQUIRE(Does(hinges[0]) != Does(hinges[1]));
  KeepChoices(hinges);
  CHECK(NamesOf(hinges) == std::vector<std::string>{kAllRound});
  CHECK(hinges[0].merit.arms == 1.0);
}

TEST_CASE("a choice that is no longer better in what it is named by goes") {
  std::vector<Hinge> hinges{Made(kAllRound, 2.0, 5.0, true), Made("short arms", 1.99, 6.0, true),
                            Made("steady", 3.0, 4.0, true)};
  REQUIRE(Does(hinges[0]));
  KeepChoices(hinges);
  CHECK(NamesOf(hinges) == std::vector<std::string>{kAllRound, "steady"});
}
