// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/arm_room.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "design/examples.h"
#include "design/hinge_search.h"
#include "lidwright/arms/arm_route.h"
#include "lidwright/design/make_design.h"
#include "swing/loop_oracle.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

// Least distance of an arm's point to case and lid at the bay's two ends over the swing, by the
// plain distance and the oracle's poses.
double Brute(const BoxModel& box, LoopOracle& oracle, Body body, const Vec2& p) {
  std::vector<const Station*> stations;
  for (const double z : {box.solid.bay.z_min_mm, box.solid.bay.z_max_mm}) {
    const Station* best = nullptr;
    for (const Station& s : box.solid.stations) {
      if (!s.end_wall && (!best || std::abs(s.z_mm - z) < std::abs(best->z_mm - z))) best = &s;
    }
    stations.push_back(best);
  }
  double least = 1e300;
  for (double theta = 0.0; theta <= box.job.swing.open_rad; theta += 0.5 * kRadPerDeg) {
    const Vec2 in_case = oracle.Place(body, theta)(p);
    const Vec2 in_lid = oracle.Place(body, Body::kLid, theta)(p);
    for (const Station* s : stations) {
      least = std::min(
          {least, SignedDistance(s->case_rings, in_case), SignedDistance(s->lid_rings, in_lid)});
    }
    if (box.job.room.bench_below) least = std::min(least, in_case.y() - box.solid.bench_mm);
    least = std::min(least, in_case.x() + box.job.room.behind_mm);
  }
  return least;
}

}  // namespace

TEST_CASE("an arm's room agrees with the distances over the swing, point by point", "[slow]") {
  const BoxModel box(ExampleJob("sample_chest"));
  const Pivots pivots{{53.5, -44.5}, {28, -20}, {94.5, -46.5}, {68, 1.5}};
  const LidMotion motion = *LidMotion::Make(pivots);
  LoopOracle oracle(pivots);
  REQUIRE(oracle.Follow(box.job.swing.open_rad) >= box.job.swing.open_rad - 1e-12);
  std::mt19937_64 random(5);
  const auto unit = [&] { return static_cast<double>(random() >> 11) * 0x1.0p-53; };
  int compared = 0;
  double worst = 0.0;
  for (const Body body : {Body::kArmA, Body::kArmB}) {
    const ArmRoom room(box.arms.obstacles, motion, body, box.job.swing.open_rad, {});
    for (int i = 0; i < 300; ++i) {
      const Vec2 p = room.case_pivot() + Vec2(-60.0 + 140.0 * unit(), -50.0 + 110.0 * unit());
      const double brute = Brute(box, oracle, body, p);
      if (brute < 1.0 || brute > 40.0) continue;  // deep inside, how deep does not matter
      ++compared;
      worst = std::max(worst, std::abs(room.Exactly(p) - brute));
    }
  }
  CHECK(compared > 100);
  // The grid is 2.5 mm, the angles 2.5 degrees: the room is a guide, the certificate decides.
  CHECK(worst < 1.5);
}

TEST_CASE("a grid of distances reads as the distances themselves") {
  const BoxModel box(ExampleJob("sample_chest"));
  const std::vector<EdgeBag>& bags = box.task.bay_lid;
  REQUIRE(bags.size() >= 2);
  const double step = 2.5;
  Rect2 around;
  around.Add({-60.0, -60.0});
  around.Add({280.0, 140.0});
  const DistanceGrid grid(bags, around, step);
  std::mt19937_64 random(3);
  const auto unit = [&] { return static_cast<double>(random() >> 11) * 0x1.0p-53; };
  double worst = 0.0, sum = 0.0;
  constexpr int kPoints = 4000;
  for (int i = 0; i < kPoints; ++i) {
    const Vec2 p(-60.0 + 340.0 * unit(), -60.0 + 200.0 * unit());
    double truth = 1e300;
    for (const EdgeBag& bag : bags) truth = std::min(truth, bag.At(p).distance);
    const double off = std::abs(grid.At(p) - truth);
    worst = std::max(worst, off);
    sum += off;
  }
  // A distance changes by at most the way: interpolation is never off by more than half a cell's
  // diagonal, and by far less where the outline is smooth.
  CHECK(worst <= step * std::sqrt(0.5));
  CHECK(sum / kPoints < step / 20.0);
  // Outside of its box the way to the box is added: never more than the truth by much.
  for (int i = 0; i < 500; ++i) {
    const Vec2 p(-400.0 + 1000.0 * unit(), 150.0 + 300.0 * unit());
    double truth = 1e300;
    for (const EdgeBag& bag : bags) truth = std::min(truth, bag.At(p).distance);
    const Vec2 edge = p.cwiseMax(around.low).cwiseMin(around.high);
    CHECK(grid.At(p) >= truth - 2.5);
    CHECK(grid.At(p) <= grid.At(edge) + (p - edge).norm() + 2.5);
  }
}

TEST_CASE("discs of the other arm's pins are in the room") {
  const BoxModel box(ExampleJob("sample_chest"));
  const Pivots pivots{{53.5, -44.5}, {28, -20}, {94.5, -46.5}, {68, 1.5}};
  const LidMotion motion = *LidMotion::Make(pivots);
  const std::vector<Disc> discs{{Body::kCase, pivots.case_b, 3.0}, {Body::kLid, pivots.lid_b, 3.0}};
  const double open = box.job.swing.open_rad;
  const ArmRoom with(box.arms.obstacles, motion, Body::kArmA, open, discs);
  const ArmRoom without(box.arms.obstacles, motion, Body::kArmA, open, {});
  // At the shut pose the case pin of B stands where it stands.
  CHECK(with.Exactly(pivots.case_b) <= -3.0 + 1e-9);
  CHECK(without.Exactly(pivots.case_b) > with.Exactly(pivots.case_b));
  std::mt19937_64 random(9);
  for (int i = 0; i < 200; ++i) {
    const auto unit = [&] { return static_cast<double>(random() >> 11) * 0x1.0p-53; };
    const Vec2 p = pivots.case_a + Vec2(-60.0 + 120.0 * unit(), -60.0 + 120.0 * unit());
    CHECK(with.Exactly(p) <= without.Exactly(p));
  }
}

TEST_CASE("a route keeps its clearance along the whole rounded line") {
  const BoxModel box(ExampleJob("sample_chest"));
  HingeSearchOptions options;
  options.improve = false;
  const std::vector<Hinge> hinges = SearchHinges(box, options).hinges;
  REQUIRE(hinges.size() > 2);
  int curved = 0;
  for (const Hinge& hinge : hinges) {
    const LidMotion motion = *LidMotion::Make(hinge.pivots);
    for (const Body body : {Body::kArmA, Body::kArmB}) {
      const ArmRoom room(box.arms.obstacles, motion, body, box.job.swing.open_rad, {});
      const auto line = RouteArm(room, box.arms.shape, box.job.arms.gap_mm + 0.25);
      if (!line) continue;
      if (line->size() > 2) ++curved;
      const double need = box.arms.shape.width_mm / 2.0 + box.job.arms.gap_mm + 0.25;
      LoopOracle oracle(hinge.pivots);
      oracle.Follow(box.job.swing.open_rad);
      for (const Vec2& p : PointsAlong(*line, 3.0)) {
        CHECK(room.At(p) >= need - 0.5);
        CHECK(Brute(box, oracle, body, p) >= need - 1.5);
      }
      CHECK(line->front().point == room.case_pivot());
      CHECK(line->back().point == room.lid_pivot());
    }
  }
  CHECK(curved > 0);  // straight arms alone would almost never do (R3)
}
