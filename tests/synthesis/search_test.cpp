// SPDX-License-Identifier: Apache-2.0
#include "lidwright/synthesis/search.h"

#include <atomic>
#include <catch2/catch.hpp>
#include <cmath>

#include "lidwright/synthesis/box_assembly.h"
#include "swing/loop_oracle.h"
#include "synthesis/lid_models.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

SearchOptions Brief(int threads = 2) {
  SearchOptions options;
  options.seeds = 40'000;
  options.keep = 10;
  options.threads = threads;
  return options;
}

bool Same(const Candidate& a, const Candidate& b) {
  return NumbersOf(a.pivots) == NumbersOf(b.pivots) && a.violation == b.violation &&
         a.play_factor == b.play_factor && a.lift_factor == b.lift_factor &&
         a.arms_mm == b.arms_mm && a.reach_behind_mm == b.reach_behind_mm;
}

void CheckSame(const SearchSummary& one, const SearchSummary& other) {
  REQUIRE(other.candidates.size() == one.candidates.size());
  CHECK(other.seeds == one.seeds);
  CHECK(other.moving == one.moving);
  CHECK(other.promising == one.promising);
  CHECK(other.refined == one.refined);
  for (std::size_t i = 0; i < one.candidates.size(); ++i) {
    CHECK(Same(one.candidates[i], other.candidates[i]));
  }
}

}  // namespace

TEST_CASE("the search gives the same bits on any number of threads and each time it runs") {
  for (const char* name : {"jewellery_casket", "sample_chest"}) {
    const LidModel model(ExampleJob(name));
    const SearchSummary one = FindLinkages(model.task, Brief(1));
    REQUIRE(one.candidates.size() == 10);
    for (const int threads : {1, 2, 3}) CheckSame(one, FindLinkages(model.task, Brief(threads)));
    // A task made anew from the same job as well.
    CheckSame(one, FindLinkages(LidModel(ExampleJob(name)).task, Brief()));
  }
}

TEST_CASE("another seed draws other linkages") {
  LidModel model(ExampleJob("jewellery_casket"));
  const SearchSummary first = FindLinkages(model.task, Brief());
  model.task.seed = 2;
  const SearchSummary second = FindLinkages(model.task, Brief());
  CHECK(NumbersOf(second.candidates[0].pivots) != NumbersOf(first.candidates[0].pivots));
}

TEST_CASE("every candidate lies in its zones, pinned pivots exactly where they are pinned") {
  LidModel model(ExampleJob("sample_chest"));
  const auto inside = [](const Zone& zone, const Vec2& p) {
    return (p.array() >= zone.low.array()).all() && (p.array() <= zone.high.array()).all();
  };
  for (const Candidate& c : FindLinkages(model.task, Brief()).candidates) {
    CHECK(inside(model.task.case_zone, c.pivots.case_a));
    CHECK(inside(model.task.case_zone, c.pivots.case_b));
    CHECK(inside(model.task.lid_zone, c.pivots.lid_a));
    CHECK(inside(model.task.lid_zone, c.pivots.lid_b));
  }
  SECTION("one pinned, even outside of its zone") {
    model.task.pinned.lid_b = Vec2(77.77, 33.33);
    model.task.lid_zone.high.y() = 20.0;
    for (const Candidate& c : FindLinkages(model.task, Brief()).candidates) {
      CHECK(c.pivots.lid_b == Vec2(77.77, 33.33));
      CHECK(inside(model.task.lid_zone, c.pivots.lid_a));
    }
  }
  SECTION("all pinned leaves one candidate: those") {
    const Pivots p = FindLinkages(model.task, Brief()).candidates[0].pivots;
    model.task.pinned = {p.case_a, p.case_b, p.lid_a, p.lid_b, {}, {}};
    const SearchSummary found = FindLinkages(model.task, Brief());
    REQUIRE(found.candidates.size() == 1);
    CHECK(NumbersOf(found.candidates[0].pivots) == NumbersOf(p));
  }
  SECTION("a small zone is kept to") {
    model.task.case_zone = {{30.0, -60.0}, {80.0, -10.0}};
    for (const Candidate& c : FindLinkages(model.task, Brief()).candidates) {
      CHECK(inside(model.task.case_zone, c.pivots.case_a));
      CHECK(inside(model.task.case_zone, c.pivots.case_b));
    }
  }
}

TEST_CASE("candidates come in order: those that meet the samples by their arms, the rest by miss") {
  const LidModel model(ExampleJob("sample_chest_tight"));
  SearchOptions options = Brief();
  options.keep = 30;
  for (const LidTask* task : {&model.task}) {
    const auto candidates = FindLinkages(*task, options).candidates;
    REQUIRE(candidates.size() == 30);
    for (std::size_t i = 0; i + 1 < candidates.size(); ++i) {
      const Candidate &a = candidates[i], &b = candidates[i + 1];
      const bool a_met = a.violation < 1e-3, b_met = b.violation < 1e-3;
      CHECK((a_met || !b_met));
      if (a_met && b_met) CHECK(a.arms_mm <= b.arms_mm);
      if (!a_met && !b_met) CHECK(a.violation <= b.violation);
    }
  }
}

