// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "forces/force_cases.h"
#include "lidwright/forces/virtual_work.h"
#include "swing/loop_oracle.h"

using namespace lidwright;
using namespace lidwright::testing;

TEST_CASE("the lid stays where the hand would have to push both ways, and nowhere else") {
  Chest chest;
  chest.load.friction = 0.0;
  const Feel slick = FeelOf(chest.load, chest.motion(), chest.open, chest.front);
  CHECK(slick.stays.empty());
  REQUIRE_FALSE(std::isnan(slick.balance_rad));
  CHECK(ClosingMoment_nmm(chest.motion(), chest.motion().At(slick.balance_rad), chest.load) ==
        Approx(0.0).margin(1e-6));
  CHECK(slick.over_centre_rad == Approx(chest.open - slick.balance_rad));
  CHECK(slick.holding_nmm ==
        Approx(*std::max_element(slick.moment_nmm.begin(), slick.moment_nmm.end())));

  chest.load.friction = 0.4;
  const Feel rough = FeelOf(chest.load, chest.motion(), chest.open, chest.front);
  REQUIRE(rough.stays.size() == 1);
  const Feel::Stretch stays = rough.stays[0];
  CHECK(stays.from_rad < rough.balance_rad);
  CHECK(stays.to_rad > rough.balance_rad);
  // At either end the unsupported lid is just about to move: no hand, friction fully used up. By
  // virtual work with the joints' loads there, found without a hand.
  const auto spare = [&](double theta) {
    const LidState state = chest.motion().At(theta);
    Holder none;  // a moment that comes out as nothing when friction alone does it
    none.moment = true;
    const double sense = theta < rough.balance_rad ? -1.0 : 1.0;
    const Balance b =
        BalanceAt(chest.motion(), state, chest.load, none, {}, FrictionOf(chest.load, sense));
    return b.held;
  };
  const double moment =
      std::abs(ClosingMoment_nmm(chest.motion(), chest.motion().At(stays.from_rad), chest.load));
  CHECK(std::abs(spare(stays.from_rad)) < 1e-3 * moment);
  CHECK(std::abs(spare(stays.to_rad)) < 1e-3 * moment);
  // Falling shut before, opening by itself beyond; the sense of the moment still needed says which.
  CHECK(spare(stays.from_rad - 0.05) > 0.0);
  CHECK(spare(stays.to_rad + 0.05) < 0.0);
  CHECK(rough.holding_nmm < slick.holding_nmm);
  // More friction, longer stretch; the hand that raises grows, the one that lowers shrinks.
  chest.load.friction = 0.8;
  const Feel rougher = FeelOf(chest.load, chest.motion(), chest.open, chest.front);
  REQUIRE(rougher.stays.size() == 1);
  CHECK(rougher.stays[0].from_rad < stays.from_rad);
  CHECK(rougher.stays[0].to_rad > stays.to_rad);
  CHECK(rougher.largest_lift_n > rough.largest_lift_n);
}

TEST_CASE("samples of a feel belong together and shrink to the same numbers") {
  const Chest chest(2);
  const Feel coarse = FeelOf(chest.load, chest.motion(), chest.open, chest.front, 25);
  const Feel fine = FeelOf(chest.load, chest.motion(), chest.open, chest.front, 97);
  for (std::size_t i = 0; i < coarse.theta_rad.size(); ++i) {
    CHECK(coarse.theta_rad[i] == Approx(fine.theta_rad[4 * i]));
    CHECK(coarse.hand_n[i] == Approx(fine.hand_n[4 * i]));
    CHECK(fine.lower_n[i] <= fine.hand_n[i] + 1e-12);
    CHECK(fine.hand_n[i] <= fine.raise_n[i] + 1e-12);
  }
  CHECK(coarse.balance_rad == Approx(fine.balance_rad));
  CHECK(coarse.slam_j == Approx(fine.slam_j).epsilon(0.01));
  for (const auto* list : {&fine.moment_nmm, &fine.friction_nmm, &fine.raise_n, &fine.lower_n,
                           &fine.short_nmm, &fine.arm_a_n, &fine.arm_b_n}) {
    CHECK(list->size() == 97);
  }
  CHECK(fine.pin_n.size() == 97);
}

