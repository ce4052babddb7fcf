// SPDX-License-Identifier: Apache-2.0
// Play and lift at the front edge against what a lid does when its arms are made a little longer,
// or when it is turned a little.
#include <Eigen/Dense>
#include <catch2/catch.hpp>
#include <cmath>
#include <functional>

#include "lidwright/synthesis/lid_merit.h"
#include "swing/loop_oracle.h"
#include "synthesis/lid_models.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

// Where the lid's frame comes to lie (x, y, θ) when the arms are as long as `a` and `b` and the
// point `front` of the lid lies on the line through `stop` square to `along`: three equations by
// Newton with differences, starting at a pose.
Eigen::Vector3d Settled(const Pivots& p, const Vec2& front, double a, double b, const Vec2& stop,
                        const Vec2& along, Eigen::Vector3d pose) {
  const auto miss = [&](const Eigen::Vector3d& q) -> Eigen::Vector3d {
    const Placing placing{std::polar(1.0, q(2)), Complex(q(0), q(1))};
    return {(placing(p.lid_a) - p.case_a).norm() - a, (placing(p.lid_b) - p.case_b).norm() - b,
            along.dot(placing(front) - stop)};
  };
  for (int i = 0; i < 30; ++i) {
    const Eigen::Vector3d now = miss(pose);
    Eigen::Matrix3d slope;
    for (int k = 0; k < 3; ++k) {
      const double h = k == 2 ? 1e-7 : 1e-5;
      Eigen::Vector3d high = pose, low = pose;
      high(k) += h;
      low(k) -= h;
      slope.col(k) = (miss(high) - miss(low)) / (2.0 * h);
    }
    const Eigen::Vector3d step = slope.fullPivLu().solve(now);
    pose -= step;
    if (step.norm() < 1e-12) break;
  }
  return pose;
}

// The front edge's way per unit of change of arm A's and of arm B's length, added up: the front is
// held against moving along its path, the loop is solved as it is, not to first order.
double PlayAt(const Pivots& p, const Vec2& front, const LoopOracle& oracle, double theta) {
  const double h = 1e-5, delta = 1e-4;
  const auto front_at = [&](double angle) { return oracle.Place(Body::kLid, angle)(front); };
  const double low = theta > h ? theta - h : theta;
  const Vec2 along = (front_at(theta + h) - front_at(low)).normalized();
  const Placing at = oracle.Place(Body::kLid, theta);
  const Eigen::Vector3d pose(at.shift.real(), at.shift.imag(), theta);
  const double a = (p.lid_a - p.case_a).norm(), b = (p.lid_b - p.case_b).norm();
  double total = 0.0;
  for (const bool first : {true, false}) {
    const auto moved = [&](double by) {
      const Eigen::Vector3d q =
          Settled(p, front, a + (first ? by : 0.0), b + (first ? 0.0 : by), at(front), along, pose);
      return Placing{std::polar(1.0, q(2)), Complex(q(0), q(1))}(front);
    };
    total += (moved(delta) - moved(-delta)).norm() / (2.0 * delta);
  }
  return total;
}

double WorstPlay(const LidTask& task, const Pivots& p) {
  LoopOracle oracle(p);
  oracle.Follow(task.open_rad + 1e-3);
  double worst = 0.0;
  const int steps = static_cast<int>(std::ceil(task.open_rad * kDegPerRad));
  for (int i = 0; i <= steps; ++i) {
    worst = std::max(worst, PlayAt(p, task.front_edge, oracle, task.open_rad * i / steps));
  }
  return worst;
}

// Per unit of play along the arms and of the lid's weight.
LidFigures PerUnit(const LidTask& task, const Pivots& p) {
  LidUse use;
  use.play_mm = 0.5;
  use.weight_n = 1.0;
  return FiguresOf(task, use, p);
}
double PlayFactor(const LidTask& task, const Pivots& p) {
  return PerUnit(task, p).rattle_mm;
}

}  // namespace