TEST_CASE("what is counted grows smaller from test to test") {
  const LidModel model(ExampleJob("sample_chest"));
  std::atomic<int> calls{0};
  double last = 0.0, least = 1.0;
  SearchOptions options = Brief();
  options.progress = [&](double share) {  // one call at a time, as promised
    ++calls;
    least = std::min(least, share);
    last = std::max(last, share);
  };
  const SearchSummary found = FindLinkages(model.task, options);
  CHECK(found.seeds == 40'000);
  CHECK(found.moving < found.seeds / 10);
  CHECK(found.promising < found.moving);
  CHECK(found.promising > 0);
  CHECK(found.refined == 10);
  CHECK(calls > 10);
  CHECK(least >= 0.0);
  CHECK(last == 1.0);
}

TEST_CASE("refining never leaves a linkage worse than it was") {
  const LidModel model(ExampleJob("sample_chest"));
  const LidCost cost(
      model.task,
      [] {
        Favour f;
        f.extra_gap_mm = 0.0;
        return f;
      }(),
      26);
  int better = 0, all = 0;
  for (const Pivots& start : MovingPivots(model.task, 30, 19)) {
    const Candidate refined = Refine(model.task, start, {}, 13);
    ++all;
    const double before = cost.Missed(NumbersOf(start).data());
    if (refined.violation < 0.1 * before) ++better;
    CHECK(refined.violation == cost.Missed(NumbersOf(refined.pivots).data()));
    CHECK(std::isfinite(refined.violation));
  }
  CHECK(better > all / 2);
}

TEST_CASE("a candidate's figures are those of its pivots") {
  const LidModel model(ExampleJob("sample_chest"));
  for (const Pivots& p : MovingPivots(model.task, 20, 13)) {
    const Candidate c = Assess(model.task, p);
    CHECK(c.arms_mm == Approx(std::hypot(p.lid_a.x() - p.case_a.x(), p.lid_a.y() - p.case_a.y()) +
                              std::hypot(p.lid_b.x() - p.case_b.x(), p.lid_b.y() - p.case_b.y())));
    LoopOracle oracle(p);
    if (oracle.Follow(model.task.open_rad) < model.task.open_rad) continue;
    double rearmost = 0.0;
    for (int i = 0; i <= 240; ++i) {
      const Placing lid = oracle.Place(Body::kLid, model.task.open_rad * i / 240);
      for (const Station& s : model.solid.stations) {
        for (const Vec2& q : s.lid_rings[0]) rearmost = std::min(rearmost, lid(q).x());
      }
    }
    // Looked at 1.6 degrees apart against 0.4.
    CHECK(c.reach_behind_mm <= -rearmost + 1e-9);
    CHECK(c.reach_behind_mm >= -rearmost - 1.0);
  }
}

TEST_CASE("snapping takes each coordinate to the nearest multiple, pinned pivots excepted") {
  LidModel model(ExampleJob("jewellery_casket"));
  Draw draw(7);
  for (const double grid : {0.5, 25.4 / 64.0, 1.0, 0.1}) {
    for (int i = 0; i < 200; ++i) {
      const Pivots p{{draw(-99, 99), draw(-99, 99)},
                     {draw(-99, 99), draw(-99, 99)},
                     {draw(-99, 99), draw(-99, 99)},
                     {draw(-99, 99), draw(-99, 99)}};
      const PivotNumbers before = NumbersOf(p), after = NumbersOf(Snapped(model.task, p, grid));
      for (std::size_t k = 0; k < 8; ++k) {
        CHECK(std::abs(std::remainder(after[k], grid)) < 1e-9);
        CHECK(std::abs(after[k] - before[k]) <= grid / 2.0 + 1e-9);
      }
      // Snapping again changes nothing.
      CHECK(NumbersOf(Snapped(model.task, PivotsOf(after.data()), grid)) == after);
    }
  }
  model.task.pinned.case_a = Vec2(10.123, -20.456);
  const Pivots p{{10.123, -20.456}, {1.3, 2.4}, {3.6, 4.7}, {5.1, 6.9}};
  const Pivots snapped = Snapped(model.task, p, 0.5);
  CHECK(snapped.case_a == p.case_a);
  CHECK(snapped.lid_b == Vec2(5.0, 7.0));
}

TEST_CASE("how far two linkages are apart does not care which arm is called A") {
  Draw draw(9);
  const auto point = [&] { return Vec2(draw(0, 100), draw(0, 100)); };
  for (int i = 0; i < 200; ++i) {
    const Pivots p{point(), point(), point(), point()}, q{point(), point(), point(), point()};
    const Pivots p_swapped{p.case_b, p.case_a, p.lid_b, p.lid_a};
    CHECK(Apart_mm(p, p) == 0.0);
    CHECK(Apart_mm(p, p_swapped) == 0.0);
    CHECK(Apart_mm(p, q) == Apart_mm(q, p));
    CHECK(Apart_mm(p, q) == Apart_mm(p_swapped, q));
    Pivots moved = p;
    moved.lid_a += Vec2(3.0, 4.0);
    CHECK(Apart_mm(p, moved) <= 5.0 + 1e-12);
  }
}
