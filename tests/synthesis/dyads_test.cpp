// SPDX-License-Identifier: Apache-2.0
// Published tasks and their printed answers. "MEM" marks values recalled without seeing the book;
// they re-derive (independent script) to every printed digit.
#include "reference/dyads.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "lidwright/base/check.h"
#include "reference/four_bar.h"

namespace lidwright {
namespace {

using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;
using Complex = std::complex<double>;

Vec2 Polar(double length, double angle_deg) {
  return length * Vec2(std::cos(angle_deg * kRadPerDeg), std::sin(angle_deg * kRadPerDeg));
}

Pose At(double x, double y, double angle_deg) {
  return Pose::Make(angle_deg * kRadPerDeg, {x, y});
}

double Angle_deg(const Vec2& v) {
  return std::atan2(v.y(), v.x()) * kDegPerRad;
}

bool SameAngle(double l_deg, double r_deg, double within_deg) {
  return std::abs(std::remainder(l_deg - r_deg, 360.0)) < within_deg;
}

// Largest difference of the dyad's length between the poses: does the arm hold?
template <std::size_t N>
double Stretch(const Dyad& dyad, const std::array<Pose, N>& poses) {
  double worst = 0.0;
  for (const Pose& pose : poses) {
    const double length = (MovingPivotAt(dyad, poses[0], pose) - dyad.fixed).norm();
    worst = std::max(worst, std::abs(length - dyad.Length_mm()));
  }
  return worst;
}

// The same for complex pivots: spread of the complex (x² + y²) of the arm over the poses.
double ComplexStretch(const ComplexDyad& dyad, const std::array<Pose, 5>& poses) {
  double worst = 0.0, size = 1.0;
  Complex first;
  for (const Pose& pose : poses) {
    const Pose step = pose * poses[0].Inverse();
    const Complex x =
        step.cosine * dyad.moving[0] - step.sine * dyad.moving[1] + step.origin.x() - dyad.fixed[0];
    const Complex y =
        step.sine * dyad.moving[0] + step.cosine * dyad.moving[1] + step.origin.y() - dyad.fixed[1];
    if (&pose == &poses[0]) first = x * x + y * y;
    size = std::max(size, std::norm(x) + std::norm(y));
    worst = std::max(worst, std::abs(x * x + y * y - first));
  }
  return worst / size;
}

double Uniform(std::mt19937_64& bits, double low, double high) {
  return low + (high - low) * static_cast<double>(bits() >> 11) * 0x1p-53;
}

// Sandor & Erdman, Advanced Mechanism Design vol. 2, the five-pose task: poses MEM, answers
// re-derived (another method: Newton's from many starts).
const std::array<Pose, 5> kFivePoses{At(0, 0, 0), At(1.5, 0.8, 10), At(1.6, 1.5, 20),
                                     At(2.0, 3.0, 60), At(2.3, 3.5, 90)};

// Poses of the coupler of a four-bar that we chose, so that two of the answers are known exactly:
// O2 (0, 0), O4 (4, 1), crank 2, coupler 3.5, rocker 2.5, open; crank at 60, 75, 90, 110, 130°.
const std::array<Pose, 5> kConstructed{
    At(1.0000000000, 1.7320508076, 30.3382459519), At(0.5176380902, 1.9318516526, 26.1894154083),
    At(0.0000000000, 2.0000000000, 23.1284084564), At(-0.6840402867, 1.8793852416, 19.9729657399),
    At(-1.2855752194, 1.5320888862, 17.2889273751)};

// Poses of the coupler of a four-bar somewhere, its frame at an arbitrary place of the coupler.
struct KnownTask {
  std::array<Pose, 5> poses;
  Dyad crank, rocker;
};
std::optional<KnownTask> RandomTask(std::mt19937_64& bits, double crank_step_rad) {
  const LinkLengths lengths{Uniform(bits, 30, 90), Uniform(bits, 20, 90), Uniform(bits, 20, 90),
                            Uniform(bits, 20, 90)};
  const Pose ground = Pose::Make(Uniform(bits, -kPi, kPi), {Uniform(bits, -50, 50), 20.0});
  const Pose body =
      Pose::Make(Uniform(bits, -kPi, kPi), {Uniform(bits, -50, 50), Uniform(bits, -50, 50)});
  const double from = Uniform(bits, -kPi, kPi);
  KnownTask task;
  for (std::size_t j = 0; j < 5; ++j) {
    const auto p =
        SolvePosition(lengths, from + crank_step_rad * static_cast<double>(j), Branch::kOpen);
    if (!p) return std::nullopt;
    task.poses[j] = ground * Pose::Make(p->coupler_rad, p->a) * body;
    if (j > 0) continue;
    task.crank = {ground.origin, ground * p->a};
    task.rocker = {ground * Vec2(lengths.ground_mm, 0.0), ground * p->b};
  }
  return task;
}

double Apart(const Dyad& l, const Dyad& r) {
  return (l.fixed - r.fixed).norm() + (l.moving - r.moving).norm();
}

double ApartFromNearest(const std::vector<Dyad>& dyads, const Dyad& wanted) {
  double least = 1e300;
  for (const Dyad& dyad : dyads) least = std::min(least, Apart(dyad, wanted));
  return least;
}

}  // namespace

TEST_CASE("Two poses with given choices have the printed arms (a solution sheet)") {
  // Norton, Problem 5-8, solution sheet READ; digits re-derived.
  const Pose first = At(0, 0, 210), second = At(-1.236, 2.138, 147.5);
  CHECK_THAT(second.origin.norm(), WithinAbs(2.470, 5e-4));
  const Vec2 z = Polar(1.075, 204.4), s = Polar(1.240, 74.0);
  const auto left = TwoPoseDyad(first, second, z, -27 * kRadPerDeg);
  const auto right = TwoPoseDyad(first, second, s, -40 * kRadPerDeg);
  REQUIRE(left);
  REQUIRE(right);
  const Vec2 w = left->moving - left->fixed, u = right->moving - right->fixed;
  const Vec2 v = right->moving - left->moving, g = right->fixed - left->fixed;
  CHECK((w - Vec2(-1.462, -3.367)).cwiseAbs().maxCoeff() < 1e-3);
  CHECK_THAT(w.norm(), WithinAbs(3.670, 1e-3));
  CHECK((u - Vec2(-3.180, -4.439)).cwiseAbs().maxCoeff() < 1e-3);
  CHECK_THAT(u.norm(), WithinAbs(5.461, 1e-3));
  CHECK_THAT(v.norm(), WithinAbs(2.103, 1e-3));
  CHECK_THAT(v.x(), WithinAbs(-1.321, 1e-3));
  CHECK(SameAngle(Angle_deg(v), 231.086, 1e-3));
  CHECK_THAT(g.norm(), WithinAbs(0.690, 1e-3));
  CHECK(SameAngle(Angle_deg(g), -54.796, 1e-3));
  CHECK(SameAngle(Angle_deg(w) - Angle_deg(g), 301.323, 1e-3));
  CHECK(SameAngle(Angle_deg(w) - Angle_deg(g) - 27.0, 274.323, 1e-3));

  CHECK((left->fixed - Vec2(2.440847, 3.810597)).norm() < 1e-6);
  CHECK((right->fixed - Vec2(2.838442, 3.247059)).norm() < 1e-6);
  CHECK((left->moving - Vec2(0.978985, 0.444087)).norm() < 1e-6);
  CHECK((right->moving - Vec2(-0.341790, -1.191965)).norm() < 1e-6);
  CHECK((MovingPivotAt(*left, first, second) - Vec2(-0.390045, 1.474686)).norm() < 1e-6);
  CHECK((MovingPivotAt(*right, first, second) - Vec2(-2.451107, 1.890784)).norm() < 1e-6);
  const auto pole = PoleOf(first, second);
  REQUIRE(pole);
  CHECK((*pole - Vec2(1.143657, 2.087432)).norm() < 1e-6);
}

TEST_CASE("Two poses with given choices have the printed arms (a worked example)") {
  // Norton, Ex 5-1: inputs READ, printed W = 2.467 at 71.6°, U = 1.486 at 15.4° MEM.
  const Vec2 way = Polar(2.416, 165.2);
  const Pose first = At(0, 0, 0), second = At(way.x(), way.y(), 43.3);
  const auto left = TwoPoseDyad(first, second, Polar(1.298, 26.5), 38.4 * kRadPerDeg);
  const auto right = TwoPoseDyad(first, second, Polar(1.035, 104.1), 85.6 * kRadPerDeg);
  REQUIRE(left);
  REQUIRE(right);
  const Vec2 w = left->moving - left->fixed, u = right->moving - right->fixed;
  CHECK_THAT(w.norm(), WithinAbs(2.467, 1e-3));
  CHECK(SameAngle(Angle_deg(w), 71.6, 0.05));
  CHECK_THAT(u.norm(), WithinAbs(1.486, 1e-3));
  CHECK(SameAngle(Angle_deg(u), 15.4, 0.05));
  CHECK_THAT((right->moving - left->moving).norm(), WithinAbs(1.47617, 1e-5));
  CHECK_THAT((right->fixed - left->fixed).norm(), WithinAbs(1.70080, 1e-5));
  CHECK((left->fixed - Vec2(-1.941472, -2.919560)).norm() < 1e-6);
  CHECK((right->fixed - Vec2(-1.180038, -1.398726)).norm() < 1e-6);
  CHECK((left->moving - Vec2(-1.161625, -0.579165)).norm() < 1e-6);
  CHECK((right->moving - Vec2(0.252142, -1.003818)).norm() < 1e-6);
  const auto pole = PoleOf(first, second);
  REQUIRE(pole);
  CHECK((*pole - Vec2(-1.945320, -2.633753)).norm() < 1e-6);
}

TEST_CASE("Three poses with given turns have the printed crank, also as a circle's centre") {
  // Norton, Ex 5-2: inputs and w = 6.832 MEM; digits re-derived by two routes.
  const Vec2 p2 = Polar(2.798, -31.19), p3 = Polar(3.919, -16.34);
  const std::array<Pose, 3> poses{At(0, 0, 0), At(p2.x(), p2.y(), -45), At(p3.x(), p3.y(), 9.3)};
  const auto left = ThreePoseDyad(poses, 342.3 * kRadPerDeg, 324.8 * kRadPerDeg);
  const auto right = ThreePoseDyad(poses, 30.9 * kRadPerDeg, 80.6 * kRadPerDeg);
  REQUIRE(left);
  REQUIRE(right);
  CHECK_THAT(left->Length_mm(), WithinAbs(6.832, 1e-3));
  CHECK_THAT(left->Length_mm(), WithinAbs(6.8319992, 1e-6));
  CHECK_THAT(right->Length_mm(), WithinAbs(3.1996697, 1e-6));
  CHECK((left->moving - Vec2(-1.1791290, -0.9396369)).norm() < 1e-6);
  CHECK((left->fixed - Vec2(-1.2338338, -7.7714171)).norm() < 1e-6);
  CHECK((right->moving - Vec2(0.1087843, -1.4867895)).norm() < 1e-6);
  CHECK((right->fixed - Vec2(2.7367182, 0.3385458)).norm() < 1e-6);
  CHECK((MovingPivotAt(*left, poses[0], poses[1]) - Vec2(0.8953684, -1.2796753)).norm() < 1e-6);
  CHECK((MovingPivotAt(*left, poses[0], poses[2]) - Vec2(2.7489268, -2.2203964)).norm() < 1e-6);
  CHECK((MovingPivotAt(*right, poses[0], poses[1]) - Vec2(1.4191653, -2.5772629)).norm() < 1e-6);
  CHECK((MovingPivotAt(*right, poses[0], poses[2]) - Vec2(4.1083334, -2.5522254)).norm() < 1e-6);
  for (const Dyad& dyad : {*left, *right}) {
    const auto circle = ThreePoseDyadAt(poses, dyad.moving);
    REQUIRE(circle);
    CHECK(Apart(*circle, dyad) < 1e-12);
  }
  CHECK((*PoleOf(poses[0], poses[1]) - Vec2(-0.5523430, -3.6137960)).norm() < 1e-6);
  CHECK((*PoleOf(poses[0], poses[2]) - Vec2(8.6581171, 22.5669378)).norm() < 1e-6);
}

TEST_CASE("A second book's three poses have the re-derived arms") {
  // Erdman & Sandor, Mechanism Design, three precision positions: inputs MEM, answers re-derived.
  const std::array<Pose, 3> poses{At(0, 0, 0), At(-6, 11, 22), At(-17, 13, 68)};
  const auto one = ThreePoseDyad(poses, 90 * kRadPerDeg, 198 * kRadPerDeg);
  const auto two = ThreePoseDyad(poses, 40 * kRadPerDeg, 73 * kRadPerDeg);
  REQUIRE(one);
  REQUIRE(two);
  CHECK((one->moving - one->fixed - Vec2(5.755025, 0.480892)).norm() < 2e-6);
  CHECK((one->moving - Vec2(-14.610556, 3.469777)).norm() < 2e-6);
  CHECK((one->fixed - Vec2(-20.365581, 2.988885)).norm() < 2e-6);
  CHECK((MovingPivotAt(*one, poses[0], poses[1]) - Vec2(-20.846473, 8.743911)).norm() < 2e-6);
  CHECK((MovingPivotAt(*one, poses[0], poses[2]) - Vec2(-25.690332, 0.753130)).norm() < 2e-6);
  CHECK_THAT(one->Length_mm(), WithinAbs(5.775082, 1e-6));
  CHECK((two->moving - two->fixed - Vec2(18.374557, -0.661103)).norm() < 2e-6);
  CHECK((two->moving - Vec2(1.420746, -5.951769)).norm() < 2e-6);
  CHECK((two->fixed - Vec2(-16.953810, -5.290667)).norm() < 2e-6);
}

TEST_CASE("Five published poses have exactly two real arms out of four") {
  const FivePoseDyads found = SolveFivePoses(kFivePoses);
  CHECK(found.finitely_many);
  CHECK(found.at_infinity == 0);
  REQUIRE(found.real.size() == 2);
  REQUIRE(found.all.size() == 4);
  const Dyad wanted[] = {{{-0.4142141917, 2.5747278353}, {-0.8498113880, 1.9847269593}},
                         {{-0.3712827877, 3.3417467536}, {-0.7676277621, 2.8467388747}}};
  const double lengths[] = {0.7333798, 0.6341310};
  for (std::size_t i = 0; i < 2; ++i) {
    CHECK(Apart(found.real[i], wanted[i]) < 1e-8);
    CHECK_THAT(found.real[i].Length_mm(), WithinAbs(lengths[i], 1e-7));
    CHECK(Stretch(found.real[i], kFivePoses) < 1e-12);
  }
  // The complex pair, by the signs that belong together.
  const auto near = [](const Complex& l, double re, double im) {
    return std::abs(l.real() - re) < 1e-8 && std::abs(std::abs(l.imag()) - im) < 1e-8;
  };
  for (std::size_t i = 2; i < 4; ++i) {
    CHECK(near(found.all[i].fixed[0], -4.2954042318, 0.0043287370));
    CHECK(near(found.all[i].fixed[1], 5.1342443835, 5.6287190984));
    CHECK(near(found.all[i].moving[0], -5.3099310958, 0.2375675378));
    CHECK(near(found.all[i].moving[1], -0.0093003585, 5.9497740512));
  }
  CHECK(found.all[2].fixed[0].imag() > 0.0);
  for (std::size_t k = 0; k < 2; ++k) {
    CHECK(std::abs(found.all[2].fixed[k] - std::conj(found.all[3].fixed[k])) < 1e-9);
    CHECK(std::abs(found.all[2].moving[k] - std::conj(found.all[3].moving[k])) < 1e-9);
  }
}

TEST_CASE("Five poses of a known four-bar give back its crank and its rocker and nothing else") {
  const FivePoseDyads found = SolveFivePoses(kConstructed);
  REQUIRE(found.real.size() == 2);
  CHECK(found.all.size() == 4);
  // The poses are rounded to ten digits and lie close together: the answer keeps seven.
  CHECK(Apart(found.real[0], {{0, 0}, {1, 1.732050808}}) < 1e-6);
  CHECK(Apart(found.real[1], {{4, 1}, {4.020705020, 3.499914259}}) < 1e-6);
  CHECK_THAT(found.real[0].Length_mm(), WithinAbs(2.0, 1e-6));
  CHECK_THAT(found.real[1].Length_mm(), WithinAbs(2.5, 1e-6));

  // The same from unrounded poses.
  std::array<Pose, 5> exact;
  const double cranks_deg[] = {60, 75, 90, 110, 130};
  const double tilt = std::atan2(1.0, 4.0);
  const LinkLengths lengths{std::sqrt(17.0), 2, 3.5, 2.5};
  for (std::size_t j = 0; j < 5; ++j) {
    const auto p = SolvePosition(lengths, cranks_deg[j] * kRadPerDeg - tilt, Branch::kOpen);
    REQUIRE(p);
    exact[j] = Pose::Make(tilt, Vec2::Zero()) * Pose::Make(p->coupler_rad, p->a);
    CHECK((exact[j].origin - kConstructed[j].origin).norm() < 1e-9);
    CHECK(SameAngle(exact[j].Angle_rad() * kDegPerRad, kConstructed[j].Angle_rad() * kDegPerRad,
                    1e-9));
  }
  const FivePoseDyads sharper = SolveFivePoses(exact);
  REQUIRE(sharper.real.size() == 2);
  CHECK(Apart(sharper.real[0], {{0, 0}, Polar(2, 60)}) < 1e-10);
  CHECK((sharper.real[1].fixed - Vec2(4, 1)).norm() < 1e-10);
}

TEST_CASE("Four poses of a known four-bar have its moving pivots on the circle-point curve") {
  std::array<Pose, 4> poses;
  std::copy_n(kConstructed.begin(), 4, poses.begin());
  const Dyad crank{{0, 0}, {1, 1.732050808}}, rocker{{4, 1}, {4.020705020, 3.499914259}};
  int checked = 0;
  for (double turn_deg = 0; turn_deg < 180; turn_deg += 15) {
    for (const Dyad& known : {crank, rocker}) {
      const Vec2 direction = Polar(1, turn_deg);
      const auto found = FourPoseDyads(poses, known.moving + 0.7 * direction, direction);
      CHECK(found.size() <= 3);
      CHECK(ApartFromNearest(found, known) < 1e-5);
      for (const Dyad& dyad : found) {
        CHECK(Stretch(dyad, poses) < 1e-9 * (1.0 + dyad.Length_mm()));
        ++checked;
      }
    }
  }
  CHECK(checked >= 24);
}

TEST_CASE("Five poses of random four-bars give back both arms, wherever the body's frame is") {
  // Poses close together say less about the arms: what is found holds as well, but lies further
  // off.
  const double steps_and_tolerances[][2] = {{0.6, 1e-6}, {0.35, 1e-5}, {0.1, 1e-3}};
  for (const auto& [step, within] : steps_and_tolerances) {
    std::mt19937_64 bits(41);
    int tasks = 0, counts[5] = {};
    double worst = 0.0, worst_stretch = 0.0;
    while (tasks < 500) {
      const auto task = RandomTask(bits, step);
      if (!task) continue;
      ++tasks;
      const FivePoseDyads found = SolveFivePoses(task->poses);
      REQUIRE(found.finitely_many);
      REQUIRE(found.all.size() + static_cast<std::size_t>(found.at_infinity) == 4);
      ++counts[found.real.size()];
      for (const Dyad& known : {task->crank, task->rocker}) {
        worst = std::max(worst, ApartFromNearest(found.real, known));
      }
      for (const Dyad& dyad : found.real) {
        worst_stretch =
            std::max(worst_stretch, Stretch(dyad, task->poses) / (100.0 + dyad.Length_mm()));
      }
    }
    CAPTURE(step, counts[0], counts[1], counts[2], counts[3], counts[4]);
    CHECK(worst < within);
    CHECK(worst_stretch < 2e-12);
    CHECK(counts[2] > 50);
    CHECK(counts[4] > 50);
    CHECK(counts[2] + counts[4] == tasks);
  }
}

TEST_CASE("Five random poses have 0, 2 or 4 real arms, and all of them hold") {
  std::mt19937_64 bits(42);
  int counts[5] = {};
  double worst = 0.0, worst_complex = 0.0;
  for (int i = 0; i < 1000; ++i) {
    std::array<Pose, 5> poses;
    for (Pose& pose : poses) {
      pose = Pose::Make(Uniform(bits, -kPi, kPi), {Uniform(bits, -9, 9), Uniform(bits, -9, 9)});
    }
    const FivePoseDyads found = SolveFivePoses(poses);
    ++counts[found.real.size()];
    for (const Dyad& dyad : found.real) {
      worst = std::max(worst, Stretch(dyad, poses) / (10.0 + dyad.Length_mm()));
    }
    for (const ComplexDyad& dyad : found.all) {
      worst_complex = std::max(worst_complex, ComplexStretch(dyad, poses));
    }
    for (std::size_t k = found.real.size(); k + 1 < found.all.size(); k += 2) {
      CHECK(found.all[k].fixed[0].imag() >= 0.0);
      CHECK(std::abs(found.all[k].fixed[0] - std::conj(found.all[k + 1].fixed[0])) <
            1e-6 * (1.0 + std::abs(found.all[k].fixed[0])));
    }
    // Moving the drawing moves the arms with it.
    const Pose moved = Pose::Make(1.0, {3.0, -2.0});
    std::array<Pose, 5> there;
    for (std::size_t j = 0; j < 5; ++j) there[j] = moved * poses[j];
    const FivePoseDyads same = SolveFivePoses(there);
    REQUIRE(same.real.size() == found.real.size());
    for (const Dyad& dyad : found.real) {
      const double size = 1.0 + dyad.fixed.norm() + dyad.moving.norm();
      CHECK(ApartFromNearest(same.real, {moved * dyad.fixed, moved * dyad.moving}) < 1e-6 * size);
    }
  }
  CHECK(counts[0] > 10);
  CHECK(counts[2] > 10);
  CHECK(counts[4] > 10);
  CHECK(counts[1] + counts[3] == 0);
  CHECK(worst < 1e-10);
  CHECK(worst_complex < 1e-12);
}

TEST_CASE("Poles lie on the bisectors of every point's way, and special tasks say so") {
  std::mt19937_64 bits(43);
  for (int i = 0; i < 200; ++i) {
    const Pose from = Pose::Make(Uniform(bits, -3, 3), {Uniform(bits, -9, 9), 1.0});
    const Pose to = Pose::Make(Uniform(bits, -3, 3), {Uniform(bits, -9, 9), -2.0});
    const auto pole = PoleOf(from, to);
    REQUIRE(pole);
    const Vec2 point(Uniform(bits, -9, 9), Uniform(bits, -9, 9));
    CHECK_THAT((from * point - *pole).norm(), WithinRel((to * point - *pole).norm(), 1e-9));
    const Vec2 z(Uniform(bits, -9, 9), Uniform(bits, -9, 9));
    const auto dyad = TwoPoseDyad(from, to, z, Uniform(bits, 0.2, 6.0));
    REQUIRE(dyad);
    CHECK((dyad->moving + z - from.origin).norm() < 1e-13);
    CHECK_THAT((MovingPivotAt(*dyad, from, to) - dyad->fixed).norm(),
               WithinRel(dyad->Length_mm(), 1e-9));
  }
  const Pose still = At(1, 2, 30), shifted = At(4, 2, 30);
  CHECK_FALSE(PoleOf(still, shifted));
  CHECK_FALSE(TwoPoseDyad(still, shifted, {1, 0}, 0.0));
  CHECK_FALSE(TwoPoseDyad(still, shifted, {1, 0}, 2.0 * kPi));
  CHECK_FALSE(CircleCentre({0, 0}, {1, 1}, {3, 3}));
  CHECK_FALSE(ThreePoseDyadAt({At(0, 0, 10), At(1, 0, 10), At(2, 0, 10)}, {5, 5}));
  CHECK_FALSE(ThreePoseDyad({At(0, 0, 10), At(1, 0, 10), At(2, 0, 10)}, 0.5, 0.9));
  // A body that never turns: every point of it draws the same path.
  CHECK_FALSE(SolveFivePoses({At(0, 0, 5), At(1, 0, 5), At(2, 1, 5), At(3, 3, 5), At(4, 7, 5)})
                  .finitely_many);
  CHECK_THROWS_AS(FourPoseDyads({still, shifted, still, shifted}, {0, 0}, {0, 0}), ContractError);
}

TEST_CASE("A slider among five poses is counted as a pivot at infinity") {
  // Slider-crank: crank 2 at (0, 0), connecting rod 5, slider on y = 0.5. The crank must come back.
  std::array<Pose, 5> poses;
  const double cranks_deg[] = {20, 50, 85, 120, 160};
  for (std::size_t j = 0; j < 5; ++j) {
    const Vec2 pin = Polar(2, cranks_deg[j]);
    poses[j] = Pose::Make(std::asin((0.5 - pin.y()) / 5.0), pin);
  }
  const FivePoseDyads found = SolveFivePoses(poses);
  CHECK(found.at_infinity == 1);
  CHECK(found.all.size() == 3);
  CHECK(ApartFromNearest(found.real, {{0, 0}, poses[0].origin}) < 1e-9);
}

}  // namespace lidwright