TEST_CASE("the play factor is what a lid on longer arms really does at its front edge (R8)") {
  int compared = 0;
  for (const char* name : {"sample_chest", "jewellery_casket"}) {
    const LidModel model(ExampleJob(name));
    for (const Pivots& p : MovingPivots(model.task, 20, 11)) {
      const double factor = PlayFactor(model.task, p);
      if (factor > 60.0) continue;  // as good as parallel: a tenth of a micron is not small there
      CHECK(factor == Approx(WorstPlay(model.task, p)).epsilon(2e-4));
      ++compared;
    }
  }
  CHECK(compared > 15);
}

TEST_CASE("two lines of force 24 mm apart under a 220 mm lid play about tenfold (R8)") {
  // A figure of our own trial (rule R8 in DEVELOPERS.md). Both arms stand nearly upright, 24 mm
  // apart where they hold the lid at its back; the front edge is 220 mm away. By levers: the rear
  // arm longer by δ tips the lid about the front one's pivot and moves the front edge 196/24 δ, the
  // front arm 220/24 δ. The instant centre lies far below, so the front's own path is level and all
  // of that is play.
  LidModel model(ExampleJob("sample_chest"));
  LidTask& task = model.task;
  task.front_edge = {220.0, 0.0};
  task.open_rad = 0.001;
  const Pivots p{{0.0, -60.0}, {23.0, -60.0}, {0.0, 0.0}, {24.0, 0.0}};
  const double factor = PlayFactor(task, p);
  CHECK(factor == Approx(WorstPlay(task, p)).epsilon(1e-3));
  // The factor lets both arms play at once, "about tenfold" is one of them: 220/24 = 9.2.
  CHECK(factor == Approx((196.0 + 220.0) / 24.0).epsilon(0.05));
  CHECK(factor / 2.0 == Approx(10.0).epsilon(0.2));
}

TEST_CASE("lines of force that cross wide apart hold the front edge well") {
  LidModel model(ExampleJob("sample_chest"));
  model.task.open_rad = 0.02;
  const Pivots narrow{{40.0, -60.0}, {64.0, -60.0}, {40.0, 10.0}, {65.0, 10.0}};
  const Pivots wide{{10.0, -30.0}, {120.0, -60.0}, {90.0, -10.0}, {110.0, 10.0}};
  CHECK(PlayFactor(model.task, wide) < PlayFactor(model.task, narrow) / 3.0);
}

TEST_CASE("the lift factor is the rise of the mass over the travel of the front edge") {
  int compared = 0;
  for (const char* name : {"barrel_chest", "sample_chest", "jewellery_casket"}) {
    const LidModel model(ExampleJob(name));
    for (const Pivots& p : MovingPivots(model.task, 20, 5)) {
      LoopOracle oracle(p);
      // Where the linkage ends just before or beyond, the oracle's differences are off themselves.
      if (LidMotion::Make(p)->Range().low_rad > -0.05) continue;
      const double beyond = model.task.open_rad + 0.05;
      if (oracle.Follow(beyond) < beyond) continue;
      double worst = 0.0;
      const int steps = static_cast<int>(std::ceil(model.task.open_rad * kDegPerRad));
      for (int i = 0; i <= steps; ++i) {
        const double h = 1e-5;
        const double theta =
            std::clamp(model.task.open_rad * i / steps, h, model.task.open_rad - h);
        const Placing high = oracle.Place(Body::kLid, theta + h);
        const Placing low = oracle.Place(Body::kLid, theta - h);
        const double rise = high(model.task.mass_centre).y() - low(model.task.mass_centre).y();
        const double travel = (high(model.task.front_edge) - low(model.task.front_edge)).norm();
        worst = std::max(worst, std::abs(rise / travel));
      }
      if (worst > 20.0) continue;  // the front edge stands still there
      CHECK(PerUnit(model.task, p).lift_n == Approx(worst).epsilon(1e-3));
      ++compared;
    }
  }
  CHECK(compared > 25);
}
