// SPDX-License-Identifier: Apache-2.0
#include <catch2/catch.hpp>
#include <cmath>

#include "forces/force_cases.h"
#include "forces/physics_engine.h"
#include "lidwright/forces/soft_shut.h"
#include "lidwright/forces/stop_loads.h"
#include "lidwright/forces/virtual_work.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

// Where a lid let go at rest is after `seconds`, or when it arrives shut or open.
double After(const Chest& chest, double theta, double friction, double seconds) {
  Engine engine(chest.motion(), chest.load, theta);
  constexpr double kStep = 2e-4;
  for (double t = 0.0; t < seconds; t += kStep) {
    engine.Step(kStep, friction);
    if (engine.Theta() <= 0.0 || engine.Theta() >= chest.open) break;
  }
  return engine.Theta();
}

}  // namespace

TEST_CASE("a physics engine drops the lid along the same path and as hard", "[slow]") {
  for (const std::size_t which : {0u, 1u, 2u}) {
    const Chest chest(which);
    const Feel feel = FeelOf(chest.load, chest.motion(), chest.open, chest.front, 400);
    // From a hair before the highest point, so nearly all of the energy.
    const double start = feel.balance_rad - 0.02;
    REQUIRE(start > 0.3);
    Engine engine(chest.motion(), chest.load, start);
    double before = 0.0, farthest = 0.0;
    int looked = 0;
    for (int step = 0; step < 100000 && engine.Theta() > 0.0; ++step) {
      before = engine.Speed_mm_s(chest.front) / 1000.0;
      engine.Step(1e-4, 0.0);
      const double theta = engine.Theta();
      if (step % 100 != 0 || theta < 0.0) continue;
      const Vec2 expected = chest.motion().At(theta).X_CL * chest.front;
      farthest = std::max(farthest, (engine.Place(chest.front) - expected).norm());
      // Its speed there from the fallen height alone.
      const LidState state = chest.motion().At(theta);
      const double energy =
          1000.0 * kGravity_m_s2 *
          (WeightHeight_kg_mm(chest.motion(), chest.motion().At(start), chest.load) -
           WeightHeight_kg_mm(chest.motion(), state, chest.load));
      const double rate = std::sqrt(2.0 * std::max(0.0, energy) /
                                    MovingInertia_kg_mm2(chest.motion(), state, chest.load));
      const double edge =
          VelocityOf(chest.motion(), state, Body::kLid, state.X_CL * chest.front).norm();
      CHECK(engine.Speed_mm_s(chest.front) == Approx(rate * edge).epsilon(0.01).margin(5.0));
      ++looked;
    }
    CHECK(engine.Theta() <= 0.0);
    CHECK(looked > 20);
    CHECK(farthest < 0.5);
    CHECK(before == Approx(feel.slam_m_s).epsilon(0.01));
  }
}

TEST_CASE("a physics engine's lid rests where friction is said to keep it and falls elsewhere",
          "[slow]") {
  for (const std::size_t which : {0u, 1u}) {
    Chest chest(which);
    chest.load.friction = 0.4;
    for (PinSeat& pin : chest.load.pins) pin.diameter_mm = 12.0;
    const Feel feel = FeelOf(chest.load, chest.motion(), chest.open, chest.front);
    REQUIRE(feel.stays.size() == 1);
    const Feel::Stretch stays = feel.stays[0];
    REQUIRE(stays.to_rad - stays.from_rad > 0.05);
    const double beside = 0.01;
    // Inside it settles: the engine knows a joint's force, and so its friction, one step late, and
    // the lid starts with a jerk; then it stands, but for a
    // creep of 0.002 degrees a second.
    for (const double theta :
         {stays.from_rad + beside, (stays.from_rad + stays.to_rad) / 2, stays.to_rad - beside}) {
      const double soon = After(chest, theta, 0.4, 1.0), later = After(chest, theta, 0.4, 3.0);
      CHECK(std::abs(soon - theta) < 0.5 * beside);
      CHECK(std::abs(later - soon) < 0.01 * kRadPerDeg);
    }
    // Outside it goes: shut below, open above.
    CHECK(After(chest, stays.from_rad - beside, 0.4, 5.0) <= 0.0);
    CHECK(After(chest, stays.to_rad + beside, 0.4, 5.0) >= chest.open);
  }
}

