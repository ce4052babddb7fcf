// SPDX-License-Identifier: Apache-2.0
#include "lidwright/design/correction.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <stdexcept>

#include "design/examples.h"
#include "lidwright/design/stay_choice.h"
#include "lidwright/job/read_job.h"

using namespace lidwright;
using namespace lidwright::testing;

TEST_CASE("a hinge with one pivot off is told which pivot to move, and moving it helps", "[slow]") {
  const BoxModel box(ExampleJob("sample_chest"));
  const Design design = MakeDesign(box);
  REQUIRE_FALSE(design.hinges.empty());
  int spoilt = 0, mended = 0;
  for (const Hinge& hinge : design.hinges) {
    for (const Vec2& off : {Vec2(7, 0), Vec2(-7, 0), Vec2(0, 7), Vec2(0, -7)}) {
      Pivots wrong = hinge.pivots;
      wrong.lid_b += off;
      if (AllMet(JudgeHinge(box, wrong, {}, {}).verdicts)) continue;
      ++spoilt;
      const auto correction = SmallestCorrection(box, wrong).found;
      if (!correction) continue;
      ++mended;
      CHECK(AllMet(correction->hinge.verdicts));
      CHECK(correction->by.norm() > 0.0);
      CHECK(correction->by.norm() <= CorrectionOptions{}.reach_mm + 1e-9);
      // Exactly one pivot differs from what was given, by what is said.
      const PivotNumbers given = NumbersOf(wrong), better = NumbersOf(correction->hinge.pivots);
      int moved = 0;
      for (std::size_t k = 0; k < 4; ++k) {
        const Vec2 by(better[2 * k] - given[2 * k], better[2 * k + 1] - given[2 * k + 1]);
        if (by.norm() == 0.0) continue;
        ++moved;
        CHECK((by - correction->by).norm() < 1e-12);
      }
      CHECK(moved == 1);
    }
  }
  CHECK(spoilt >= 2);
  CHECK(mended >= spoilt / 2);
}

// Descending, arm B's lid pivot finds a place 5.6 mm off; its case pivot, which is the one that is
// off by 1.5 mm, needs to go back by less than one.
TEST_CASE("a nearer move is told than the one that a descent comes to", "[design]") {
  const JobReading reading = ReadJob(R"({"units": "mm",
      "case": {"width": 300, "depth": 180, "height": 85, "wall": 7, "floor": 6, "rim_arch": 12},
      "lid": {"rim": 25, "crown": 55, "crown_at_ends": 15, "wall": 6, "top": 5},
      "swing": {"open_deg": 95}, "room": {"behind": 120}, "loads": {"wood": "white oak"},
      "arms": {"material": "aluminium", "thickness": 2, "width": 10, "bushing": 6, "eye": 10},
      "plates": {"case_thickness": 3, "lid_thickness": 3}})",
                                     "chapel.json");
  REQUIRE(reading.job);
  const BoxModel box(*reading.job);
  const Pivots off{{24, -54.5}, {15.5, -6}, {127, -3}, {52, 23.5}};
  const CorrectionSearch sought = SmallestCorrection(box, off);
  REQUIRE(sought.end == CorrectionEnd::kFound);
  CHECK(sought.found->by.norm() < 1.0);
  CHECK(Does(JudgeHinge(box, sought.found->hinge.pivots, {}, {})));
}

