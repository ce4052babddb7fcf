// SPDX-License-Identifier: Apache-2.0
#include "lidwright/synthesis/search.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "lidwright/synthesis/box_assembly.h"
#include "synthesis/lid_models.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

constexpr double kReserve_mm = 0.3;

SearchOptions Brief(int threads = 2) {
  SearchOptions options;
  options.starts = 6'000;
  options.descents = 12;
  options.on_grid = 6;
  options.threads = threads;
  return options;
}

SearchRound RoundOf(const LidModel& model, int threads = 2, std::uint64_t number = 0) {
  const LidUse use = LidUseOf(model.job, model.solid);
  return LidSearch(model.job, model.solid, model.task, use, kReserve_mm)
      .Round(number, Brief(threads));
}

void CheckSame(const SearchRound& one, const SearchRound& other) {
  REQUIRE(other.lids.size() == one.lids.size());
  CHECK(other.starts == one.starts);
  CHECK(other.opening == one.opening);
  CHECK(other.descents == one.descents);
  for (std::size_t i = 0; i < one.lids.size(); ++i) {
    CHECK(one.lids[i].x == other.lids[i].x);
    CHECK(one.lids[i].merit == other.lids[i].merit);
    CHECK(one.lids[i].missed_mm == other.lids[i].missed_mm);
    CHECK(one.lids[i].lacks_mm == other.lids[i].lacks_mm);
  }
}

bool Inside(const Zone& zone, const Vec2& p) {
  return (p.array() >= zone.low.array()).all() && (p.array() <= zone.high.array()).all();
}

}  // namespace

TEST_CASE("the search gives the same bits on any number of threads and each time it runs") {
  for (const char* name : {"jewellery_casket"}) {
    const LidModel model(ExampleJob(name));
    const SearchRound one = RoundOf(model, 1);
    REQUIRE(one.lids.size() >= 4);
    for (const int threads : {1, 3}) CheckSame(one, RoundOf(model, threads));
    // A task made anew from the same job as well.
    CheckSame(one, RoundOf(LidModel(ExampleJob(name))));
  }
}

TEST_CASE("another seed and another round look at other starts") {
  LidModel model(ExampleJob("jewellery_casket"));
  const SearchRound first = RoundOf(model), next = RoundOf(model, 2, 1);
  model.task.seed = 2;
  const SearchRound second = RoundOf(model);
  CHECK(first.opening != second.opening);
  CHECK(first.opening != next.opening);
}

TEST_CASE("every lid found lies in its zones, pinned pivots exactly where they are pinned") {
  LidModel model(ExampleJob("sample_chest"));
  SECTION("none pinned") {
    for (const GridLid& lid : RoundOf(model).lids) {
      const Pivots p = PivotsOf(lid.x.data());
      for (const Vec2& at : {p.case_a, p.case_b}) CHECK(Inside(model.task.case_zone, at));
      for (const Vec2& at : {p.lid_a, p.lid_b}) CHECK(Inside(model.task.lid_zone, at));
    }
  }
  SECTION("one pinned, even outside of its zone and off the grid") {
    model.task.pinned.lid_b = Vec2(77.77, 33.33);
    model.task.lid_zone.high.y() = 20.0;
    int lids = 0;
    for (const GridLid& lid : RoundOf(model).lids) {
      ++lids;
      CHECK(PivotsOf(lid.x.data()).lid_b == Vec2(77.77, 33.33));
      CHECK(Inside(model.task.lid_zone, PivotsOf(lid.x.data()).lid_a));
    }
    CHECK(lids > 0);
  }
  SECTION("a small zone is kept to") {
    model.task.case_zone = {{30.0, -60.0}, {80.0, -10.0}};
    for (const GridLid& lid : RoundOf(model).lids) {
      CHECK(Inside(model.task.case_zone, PivotsOf(lid.x.data()).case_a));
      CHECK(Inside(model.task.case_zone, PivotsOf(lid.x.data()).case_b));
    }
  }
}

TEST_CASE("lids come by growing value, and those that promise to keep everything are certified") {
  int promised = 0, certified = 0;
  for (const char* name : {"sample_chest", "jewellery_casket", "barrel_chest"}) {
    const LidModel model(ExampleJob(name));
    const std::vector<GridLid> lids = RoundOf(model).lids;
    for (std::size_t i = 0; i + 1 < lids.size(); ++i) {
      CHECK(ValueOf(lids[i]) <= ValueOf(lids[i + 1]));
    }
    for (const GridLid& lid : lids) {
      if (lid.missed_mm > 0.0) continue;
      ++promised;
      const auto motion = LidMotion::Make(PivotsOf(lid.x.data()));
      if (AllMet(CertifyLid(model.box, motion, model.limits))) ++certified;
    }
  }
  CHECK(promised > 8);
  CHECK(certified == promised);  // they have a reserve
}

TEST_CASE("a descent leaves no lid worse than it was, by what it misses and its merit") {
  const LidModel model(ExampleJob("sample_chest"));
  const LidUse use = LidUseOf(model.job, model.solid);
  const LidSearch search(model.job, model.solid, model.task, use, kReserve_mm);
  int better = 0, all = 0;
  for (const Pivots& start : MovingPivots(model.task, 30, 19)) {
    const GridLid before = search.Look(NumbersOf(start));
    const GridLid after = search.Look(search.Descended(NumbersOf(start), Leaning{}));
    ++all;
    if (after.missed_mm < 0.2 * before.missed_mm) ++better;
  }
  CHECK(all == 30);
  CHECK(better > all / 2);
}

TEST_CASE("a descent that leans towards a figure ends with less of it") {
  const LidModel model(ExampleJob("jewellery_casket"));
  const LidUse use = LidUseOf(model.job, model.solid);
  const LidSearch search(model.job, model.solid, model.task, use, kReserve_mm);
  const PivotNumbers plain = search.Round(0, Brief()).lids.at(0).x;
  const auto with = [&](double Leaning::*figure) {
    Leaning leaning;
    leaning.*figure = 6.0;
    return FiguresOf(model.task, use, PivotsOf(search.Descended(plain, leaning).data()));
  };
  const LidFigures from = FiguresOf(model.task, use, PivotsOf(plain.data()));
  CHECK(with(&Leaning::arms).arms_mm < from.arms_mm);
  CHECK(with(&Leaning::behind).behind_mm < from.behind_mm);
  CHECK(with(&Leaning::lift).lift_n < from.lift_n);
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