TEST_CASE("a box tilted until the open lid comes back is tilted by the over-centre margin") {
  for (const std::size_t which : {0u, 1u, 2u}) {
    const Chest chest(which);
    const Feel feel = FeelOf(chest.load, chest.motion(), chest.open, chest.front);
    REQUIRE(feel.over_centre_nmm > 0.0);
    REQUIRE(feel.over_centre_tilt_rad > 0.0);
    // Turn pivots, lid and arms forward (clockwise) about the origin and ask for the moment again.
    const Pose tilt = Pose::Make(-feel.over_centre_tilt_rad, Vec2::Zero());
    const Pivots& p = chest.motion().pivots();
    const LidMotion tilted =
        *LidMotion::Make({tilt * p.case_a, tilt * p.case_b, tilt * p.lid_a, tilt * p.lid_b});
    LoadCase load = chest.load;
    for (MassProperties* mass : {&load.lid, &load.arm_a, &load.arm_b}) {
      mass->centre = tilt * mass->centre;
    }
    CHECK(ClosingMoment_nmm(tilted, tilted.At(chest.open), load) ==
          Approx(0.0).margin(1e-6 * feel.over_centre_nmm));
  }
}

TEST_CASE("a lid let go arrives with the speed that step-by-step motion gives", "[slow]") {
  // J(θ) θ'' + ½ J'(θ) θ'² = −Q(θ), by Runge–Kutta, positions from the oracle's poses alone.
  const Chest chest;
  const Feel feel = FeelOf(chest.load, chest.motion(), chest.open, chest.front, 400);
  LoopOracle back(chest.motion().pivots()), forward(chest.motion().pivots());
  back.Follow(-0.02);
  REQUIRE(forward.Follow(chest.open) >= chest.open - 1e-9);
  const auto at = [&](Body body, double theta, const Vec2& p) {
    return (theta < 0.0 ? back : forward).Place(body, theta)(p);
  };
  const std::array<std::pair<const MassProperties*, Body>, 3> bodies{
      {{&chest.load.lid, Body::kLid},
       {&chest.load.arm_a, Body::kArmA},
       {&chest.load.arm_b, Body::kArmB}}};
  const double h = 1e-4;
  const auto moving = [&](double theta) {
    double sum = 0.0;
    for (const auto& [mass, body] : bodies) {
      const Vec2 v =
          (at(body, theta + h, mass->centre) - at(body, theta - h, mass->centre)) / (2 * h);
      const Vec2 w = (at(body, theta + h, mass->centre + Vec2(1, 0)) -
                      at(body, theta - h, mass->centre + Vec2(1, 0))) /
                     (2 * h);
      sum += mass->mass_kg * v.squaredNorm() + mass->inertia_kg_mm2 * (w - v).squaredNorm();
    }
    return sum;
  };
  const auto rise = [&](double theta) {
    double sum = 0.0;
    for (const auto& [mass, body] : bodies) {
      sum += mass->mass_kg *
             (at(body, theta + h, mass->centre).y() - at(body, theta - h, mass->centre).y()) /
             (2 * h);
    }
    return sum;
  };
  const auto acceleration = [&](double theta, double rate) {  // 1/s²; g in mm/s²
    const double slope = (moving(theta + h) - moving(theta - h)) / (2 * h);
    return (-1000.0 * kGravity_m_s2 * rise(theta) - 0.5 * slope * rate * rate) / moving(theta);
  };
  double theta = feel.balance_rad - 0.005, rate = 0.0;
  const double dt = 5e-4;
  for (int step = 0; theta > h && step < 20000; ++step) {
    const auto f = [&](double t, double r) { return acceleration(std::max(t, 0.0), r); };
    const double k1 = f(theta, rate), k2 = f(theta + dt / 2 * rate, rate + dt / 2 * k1),
                 k3 = f(theta + dt / 2 * rate + dt * dt / 4 * k1, rate + dt / 2 * k2),
                 k4 = f(theta + dt * rate + dt * dt / 2 * k2, rate + dt * k3);
    theta += dt * rate + dt * dt / 6 * (k1 + k2 + k3);
    rate += dt / 6 * (k1 + 2 * k2 + 2 * k3 + k4);
  }
  REQUIRE(theta <= h);
  const double edge =
      ((at(Body::kLid, h, chest.front) - at(Body::kLid, -h, chest.front)) / (2 * h)).norm();
  CHECK(std::abs(rate) * edge / 1000.0 == Approx(feel.slam_m_s).epsilon(0.005));
}

