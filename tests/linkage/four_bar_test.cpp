// SPDX-License-Identifier: Apache-2.0
// Numbers that somebody else printed. "MEM" marks values recalled without seeing the book; they
// re-derive to every printed digit (independent script), which shows that they belong together.
#include "reference/four_bar.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <complex>

#include "lidwright/base/check.h"
#include "lidwright/geometry/circle_meeting.h"

namespace lidwright {
namespace {

using Catch::Matchers::WithinAbs;

constexpr Branch kBranches[] = {Branch::kOpen, Branch::kCrossed};

// Least difference of two angles modulo a full turn: books print -180…180° or 0…360°.
double Apart_deg(double angle_rad, double wanted_deg) {
  return std::abs(std::remainder(angle_rad * kDegPerRad - wanted_deg, 360.0));
}

struct Row {
  char name;
  LinkLengths lengths;  // d, a, b, c
  double crank_deg;
  double angles_deg[2][2];   // open, crossed: coupler, rocker, to 1e-4
  double printed_deg[2][2];  // the book's, to 0.1; 999 where it was not recalled
  double rates[2][2];        // ω3, ω4 for ω2 = 1
  double transmission_deg;
};

// As recalled from R. L. Norton, Design of Machinery, Table P4-1 with Problems 4-6 and 4-7 (inputs
// of row a READ, the rest MEM); further digits, rates and transmission angles re-derived.
constexpr double kNone = 999.0;
const Row kNortonP4[] = {
    {'a',
     {6, 2, 7, 9},
     30,
     {{88.8372, 117.2861}, {-115.2108, -143.6596}},
     {{88.8, 117.3}, {-115.2, -143.6}},
     {{-0.599097, -0.399173}, {-0.066235, -0.266158}},
     28.4488},
    {'b',
     {7, 9, 3, 8},
     85,
     {{-43.2320, 120.2471}, {-67.3039, 129.2170}},
     {{kNone, kNone}, {kNone, kNone}},
     {{-6.088347, 3.107629}, {7.357213, -1.838763}},
     163.4791},
    {'c',
     {3, 10, 6, 8},
     45,
     {{-53.1320, 16.4912}, {173.2709, 103.6476}},
     {{-53.1, 16.5}, {173.3, 103.6}},
     {{0.848591, 1.320034}, {1.518317, 1.046874}},
     69.6232},
    {'d',
     {8, 5, 7, 6},
     25,
     {{27.4016, 62.7617}, {-90.1037, -125.4637}},
     {{kNone, kNone}, {kNone, kNone}},
     {{-0.755838, -0.060340}, {-0.608461, -1.303959}},
     35.3601},
    {'e',
     {8, 5, 8, 6},
     75,
     {{7.4973, 78.2124}, {-79.0206, -149.7357}},
     {{7.5, 78.2}, {-79.0, -149.7}},
     {{-0.037106, 0.815684}, {0.466049, -0.386741}},
     70.7151},
    {'f',
     {5, 8, 8, 9},
     15,
     {{-47.2716, -25.0176}, {121.6806, 99.4266}},
     {{kNone, kNone}, {kNone, kNone}},
     {{1.697919, 2.077595}, {2.628042, 2.248366}},
     22.2540},
    {'g',
     {6, 8, 8, 9},
     25,
     {{-16.3149, 7.2360}, {155.7205, 132.1695}},
     {{-16.3, 7.2}, {155.7, 132.2}},
     {{0.763572, 1.468704}, {2.391193, 1.686061}},
     23.5509},
    {'h',
     {20, 10, 10, 10},
     50,
     {{9.3676, 111.7494}, {-68.2506, -170.6324}},
     {{kNone, kNone}, {kNone, kNone}},
     {{-0.901863, 0.666710}, {0.666710, -0.901863}},
     102.3818},
    {'i',
     {4, 5, 2, 5},
     80,
     {{-1.5466, 103.0910}, {-113.5395, 141.8229}},
     {{-1.5, 103.1}, {-113.5, 141.8}},
     {{-1.013370, 1.022316}, {2.277656, 0.241969}},
     104.6376},
    {'j',
     {20, 10, 5, 10},
     33,
     {{20.6081, 133.8938}, {-70.8592, 175.8550}},
     {{kNone, kNone}, {kNone, kNone}},
     {{-2.138120, 0.233628}, {1.314764, -1.056984}},
     113.2858},
    {'k',
     {4, 6, 10, 7},
     88,
     {{-13.2752, 31.9096}, {-102.1266, -147.3114}},
     {{-13.2, 31.9}, {-102.1, -147.3}},
     {{0.701949, 1.184972}, {0.695469, 0.212446}},
     45.1848},
};

}  // namespace

TEST_CASE("Eleven linkages of a textbook table stand where it says, on both branches") {
  int checked = 0, printed = 0;
  for (const Row& row : kNortonP4) {
    INFO("row " << row.name);
    for (int k = 0; k < 2; ++k) {
      const auto p = SolvePosition(row.lengths, row.crank_deg * kRadPerDeg, kBranches[k]);
      REQUIRE(p);
      CHECK(Apart_deg(p->coupler_rad, row.angles_deg[k][0]) < 1e-4);
      CHECK(Apart_deg(p->rocker_rad, row.angles_deg[k][1]) < 1e-4);
      ++checked;
      if (row.printed_deg[k][0] == kNone) continue;
      CHECK(Apart_deg(p->coupler_rad, row.printed_deg[k][0]) < 0.1);
      CHECK(Apart_deg(p->rocker_rad, row.printed_deg[k][1]) < 0.1);
      ++printed;
    }
  }
  CHECK(checked == 22);
  CHECK(printed == 12);
}

TEST_CASE("The same eleven turn at the re-derived rates, with ω3 − ω4 opposite on the branches") {
  int checked = 0;
  for (const Row& row : kNortonP4) {
    INFO("row " << row.name);
    double difference[2];
    for (int k = 0; k < 2; ++k) {
      const auto p = SolvePosition(row.lengths, row.crank_deg * kRadPerDeg, kBranches[k]);
      REQUIRE(p);
      const auto rates = AngularVelocities(row.lengths, *p, 1.0);
      REQUIRE(rates);
      CHECK_THAT(rates->coupler, WithinAbs(row.rates[k][0], 1e-6));
      CHECK_THAT(rates->rocker, WithinAbs(row.rates[k][1], 1e-6));
      difference[k] = rates->coupler - rates->rocker;
      ++checked;
    }
    CHECK_THAT(difference[0] + difference[1], WithinAbs(0.0, 1e-12));
  }
  CHECK(checked == 22);
}

TEST_CASE("The same eleven have the re-derived transmission angles") {
  for (const Row& row : kNortonP4) {
    INFO("row " << row.name);
    const auto angle = TransmissionAngle_rad(row.lengths, row.crank_deg * kRadPerDeg);
    REQUIRE(angle);
    CHECK_THAT(*angle * kDegPerRad, WithinAbs(row.transmission_deg, 1e-4));
  }
}

TEST_CASE("Row a at 10 rad/s has the printed speeds") {
  // Norton, Problem 6-4 row a (inputs READ, printed answers MEM).
  const LinkLengths lengths{6, 2, 7, 9};
  const double printed[2][2] = {{-6.0, -4.0}, {-0.66, -2.66}};
  const double within[2] = {0.1, 0.01};
  for (int k = 0; k < 2; ++k) {
    const auto p = SolvePosition(lengths, 30 * kRadPerDeg, kBranches[k]);
    REQUIRE(p);
    const auto rates = AngularVelocities(lengths, *p, 10.0);
    REQUIRE(rates);
    CHECK_THAT(rates->coupler, WithinAbs(printed[k][0], within[k]));
    CHECK_THAT(rates->rocker, WithinAbs(printed[k][1], within[k]));
  }
}

TEST_CASE("A linkage on tilted ground stands within the pencil's width of a drawn solution") {
  // A homework solution of the Uicker/Pennock/Shigley type (READ): R1 = 16 in at 15°, R2 = 8 in at
  // 30°, R3 = 14 in, R4 = 12 in; drawn answers 60°, 97° and −57°, −95°. Digits re-derived.
  const LinkLengths lengths{16, 8, 14, 12};
  const double drawn[2][2] = {{60, 97}, {-57, -95}};
  const double derived[2][2] = {{59.4588, 96.7594}, {-57.5626, -94.8632}};
  for (int k = 0; k < 2; ++k) {
    const auto p = SolvePosition(lengths, (30 - 15) * kRadPerDeg, kBranches[k]);
    REQUIRE(p);
    const double tilt = 15 * kRadPerDeg;
    CHECK(Apart_deg(p->coupler_rad + tilt, drawn[k][0]) < 1.0);
    CHECK(Apart_deg(p->rocker_rad + tilt, drawn[k][1]) < 1.0);
    CHECK(Apart_deg(p->coupler_rad + tilt, derived[k][0]) < 1e-4);
    CHECK(Apart_deg(p->rocker_rad + tilt, derived[k][1]) < 1e-4);
  }
}

TEST_CASE("A crank at 120 rpm drives its rocker at the printed speed") {
  // Khurmi & Gupta, Theory of Machines, Ex 7.1: inputs and v_B = 0.503 m/s READ, ω_CD = 4.8 rad/s
  // MEM (both from a drawing); digits re-derived.
  const LinkLengths lengths{150, 40, 150, 80};
  const double speed = 120 * 2.0 * kPi / 60.0;
  CHECK_THAT(speed * lengths.crank_mm / 1000.0, WithinAbs(0.503, 5e-4));
  const auto open = SolvePosition(lengths, 60 * kRadPerDeg, Branch::kOpen);
  REQUIRE(open);
  CHECK(Apart_deg(open->coupler_rad, 17.15396) < 1e-5);
  CHECK(Apart_deg(open->rocker_rad, 80.41028) < 1e-5);
  const auto rates = AngularVelocities(lengths, *open, speed);
  REQUIRE(rates);
  CHECK_THAT(rates->rocker, WithinAbs(4.8, 0.05));
  CHECK_THAT(rates->rocker, WithinAbs(4.784571, 1e-6));
  CHECK_THAT(rates->coupler, WithinAbs(-1.308625, 1e-6));
  const auto crossed = SolvePosition(lengths, 60 * kRadPerDeg, Branch::kCrossed);
  REQUIRE(crossed);
  CHECK_THAT(AngularVelocities(lengths, *crossed, speed)->rocker, WithinAbs(-6.728540, 1e-6));
}

TEST_CASE("The instant centre lies where a drawn solution found it, and exactly 360 from C") {
  // Khurmi & Gupta, Ex 6.1: inputs READ, answers I13–B = 500 mm and ω_BC = 6.282 rad/s MEM (drawn,
  // 0.4 % off); digits re-derived. Their B is our A, their C our B.
  const LinkLengths lengths{600, 300, 360, 360};
  const double speed = 100 * 2.0 * kPi / 60.0;
  const Vec2 centres[2] = {{399.19872, 691.43246}, {-99.19872, -171.81722}};
  for (int k = 0; k < 2; ++k) {
    const auto p = SolvePosition(lengths, 60 * kRadPerDeg, kBranches[k]);
    REQUIRE(p);
    const auto centre = InstantCentre(lengths, *p);
    REQUIRE(centre);
    CHECK((*centre - centres[k]).norm() < 1e-5);
    CHECK_THAT((*centre - p->a).norm(), WithinAbs(498.39743, 1e-5));
    CHECK_THAT((*centre - p->a).norm(), WithinAbs(500.0, 0.005 * 500.0));
    CHECK_THAT((*centre - p->b).norm(), WithinAbs(360.0, 1e-9));
  }
  const auto open = SolvePosition(lengths, 60 * kRadPerDeg, Branch::kOpen);
  CHECK(Apart_deg(open->coupler_rad, 13.80599) < 1e-5);
  CHECK(Apart_deg(open->rocker_rad, 106.19401) < 1e-5);
  const auto rates = AngularVelocities(lengths, *open, speed);
  REQUIRE(rates);
  CHECK_THAT(std::abs(rates->coupler), WithinAbs(6.303389, 1e-6));
  CHECK_THAT(std::abs(rates->coupler), WithinAbs(6.282, 0.005 * 6.282));
  CHECK_THAT(std::abs(rates->rocker), WithinAbs(std::abs(rates->coupler), 1e-12));
}

TEST_CASE("A crank-rocker designed by its swing has the printed extremes of transmission") {
  // Uicker/Pennock/Shigley type, Problem 2.2 (READ): 31.63° and 100.79°; re-derived 31.614,
  // 100.795.
  const LinkLengths lengths{154.34, 63.5, 165.5, 138.8 / (2.0 * std::sin(37.5 * kRadPerDeg))};
  const auto extremes = TransmissionExtremes(lengths);
  REQUIRE(extremes);
  CHECK_THAT(extremes->low_rad * kDegPerRad, WithinAbs(31.63, 0.03));
  CHECK_THAT(extremes->high_rad * kDegPerRad, WithinAbs(100.79, 0.03));
  CHECK_THAT(extremes->low_rad * kDegPerRad, WithinAbs(31.614, 5e-4));
  CHECK_THAT(extremes->high_rad * kDegPerRad, WithinAbs(100.795, 5e-4));
}

TEST_CASE("A rocker swings between its toggle positions") {
  // Re-derived numbers (an independent script); angles at the rocker's pivot from O4→O2.
  const LinkLengths lengths{5, 2, 4, 3.5};
  CHECK(Classify(lengths) == GrashofClass::kCrankRocker);
  const TogglePositions toggles = Toggles(lengths);
  REQUIRE(toggles.stretched);
  REQUIRE(toggles.folded);
  const double stretched_deg = 180.0 - toggles.stretched->rocker_rad * kDegPerRad;
  const double folded_deg = 180.0 - toggles.folded->rocker_rad * kDegPerRad;
  CHECK_THAT(stretched_deg, WithinAbs(87.9533, 1e-4));
  CHECK_THAT(folded_deg, WithinAbs(18.1949, 1e-4));
  CHECK_THAT(stretched_deg - folded_deg, WithinAbs(69.7584, 1e-4));
  const auto extremes = TransmissionExtremes(lengths);
  REQUIRE(extremes);
  CHECK_THAT(extremes->low_rad * kDegPerRad, WithinAbs(46.5675, 1e-4));
  CHECK_THAT(extremes->high_rad * kDegPerRad, WithinAbs(137.8228, 1e-4));
}

TEST_CASE("Grashof's rule sorts a textbook trio and every place of the shortest link") {
  // Norton, P2 series (link sets READ): 11 < 11.5, 11 > 10.5, 10 = 10.
  const auto of = [](double d, double a, double b, double c) { return Classify({d, a, b, c}); };
  CHECK(of(2, 4.5, 7, 9) == GrashofClass::kDoubleCrank);
  CHECK(of(2, 3.5, 7, 9) == GrashofClass::kTripleRocker);
  CHECK(of(2, 4, 6, 8) == GrashofClass::kChangePoint);
  // Course-note table (READ): the class follows the shortest link's place.
  CHECK(of(9, 2, 4.5, 7) == GrashofClass::kCrankRocker);
  CHECK(of(7, 9, 2, 4.5) == GrashofClass::kDoubleRocker);
  CHECK(of(4.5, 7, 9, 2) == GrashofClass::kRockerCrank);
  // Sums that are equal but for rounding: 0.1 + 0.7 against 0.3 + 0.5, a parallelogram, a kite.
  CHECK(of(0.1, 0.3, 0.5, 0.7) == GrashofClass::kChangePoint);
  CHECK(of(70.1, 33.3, 70.1, 33.3) == GrashofClass::kChangePoint);
  CHECK(of(70.1, 33.3, 33.3, 70.1) == GrashofClass::kChangePoint);
  CHECK(of(2, 4, 6, 8.000001) == GrashofClass::kTripleRocker);
  CHECK(of(2, 4, 6, 13) == GrashofClass::kCannotClose);
  CHECK(of(13, 4, 6, 2) == GrashofClass::kCannotClose);
}

TEST_CASE("Broken contracts of a four-bar throw and impossible ones are nothing") {
  CHECK_THROWS_AS(SolvePosition({0, 1, 1, 1}, 0.0, Branch::kOpen), ContractError);
  CHECK_THROWS_AS(Classify({1, -1, 1, 1}), ContractError);
  CHECK_THROWS_AS(CrankLimits({1, 1, 1, std::nan("")}), ContractError);
  CHECK_THROWS_AS(CircleMeeting({0, 0}, -1.0, {1, 0}, 1.0, 1), ContractError);
  CHECK_THROWS_AS(CircleMeeting({0, 0}, 1.0, {1, 0}, 1.0, 0), ContractError);
  CHECK_THROWS_AS(Cognates({{7, 2.4, 6, 5}, {0, 0}, Pose{}}), ContractError);
  CHECK_THROWS_AS(Cognates({{7, 2.4, 6, 5}, {6, 0}, Pose{}}), ContractError);

  const LinkLengths too_long{2, 4, 6, 13};
  CHECK_FALSE(SolvePosition(too_long, 1.0, Branch::kOpen));
  CHECK_FALSE(TransmissionAngle_rad(too_long, 1.0));
  CHECK_FALSE(TransmissionExtremes(too_long));
  CHECK_FALSE(CrankLimits(too_long));
  CHECK_FALSE(Toggles(too_long).stretched);
  CHECK_FALSE(Toggles(too_long).folded);
  // A crank equal to its coupler folds onto its own pivot: no such toggle.
  CHECK_FALSE(Toggles({6, 5, 5, 4}).folded);
}

}  // namespace lidwright
