// SPDX-License-Identifier: Apache-2.0
// Published path-generation benchmarks. Targets, bounds and design vectors are recalled from the
// papers (MEM) and were scored again by an independent script; the best errors are that script's
// own multi-start results, bounds and not proofs. No paper's table of errors could be read.
#include "reference/path_synthesis.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "lidwright/base/check.h"
#include "synthesis/derivative_error.h"

namespace lidwright {
namespace {

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

// Six points on a vertical line, free timing.
const PathTask kLine{{{20, 20}, {20, 25}, {20, 30}, {20, 35}, {20, 40}, {20, 45}},
                     PathTiming::kFree,
                     {},
                     false,
                     {5, 60},
                     {-60, 60}};

// Five points, prescribed timing, ground fixed in place.
const PathTask kFivePoints{{{3, 3}, {2.759, 3.363}, {2.372, 3.663}, {1.890, 3.862}, {1.355, 3.943}},
                           PathTiming::kPrescribed,
                           {kPi / 6, kPi / 4, kPi / 3, 75 * kRadPerDeg, kPi / 2},
                           true,
                           {0, 50},
                           {-50, 50}};

// Eighteen points of a closed curve every 20°, timing fixed up to the start angle. Some papers
// print the sixth point as (0.005, 0.75).
PathTask Eighteen(double sixth_x = 0.05) {
  PathTask task{{{0.5, 1.1},
                 {0.4, 1.1},
                 {0.3, 1.1},
                 {0.2, 1.0},
                 {0.1, 0.9},
                 {sixth_x, 0.75},
                 {0.02, 0.6},
                 {0, 0.5},
                 {0, 0.4},
                 {0.03, 0.3},
                 {0.1, 0.25},
                 {0.15, 0.2},
                 {0.2, 0.3},
                 {0.3, 0.4},
                 {0.4, 0.5},
                 {0.5, 0.7},
                 {0.6, 0.9},
                 {0.6, 1.0}},
                PathTiming::kOffsets,
                {},
                false,
                {0, 50},
                {-50, 50}};
  for (int i = 0; i < 18; ++i) task.crank_rad.push_back(20 * i * kRadPerDeg);
  return task;
}

TracingFourBar Placed(const LinkLengths& lengths, const Vec2& point, const Vec2& origin,
                      double tilt_rad) {
  return {lengths, point, Pose::Make(tilt_rad, origin)};
}

double Error(const PathTask& task, const PathDesign& design) {
  const auto error = PathError(task.targets, design);
  REQUIRE(error);
  return *error;
}

double EighteenError(const PathTask& task, const TracingFourBar& linkage, double first_rad) {
  PathDesign design{linkage, {}};
  for (double offset : task.crank_rad) design.crank_rad.push_back(first_rad + offset);
  return Error(task, design);
}

void CheckDerivatives(const PathTask& task, const PathDesign& design) {
  const auto x = ParametersOf(task, design);
  CHECK(testing::WorstDerivativeError(PathProblem(task), x) < 1e-7);
  const PathDesign back = DesignOf(task, x);
  CHECK_THAT(Error(task, back), WithinRel(Error(task, design), 1e-9));
}

}  // namespace

TEST_CASE("Published designs for the vertical line score as re-derived with their best timing") {
  struct Row {
    TracingFourBar linkage;
    double on_grid, error;
  };
  // on_grid: crank angles on a grid of 0.05°, as in the numbers handed to us; error: the same by an
  // independent script with the angles refined (ternary search), hence a little less.
  const Row rows[] = {
      // Cabrera, Simon & Prado 2002; the paper's figure (MEM) is about 0.026.
      {Placed({39.46629, 8.56286, 19.09486, 47.83886}, {13.38556, 12.21961}, {29.72225, 23.45454},
              6.20163),
       0.0260114, 0.02580441032},
      // Acharyya & Mandal 2009 (DE; GA below); the paper's own timing is not the best one.
      {Placed({35.02074, 6.404196, 31.60722, 50.59949}, {20.80324, 41.54364}, {60, 18.07791}, 0),
       0.0150837, 0.01502806114},
      {Placed({28.77133, 5, 35.36548, 59.13681}, {0, 14.85037}, {29.91329, 32.60228}, 5.287474),
       1.20711, 1.20708507646},
  };
  for (const Row& row : rows) {
    double on_grid = 0.0;
    for (const Vec2& target : kLine.targets) {
      double least = 1e300;
      for (int k = 0; k < 7200; ++k) {
        const auto p = TracedPoint(row.linkage, k * kPi / 3600, Branch::kOpen);
        if (p) least = std::min(least, (*p - target).squaredNorm());
      }
      on_grid += least;
    }
    CHECK_THAT(on_grid, WithinAbs(row.on_grid, 5e-6));
    const PathDesign timed = WithBestTiming(kLine.targets, row.linkage);
    CHECK_THAT(Error(kLine, timed), WithinRel(row.error, 1e-9));
  }
  // The third stands within 0.1° of a dead point: no room for difference quotients.
  CheckDerivatives(kLine, WithBestTiming(kLine.targets, rows[0].linkage));
  CheckDerivatives(kLine, WithBestTiming(kLine.targets, rows[1].linkage));
}

TEST_CASE("The design that passes the vertical line scores next to nothing, as printed") {
  // Found by the independent script; the rounding of its digits leaves 1.5e-14.
  const PathDesign design{
      Placed({57.35732283, 7.317075733, 12.32915768, 52.51156947}, {-20.1691216, -1.725134584},
             {32.92655554, 22.10735195}, -1.204459218),
      {1.09548841, 1.35377935, 1.61782198, 1.90530209, 2.24770435, 2.77485782}};
  CHECK_THAT(Error(kLine, design), WithinAbs(1.522e-14, 1e-16));
  CHECK(Error(kLine, WithBestTiming(kLine.targets, design.linkage)) < 1e-14);
  CheckDerivatives(kLine, design);
}

TEST_CASE("The best design for five timed points scores as re-derived from its digits") {
  const PathDesign design{
      Placed({3.669728, 1.997812, 3.996316, 2.704886}, {1.672046, 1.680132}, {0, 0}, 0.0),
      kFivePoints.crank_rad};
  CHECK_THAT(Error(kFivePoints, design), WithinRel(7.41576e-07, 1e-5));
  CheckDerivatives(kFivePoints, design);
}

TEST_CASE("Published designs for the eighteen points score as re-derived, in both variants") {
  struct Row {
    TracingFourBar linkage;
    double first_rad, error, variant;
  };
  const Row rows[] = {
      // Cabrera, Simon & Prado 2002; the paper's figure (MEM) about 0.0337 agrees.
      {Placed({3.057878, 0.237803, 4.828954, 2.056456}, {0.767038, 1.850828}, {1.776808, -0.641991},
              1.002168),
       0.226186, 0.0337480, 0.0348391},
      // Kunjur & Krishnamurty 1995/97; the paper's figure (MEM) 0.043 is not confirmed.
      {Placed({1.879660, 0.274853, 1.180253, 2.138209}, {-0.833592, -0.378770},
              {1.132062, 0.663433}, 4.354224),
       2.558625, 0.0660725, 0.0652714},
  };
  for (const Row& row : rows) {
    CHECK_THAT(EighteenError(Eighteen(), row.linkage, row.first_rad), WithinAbs(row.error, 1e-6));
    CHECK_THAT(EighteenError(Eighteen(0.005), row.linkage, row.first_rad),
               WithinAbs(row.variant, 1e-6));
  }
  const auto best = Placed({1.053943453, 0.4238749919, 0.9142498549, 0.5989168784},
                           {0.370597366, 0.3993466745}, {0.2676555098, 0.1546495413}, 0.2848245729);
  CHECK_THAT(EighteenError(Eighteen(), best, 0.89155583), WithinAbs(0.00902888463, 1e-10));
  PathDesign design{best, {}};
  for (double offset : Eighteen().crank_rad) design.crank_rad.push_back(0.89155583 + offset);
  CheckDerivatives(Eighteen(), design);
}

TEST_CASE("Derivatives of the path error hold for random linkages and all timings") {
  std::mt19937_64 bits(51);
  const auto uniform = [&](double low, double high) {
    return low + (high - low) * static_cast<double>(bits() >> 11) * 0x1p-53;
  };
  int checked = 0;
  for (int i = 0; i < 400 && checked < 60; ++i) {
    PathTask task;
    task.timing = std::vector{PathTiming::kFree, PathTiming::kOffsets,
                              PathTiming::kPrescribed}[static_cast<std::size_t>(i % 3)];
    task.in_place = i % 2 == 0;
    PathDesign design{
        Placed({uniform(1, 4), uniform(1, 4), uniform(1, 4), uniform(1, 4)},
               {uniform(-3, 3), uniform(-3, 3)}, {uniform(-3, 3), 1.0}, uniform(-3, 3)),
        {}};
    if (task.in_place) design.linkage.X_WG = Pose{};
    bool clear = true;
    for (int k = 0; k < 4; ++k) {
      task.targets.push_back({uniform(-3, 3), uniform(-3, 3)});
      design.crank_rad.push_back(uniform(-3, 3));
      const auto mu = TransmissionAngle_rad(design.linkage.lengths, design.crank_rad.back());
      clear = clear && mu && std::sin(*mu) > 0.3;  // difference quotients need room
    }
    if (!clear) continue;
    if (task.timing != PathTiming::kFree) task.crank_rad = design.crank_rad;
    CheckDerivatives(task, design);
    ++checked;
  }
  CHECK(checked == 60);
}

TEST_CASE("The search passes six points of a line exactly, with an ordered Grashof linkage") {
  PathOptions options;
  options.many.starts = 1024;
  options.many.descent.max_iterations = 60;
  options.many.good_enough_cost = 0.5e-13;
  const auto found = SolvePath(kLine, options);
  REQUIRE(found);
  CAPTURE(found->error, found->started);
  CHECK(found->error < 1e-12);
  CHECK_THAT(Error(kLine, found->design), WithinAbs(found->error, 1e-13));
  const LinkLengths& l = found->design.linkage.lengths;
  for (double length : {l.ground_mm, l.crank_mm, l.coupler_mm, l.rocker_mm}) {
    CHECK(length >= 5.0);
    CHECK(length <= 60.0);
  }
  const GrashofClass found_class = Classify(l);
  CHECK((found_class == GrashofClass::kCrankRocker || found_class == GrashofClass::kDoubleCrank));
  const auto& turn = found->design.crank_rad;
  for (std::size_t i = 0; i + 1 < turn.size(); ++i) {
    CHECK((turn[i + 1] - turn[i]) * (turn.back() - turn.front()) > 0.0);
  }
  CHECK(std::abs(turn.back() - turn.front()) < 2.0 * kPi);
}

TEST_CASE("The search is not worse than the best known on five timed points") {
  PathOptions options;
  options.many.starts = 256;
  options.many.descent.max_iterations = 200;
  options.many.same_answer = 1e-3;
  const auto found = SolvePath(kFivePoints, options);
  REQUIRE(found);
  CAPTURE(found->error, found->started, found->hits);
  CHECK(found->error <= 1.05 * 7.4158e-7);
  CHECK_THAT(found->error, WithinRel(7.41575130679e-07, 1e-6));  // the same optimum, it seems
  CHECK_THAT(Error(kFivePoints, found->design), WithinRel(found->error, 1e-6));
  CHECK(found->hits * 3 >= found->started);
}

TEST_CASE("The search is not worse than the best known on eighteen points, in both variants",
          "[slow]") {
  for (const auto& [sixth_x, best] : {std::pair{0.05, 9.029e-3}, {0.005, 0.00991192744}}) {
    const PathTask task = Eighteen(sixth_x);
    PathOptions options;
    options.many.starts = 512;
    options.many.descent.max_iterations = 100;
    options.many.same_answer = 1e-3;
    const auto found = SolvePath(task, options);
    REQUIRE(found);
    CAPTURE(found->error, found->started, found->hits);
    CHECK(found->error <= 1.05 * best);
    CHECK_THAT(Error(task, found->design), WithinRel(found->error, 1e-9));
    CHECK(found->hits > 3);
    const GrashofClass found_class = Classify(found->design.linkage.lengths);
    CHECK((found_class == GrashofClass::kCrankRocker || found_class == GrashofClass::kDoubleCrank));
  }
}

TEST_CASE(
    "The same seed gives the same design on one thread and on two, another seed another way") {
  PathOptions options;
  options.many.starts = 128;
  options.many.descent.max_iterations = 60;
  options.many.threads = 1;
  const auto one = SolvePath(kFivePoints, options);
  options.many.threads = 2;
  const auto two = SolvePath(kFivePoints, options);
  options.seed = 99;
  const auto other = SolvePath(kFivePoints, options);
  REQUIRE(one);
  REQUIRE(two);
  REQUIRE(other);
  CHECK(one->error == two->error);
  CHECK(one->hits == two->hits);
  CHECK(ParametersOf(kFivePoints, one->design) == ParametersOf(kFivePoints, two->design));
  CHECK(ParametersOf(kFivePoints, one->design) != ParametersOf(kFivePoints, other->design));
}

TEST_CASE("Broken contracts of a path task throw, and no start is no answer") {
  PathTask task = kFivePoints;
  task.crank_rad.pop_back();
  CHECK_THROWS_AS(PathProblem(task), ContractError);
  CHECK_THROWS_AS(PathProblem(PathTask{}), ContractError);
  CHECK_THROWS_AS(PathError(kLine.targets, PathDesign{}), ContractError);
  PathOptions none;
  none.many.starts = 0;
  CHECK_FALSE(SolvePath(kLine, none));
  // Not closed at one of the angles.
  CHECK_FALSE(PathError({{0, 0}}, {Placed({10, 1, 2, 3}, {0, 0}, {0, 0}, 0.0), {0.0}}));
}

}  // namespace lidwright