TEST_CASE("leaning on the open lid loads the pins as the worst of many balances says") {
  Chest chest;
  SECTION("held by a moment") {}
  SECTION("on a stop that arm A meets") {
    const LidState state = chest.motion().At(chest.open);
    const Vec2 ground = chest.motion().pivots().case_a;
    StopContact stop;
    stop.body = Body::kArmA;
    stop.at = ground + 0.6 * (state.lid_a - ground);
    // The arm comes on in the sense of its rate.
    stop.normal = (state.rate_a > 0 ? 1.0 : -1.0) * Perp(Vec2(stop.at - ground)).normalized();
    chest.load.stop = stop;
  }
  const Feel feel = FeelOf(chest.load, chest.motion(), chest.open, chest.front);
  const LidState state = chest.motion().At(chest.open);
  Holder holder;
  holder.moment = true;
  if (chest.load.stop)
    holder = {false, chest.load.stop->body, chest.load.stop->at, -chest.load.stop->normal};
  const Balance still = BalanceAt(chest.motion(), state, chest.load, holder);
  if (chest.load.stop) {
    REQUIRE(feel.over_centre_nmm > 0.0);
    CHECK(feel.stop_n == Approx(still.held / 2.0));
    // By virtual work: the stop takes the moment that opens.
    const double approach = WorkOf_nmm(chest.motion(), state, Body::kArmA, chest.load.stop->normal,
                                       chest.load.stop->at);
    CHECK(2.0 * feel.stop_n * approach == Approx(feel.over_centre_nmm));
  }
  double worst = 0.0, worst_stop = 0.0;
  Draw draw(9);
  for (int i = 0; i < 3000; ++i) {
    const double angle = draw(0.0, 2.0 * kPi);
    const Vec2 force = chest.load.lean_n * Vec2(std::cos(angle), std::sin(angle));
    const Balance b =
        BalanceAt(chest.motion(), state, chest.load, holder, {{force, state.X_CL * chest.front}});
    const double s = chest.load.lean_share;
    const double stop = still.held / 2.0 + s * (b.held - still.held);
    worst_stop = std::max(worst_stop, stop);
    if (chest.load.stop && stop < 0.0) continue;
    for (std::size_t j = 0; j < kJoints; ++j) {
      worst = std::max(worst, (still.joint[j] / 2.0 + s * (b.joint[j] - still.joint[j])).norm());
    }
  }
  CHECK(feel.leaning_pin_n == Approx(worst).epsilon(1e-3));
  if (chest.load.stop) CHECK(feel.leaning_stop_n == Approx(worst_stop).epsilon(1e-3));
  CHECK(feel.leaning_pin_n > 5.0 * feel.largest_pin_n);  // it is the case that matters
}

TEST_CASE("what is bought by the numbers holds the lid from where a hand leaves it") {
  for (const std::size_t which : {0u, 1u, 2u}) {
    CAPTURE(which);
    Chest chest(which);
    chest.load.lid.mass_kg = 0.05;  // such that a washer as sold does
    const Feel feel = FeelOf(chest.load, chest.motion(), chest.open, chest.front);
    constexpr std::array<double, kJoints> kPins{4.0, 4.0, 4.0, 4.0};
    const Holdings holdings = HoldingsOf(feel, chest.motion(), kPins);
    REQUIRE(holdings.needed);
    CHECK(holdings.stay_nmm == feel.holding_nmm);
    double most = 0.0;
    for (std::size_t i = 0; i < feel.theta_rad.size(); ++i) {
      if (feel.theta_rad[i] * 180.0 / kPi >= 15.0) most = std::max(most, feel.short_nmm[i]);
    }
    REQUIRE(most > 0.0);
    CHECK(holdings.support_nmm == most);
    CHECK(holdings.ToBuy());
    REQUIRE_FALSE(holdings.washers.empty());
    const FrictionWasher& best = holdings.washers.front();
    for (const FrictionWasher& w : holdings.washers) CHECK(w.torque_nmm >= best.torque_nmm);
    // Two ends times torque times the joint's turn per lid angle, by differences of the poses of
    // another code, is never less than what is missing, and just enough at one angle.
    LoopOracle oracle(chest.motion().pivots());
    REQUIRE(oracle.Follow(chest.open + 0.01) > chest.open);
    double tightest = 1e300;
    // Forward differences of second order where the oracle's table begins.
    const auto slope = [](const auto& turn, double t) {
      const double h = 1e-5;
      return t < h ? (4.0 * turn(t + h) - 3.0 * turn(t) - turn(t + 2 * h)) / (2 * h)
                   : (turn(t + h) - turn(t - h)) / (2 * h);
    };
    for (std::size_t i = 0; i < feel.theta_rad.size(); ++i) {
      const double t = feel.theta_rad[i];
      if (t * 180.0 / kPi < 15.0) continue;
      const double a = slope([&](double at) { return oracle.At(at).a; }, t);
      const double b = slope([&](double at) { return oracle.At(at).b; }, t);
      const double rate = best.joint == kCaseA   ? a
                          : best.joint == kCaseB ? b
                          : best.joint == kLidA  ? 1.0 - a
                                                 : 1.0 - b;
      const double holds = 2.0 * best.torque_nmm * std::abs(rate);
      CHECK(holds >= feel.short_nmm[i] * (1.0 - 1e-6));
      if (feel.short_nmm[i] > 0.0) tightest = std::min(tightest, holds / feel.short_nmm[i]);
    }
    CHECK(tightest == Approx(1.0).epsilon(1e-5));
    // The squeeze: even pressure over the ring, two faces, summed up in thin rings.
    const double outside = best.stock.outside_mm / 2.0, inside = best.stock.inside_mm / 2.0;
    const double p = best.clamp_n / (kPi * (outside * outside - inside * inside));
    const double ring = (outside - inside) / 4000;
    double torque = 0.0;
    for (int i = 0; i < 4000; ++i) {
      const double r = inside + (i + 0.5) * ring;
      torque += 2.0 * best.stock.friction * p * 2.0 * kPi * r * r * ring;
    }
    CHECK(torque == Approx(best.torque_nmm).epsilon(1e-5));
    // Springs: with one at each end the moment left over is within what is said, and a small
    // change of its torques makes the sum of squares larger.
    REQUIRE(holdings.springs.size() == 2);
    for (const TorsionSpring& spring : holdings.springs) {
      const auto squares = [&](double shut, double open, double* worst) {
        double sum = 0.0;
        for (std::size_t i = 0; i < feel.theta_rad.size(); ++i) {
          const double t = feel.theta_rad[i];
          const bool b = spring.joint == kCaseB;
          const auto turn = [&](double at) { return b ? oracle.At(at).b : oracle.At(at).a; };
          const double rate = slope(turn, t);
          const double sense = spring.turn_rad < 0.0 ? -1.0 : 1.0;
          const double torque_now = sense * (shut + (open - shut) * turn(t) / spring.turn_rad);
          const double left = feel.moment_nmm[i] - 2.0 * torque_now * rate;
          sum += left * left;
          if (worst && t * 180.0 / kPi >= 15.0) {
            *worst = std::max(*worst, std::abs(left) - feel.friction_nmm[i]);
          }
        }
        return sum;
      };
      double worst = 0.0;
      const double least = squares(spring.shut_nmm, spring.open_nmm, &worst);
      CHECK(worst == Approx(spring.left_nmm).epsilon(1e-5));
      for (const double by : {-5.0, 5.0}) {
        CHECK(squares(spring.shut_nmm + by, spring.open_nmm, nullptr) > least);
        CHECK(squares(spring.shut_nmm, spring.open_nmm + by, nullptr) > least);
      }
      CHECK(spring.left_nmm < feel.holding_nmm);
    }
  }
}