namespace {

// Everything but strength, by the list that decides whether a hinge does.
bool Clears(const Hinge& hinge) {
  for (const Verdict& v : RequirementsOf(hinge)) {
    const bool strength = v.what == Requirement::kHoldsInUse || v.what == Requirement::kHoldsLeaned;
    if (!v.met() && !strength) return false;
  }
  return true;
}

// The hinge that a quick search finds, with one pivot moved until lid and arms still clear and some
// other part does not.
std::optional<Pivots> WithPartsInTheWay(const BoxModel& box, const Pivots& pivots) {
  for (double mm = 1.0; mm < 12.0; mm += 1.0) {
    for (Vec2 Pivots::*which : {&Pivots::case_a, &Pivots::lid_a, &Pivots::case_b, &Pivots::lid_b}) {
      for (const Vec2& way : {Vec2(1, 0), Vec2(-1, 0), Vec2(0, 1), Vec2(0, -1)}) {
        Pivots moved = pivots;
        moved.*which += mm * way;
        if (!AllMet(CertifyHinge(box, moved, {}, {}).verdicts)) continue;
        Hinge hinge = JudgeHinge(box, moved, {}, {});
        AddStayWhereNeeded(box, hinge);
        if (!Clears(hinge)) return moved;
      }
    }
  }
  return std::nullopt;
}

Pivots QuickHinge(const BoxModel& box) {
  DesignOptions options;
  options.improve = options.explain = false;
  return MakeDesign(box, options).hinges.at(0).pivots;
}

}  // namespace

TEST_CASE("a hinge whose lid and arms clear but whose parts do not is moved until these do",
          "[slow]") {
  const BoxModel box(ExampleJob("sample_chest"));
  const std::optional<Pivots> pivots = WithPartsInTheWay(box, QuickHinge(box));
  REQUIRE(pivots);
  std::vector<double> shares;
  CorrectionOptions options;
  options.progress = [&](double share) { shares.push_back(share); };
  const CorrectionSearch sought = SmallestCorrection(box, *pivots, options);
  CHECK(sought.end == CorrectionEnd::kFound);
  REQUIRE(sought.found);
  CHECK(sought.found->by.norm() > 0.0);
  // Judged anew as `check` judges a file with these pivots.
  const Pivots& at = sought.found->hinge.pivots;
  GivenHinge given;
  given.case_a = at.case_a;
  given.case_b = at.case_b;
  given.lid_a = at.lid_a;
  given.lid_b = at.lid_b;
  CHECK(Clears(JudgeHinge(box, given)));
  CHECK(std::is_sorted(shares.begin(), shares.end()));
  REQUIRE_FALSE(shares.empty());
  // The same on one thread, and it ends where its owner says so.
  options.threads = 1;
  options.progress = nullptr;
  const CorrectionSearch again = SmallestCorrection(box, *pivots, options);
  REQUIRE(again.found);
  CHECK(NumbersOf(again.found->hinge.pivots) == NumbersOf(at));
  options.progress = [](double) { throw std::runtime_error("enough"); };
  CHECK_THROWS_WITH(SmallestCorrection(box, *pivots, options), "enough");
}

TEST_CASE("a move that a square around the pivot would hold is not found beyond the reach",
          "[slow]") {
  const BoxModel box(ExampleJob("sample_chest"));
  // A hinge that clears, as a search gave it once, with the lid pivot of arm B aslant off; by how
  // much, so that the way back is aslant as well.
  int aslant = 0;
  for (const Vec2& off : {Vec2(0, 0), Vec2(3, 3), Vec2(-3, 3), Vec2(3, -3), Vec2(-3, -3)}) {
    const Pivots wrong{{39, -4}, {73.5, -60.5}, {138.5, -10}, Vec2(21, -47) + off};
    const CorrectionSearch wide = SmallestCorrection(box, wrong);
    CHECK(wide.reach_mm == 25.0);
    if (!wide.found) continue;
    const double length = wide.found->by.norm(), side = wide.found->by.cwiseAbs().maxCoeff();
    if (!(length > 1.1 * side)) continue;
    ++aslant;
    CorrectionOptions options;
    options.reach_mm = (length + side) / 2.0;
    const CorrectionSearch narrow = SmallestCorrection(box, wrong, options);
    CHECK(narrow.reach_mm == options.reach_mm);
    if (narrow.found) CHECK(narrow.found->by.norm() <= options.reach_mm + 1e-9);
  }
  CHECK(aslant > 0);
}

TEST_CASE("where nothing is in the way no move is looked for, and none is told", "[design]") {
  const BoxModel box(ExampleJob("spice_box"));
  const CorrectionSearch sought = SmallestCorrection(box, QuickHinge(box));
  CHECK(sought.end == CorrectionEnd::kClearsAlready);
  CHECK_FALSE(sought.found);
}