TEST_CASE("a physics engine's lid hangs in its stay with the force said, dropped into it too",
          "[slow]") {
  int hung = 0;
  for (const std::size_t which : {0u, 1u, 2u}) {
    Chest chest(which);
    chest.load.lean_n = 0.0;
    std::vector<StopPlace> places;
    for (const double up : {20.0, 40.0}) {
      for (const double back : {60.0, 120.0, 180.0}) {
        StopPlace stay;
        stay.kind = StopKind::kStay;
        stay.on_body = {back, up};
        stay.on_case = {0.8 * back, -30.0};
        if (StayRunOf(stay.on_case, stay.on_body, chest.motion(), chest.open).HoldsOnlyOpen()) {
          places.push_back(stay);
        }
      }
    }
    const std::vector<RankedStop> ranked =
        RankStops(places, chest.load, chest.motion(), chest.open, chest.front);
    if (ranked.empty()) continue;
    const StopPlace& stay = places[ranked[0].place];
    const StayRun run = StayRunOf(stay.on_case, stay.on_body, chest.motion(), chest.open);
    const double said = 2.0 * ranked[0].loads.rest_n;
    // Let go a little before it is taut: it falls into the stay and settles there, braked.
    Engine engine(chest.motion(), chest.load, chest.open - 0.02);
    engine.Rope(stay.on_case, stay.on_body, run.open_mm);
    constexpr double kStep = 5e-4;
    double sum = 0.0;
    int counted = 0;
    for (int step = 0; step < 8000; ++step) {
      engine.Damp(kCaseA, 2000.0);
      engine.Step(kStep, 0.0);
      if (step < 6000) continue;
      sum += engine.RopePull_n(kStep);
      ++counted;
    }
    INFO("linkage " << which << " of " << said << " N");
    CHECK(std::abs(engine.Theta() - chest.open) < 2e-3);
    CHECK(sum / counted == Approx(said).epsilon(0.02).margin(0.05));
    ++hung;
  }
  CHECK(hung >= 2);
}

TEST_CASE("a physics engine brings a damped lid down as softly as was said", "[slow]") {
  for (const std::size_t which : {0u, 1u}) {
    const Chest chest(which);
    const Feel feel = FeelOf(chest.load, chest.motion(), chest.open, chest.front, 400);
    const LiftCurve curve = LiftWith(feel, chest.motion(), chest.front, {});
    const double start = feel.balance_rad - 0.1;
    for (const double rate : {50.0, 500.0}) {
      LoadCase smooth = chest.load;
      smooth.friction = 0.0;
      const LiftCurve bare = LiftWith(FeelOf(smooth, chest.motion(), chest.open, chest.front, 400),
                                      chest.motion(), chest.front, {});
      const Shutting said =
          ShutFrom(start, smooth, chest.motion(), chest.front, bare, {{kCaseA, rate}});
      REQUIRE(said.shuts);
      Engine engine(chest.motion(), smooth, start);
      constexpr double kStep = 1e-4;
      double before = 0.0, t = 0.0;
      while (engine.Theta() > 0.0 && t < 30.0) {
        before = engine.Speed_mm_s(chest.front) / 1000.0;
        engine.Damp(kCaseA, 2.0 * rate);
        engine.Step(kStep, 0.0);
        t += kStep;
      }
      INFO("linkage " << which << " rate " << rate);
      CHECK(before == Approx(said.speed_m_s).epsilon(0.02));
      CHECK(t == Approx(said.time_s).epsilon(0.03));
    }
    // The pins' friction slows it further.
    CHECK(ShutFrom(start, chest.load, chest.motion(), chest.front, curve, {}).speed_m_s <
          feel.slam_m_s);
  }
}