TEST_CASE("a friction washer goes over the pin that is used, and its own spring squeezes enough") {
  Chest chest;
  chest.load.lid.mass_kg = 0.05;
  const auto washers = [&](double pin_mm) {
    const Feel feel = FeelOf(chest.load, chest.motion(), chest.open, chest.front);
    return HoldingsOf(feel, chest.motion(), {pin_mm, pin_mm, pin_mm, pin_mm}).washers;
  };
  // Holes of 4.2, 5.2 and 6.2 mm are sold.
  for (const auto& [pin_mm, hole_mm] :
       {std::pair<double, double>{4.0, 4.2}, {5.0, 5.2}, {6.0, 6.2}, {4.76, 5.2}}) {
    CAPTURE(pin_mm);
    REQUIRE_FALSE(washers(pin_mm).empty());
    for (const FrictionWasher& w : washers(pin_mm)) {
      CHECK(w.stock.inside_mm == hole_mm);
      CHECK(1.5 * w.clamp_n <= w.stock.clamp_n);
    }
  }
  CHECK(washers(2.0).empty());  // the smallest lies beside it
  CHECK(washers(8.0).empty());  // and none goes over this
  chest.load.lid.mass_kg = 8.0;
  CHECK(washers(6.0).empty());
}

TEST_CASE("a heavier lid is in proportion harder to lift and to hold") {
  Chest chest;
  chest.load.arm_a.mass_kg = chest.load.arm_b.mass_kg = 0.0;
  const Feel light = FeelOf(chest.load, chest.motion(), chest.open, chest.front);
  chest.load.lid.mass_kg *= 3.0;
  chest.load.lid.inertia_kg_mm2 *= 3.0;
  const Feel heavy = FeelOf(chest.load, chest.motion(), chest.open, chest.front);
  CHECK(heavy.largest_lift_n == Approx(3.0 * light.largest_lift_n));
  CHECK(heavy.largest_pin_n == Approx(3.0 * light.largest_pin_n));
  CHECK(heavy.slam_j == Approx(3.0 * light.slam_j));
  CHECK(heavy.slam_m_s == Approx(light.slam_m_s));
  CHECK(heavy.balance_rad == Approx(light.balance_rad));
  CHECK(heavy.stays[0].to_rad == Approx(light.stays[0].to_rad).margin(1e-5));
}
