// SPDX-License-Identifier: Apache-2.0
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "design/examples.h"
#include "lidwright/base/units.h"
#include "lidwright/forces/lid_mass.h"
#include "lidwright/forces/statics.h"
#include "lidwright/forces/strength.h"
#include "lidwright/forces/tipping.h"
#include "lidwright/job/woods.h"
#include "swing/loop_oracle.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

class Draw {
 public:
  explicit Draw(unsigned seed) : random_(seed) {}
  double operator()(double low, double high) {
    return low + (high - low) * static_cast<double>(random_() >> 11) * 0x1.0p-53;
  }

 private:
  std::mt19937_64 random_;
};

// Any linkage that moves over a radian, and a lid to hang on it.
struct Case {
  LidMotion motion;
  MassProperties lid;
  Vec2 front;
};
std::vector<Case> RandomCases(int count) {
  Draw draw(23);
  std::vector<Case> cases;
  while (static_cast<int>(cases.size()) < count) {
    const auto at = [&] { return Vec2(draw(-50, 250), draw(-120, 60)); };
    const auto motion = LidMotion::Make({at(), at(), at(), at()});
    if (!motion || motion->Range().high_rad < 1.0) continue;
    cases.push_back({*motion, {draw(0.2, 5.0), at(), draw(500, 20000)}, at()});
  }
  return cases;
}

}  // namespace

TEST_CASE("force balance and virtual work give one lift force, at random linkages") {
  int compared = 0;
  for (const Case& c : RandomCases(400)) {
    for (const double theta : {0.0, 0.3, 0.6, 0.9}) {
      const LidState state = c.motion.At(theta);
      if (c.motion.ArmsAngle_rad(state) < 0.02) continue;
      const Holding held = HoldingAt(c.motion, c.lid, c.front, theta);
      // The hand pushes along the front edge's path, so its work per radian is its force times the
      // edge's distance from the instant centre; it lifts exactly the weight's.
      const double arm = (state.X_CL * c.front - c.motion.InstantCentre(state)).norm();
      const double moment = ClosingMoment_nmm(c.motion, c.lid, theta);
      CHECK(held.hand_n * arm == Approx(moment).epsilon(1e-9).margin(1e-9));
      // And what is left over is nothing: forces on the lid sum up to zero.
      const Vec2 ua = (c.motion.pivots().ground_a - state.lid_a).normalized();
      const Vec2 ub = (c.motion.pivots().ground_b - state.lid_b).normalized();
      const Vec2 push =
          Perp(Vec2(state.X_CL * c.front - c.motion.InstantCentre(state))).normalized();
      const Vec2 sum = held.arm_a_n * ua + held.arm_b_n * ub + held.hand_n * push -
                       Vec2(0.0, c.lid.mass_kg * kGravity_m_s2);
      CHECK(sum.norm() < 1e-8 * (1.0 + std::abs(held.arm_a_n) + std::abs(held.arm_b_n)));
      ++compared;
    }
  }
  CHECK(compared > 1000);
}

TEST_CASE("the closing moment is the slope of the lid's potential energy, by another pose code") {
  for (const Case& c : RandomCases(60)) {
    LoopOracle oracle(c.motion.pivots());
    if (oracle.Follow(1.0) < 1.0) continue;
    const double h = 1e-5;
    const auto height = [&](double theta) {
      return oracle.Place(Body::kLid, theta)(c.lid.centre).y();
    };
    const double slope = (height(0.5 + h) - height(0.5 - h)) / (2.0 * h);
    CHECK(ClosingMoment_nmm(c.motion, c.lid, 0.5) ==
          Approx(c.lid.mass_kg * kGravity_m_s2 * slope).epsilon(1e-6).margin(1e-5));
  }
}

TEST_CASE("mass, centre and inertia of boards and barrel tops are those of the formulas") {
  Job job = ExampleJob("barrel_chest");
  job.box.back_bow_mm = job.box.front_bow_mm = job.box.rim_arch_mm = 0.0;
  job.loads.density_kg_m3 = 600.0;
  Solid solid = MakeSolid(job);
  SECTION("a board") {  // a solid lid of a rectangle over the whole width
    const Ring board{{0, 0}, {200, 0}, {200, 20}, {0, 20}};
    for (Station& s : solid.stations) s.lid_rings = {board};
    const MassProperties lid = MassOfLid(job, solid);
    const double mass = 200.0 * 20.0 * job.box.width_mm * 600.0 / 1e9;
    CHECK(lid.mass_kg == Approx(mass));
    CHECK(lid.centre.x() == Approx(100.0));
    CHECK(lid.centre.y() == Approx(10.0));
    CHECK(lid.inertia_kg_mm2 == Approx(mass * (200.0 * 200.0 + 20.0 * 20.0) / 12.0));
  }
  SECTION("a wedge along the width: its area grows linearly, its mass is half the block's") {
    for (Station& s : solid.stations) {
      const double share = s.z_mm / (job.box.width_mm / 2.0);
      s.lid_rings = {{{0, 0}, {100, 0}, {100, 1e-9 + 40 * share}, {0, 1e-9 + 40 * share}}};
    }
    CHECK(MassOfLid(job, solid).mass_kg ==
          Approx(100.0 * 40.0 * job.box.width_mm / 2.0 * 600.0 / 1e9));
    // Centre of y: ∫ h²/2 over ∫ h with h linear from 0 to 40: 40/3.
    CHECK(MassOfLid(job, solid).centre.y() == Approx(40.0 / 3.0));
  }
  SECTION("a weighed lid weighs what it weighs") {
    job.loads.lid_mass_kg = 2.5;
    CHECK(MassOfLid(job, solid).mass_kg == 2.5);
  }
}

TEST_CASE("the density of a wood is its oven-dry mass and 12 % of water") {
  // Wood Handbook (READ as digitised): black cherry 0.50, hard maple 0.63.
  CHECK(Density_kg_m3(*FindWood("black cherry")) == Approx(560.0));
  CHECK(Density_kg_m3(*FindWood("hard maple")) == Approx(705.6));
  CHECK(FindWood("balsa") == nullptr);
}

TEST_CASE("a lid let go arrives with the speed that step-by-step motion gives", "[slow]") {
  // M(θ) θ'' + ½ M'(θ) θ'² = −Q(θ), by Runge–Kutta, positions from the oracle's poses alone.
  const Job job = ExampleJob("sample_chest");
  const Solid solid = MakeSolid(job);
  const Pivots pivots{{53.5, -44.5}, {28, -20}, {94.5, -46.5}, {68, 1.5}};
  const LidMotion motion = *LidMotion::Make(pivots);
  const Vec2 front(220.0, 0.0);
  const Feel feel = FeelOf(job, solid, motion, front, 400);
  LoopOracle oracle(pivots);
  oracle.Follow(-0.02);
  LoopOracle forward(pivots);
  REQUIRE(forward.Follow(job.swing.open_rad) >= job.swing.open_rad - 1e-9);
  const auto at = [&](double theta, const Vec2& p) {
    return (theta < 0.0 ? oracle : forward).Place(Body::kLid, theta)(p);
  };
  const double h = 1e-4, mass = feel.lid.mass_kg, inertia = feel.lid.inertia_kg_mm2;
  const auto moving = [&](double theta) {
    const Vec2 v = (at(theta + h, feel.lid.centre) - at(theta - h, feel.lid.centre)) / (2 * h);
    return mass * v.squaredNorm() + inertia;
  };
  const auto acceleration = [&](double theta, double rate) {  // 1/s²; g in mm/s²
    const double rise =
        (at(theta + h, feel.lid.centre).y() - at(theta - h, feel.lid.centre).y()) / (2 * h);
    const double slope = (moving(theta + h) - moving(theta - h)) / (2 * h);
    return (-mass * 1000.0 * kGravity_m_s2 * rise - 0.5 * slope * rate * rate) / moving(theta);
  };
  // From a hair past the highest point, from rest.
  double top = 0.0, highest = -1e300;
  for (double theta = 0.0; theta < job.swing.open_rad - 2 * h; theta += 1e-3) {
    const double y = at(theta, feel.lid.centre).y();
    if (y > highest) {
      highest = y;
      top = theta;
    }
  }
  double theta = top - 0.01, rate = 0.0, dt = 2e-4;
  for (int step = 0; theta > h && step < 200000; ++step) {
    const auto f = [&](double t, double r) { return acceleration(std::max(t, 0.0), r); };
    const double k1 = f(theta, rate), k2 = f(theta + dt / 2 * rate, rate + dt / 2 * k1),
                 k3 = f(theta + dt / 2 * rate + dt * dt / 4 * k1, rate + dt / 2 * k2),
                 k4 = f(theta + dt * rate + dt * dt / 2 * k2, rate + dt * k3);
    theta += dt * rate + dt * dt / 6 * (k1 + k2 + k3);
    rate += dt / 6 * (k1 + 2 * k2 + 2 * k3 + k4);
  }
  const double edge = ((at(h, front) - at(-h, front)) / (2 * h)).norm();
  CHECK(std::abs(rate) * edge / 1000.0 == Approx(feel.slam_m_s).epsilon(0.02));
}

TEST_CASE("friction keeps a lid where its moment is small, and only there") {
  Job job = ExampleJob("sample_chest");
  const Solid solid = MakeSolid(job);
  const LidMotion motion = *LidMotion::Make({{53.5, -44.5}, {28, -20}, {94.5, -46.5}, {68, 1.5}});
  job.loads.friction = 0.0;
  const Feel slick = FeelOf(job, solid, motion, {220, 0});
  CHECK(slick.stays.empty());
  REQUIRE_FALSE(std::isnan(slick.balance_rad));
  CHECK(ClosingMoment_nmm(motion, slick.lid, slick.balance_rad) == Approx(0.0).margin(1e-6));
  CHECK(slick.over_centre_rad == Approx(job.swing.open_rad - slick.balance_rad));
  job.loads.friction = 0.4;
  const Feel rough = FeelOf(job, solid, motion, {220, 0});
  REQUIRE_FALSE(rough.stays.empty());
  const auto& last = rough.stays.back();
  CHECK(last.from_rad <= rough.balance_rad);
  CHECK(last.to_rad >= rough.balance_rad - 0.02);
  CHECK(rough.holding_nmm < slick.holding_nmm);
}

TEST_CASE("stress in a curved bar agrees with integrating the strains over the section") {
  for (const auto& [radius, depth] : {std::pair(8.0, 8.0), {20.0, 8.0}, {60.0, 10.0}}) {
    const double inner = radius - depth / 2, outer = radius + depth / 2, thickness = 3.0;
    // Plane sections stay plane: stress C (r − n) / r. n makes the sum zero, C the moment.
    constexpr int kSteps = 200000;
    const double dr = (outer - inner) / kSteps;
    double low = inner, high = outer;
    const auto integrate = [&](auto f) {
      double sum = 0.0;
      for (int i = 0; i < kSteps; ++i) sum += f(inner + (i + 0.5) * dr) * dr;
      return sum;
    };
    for (int i = 0; i < 60; ++i) {
      const double n = (low + high) / 2;
      (integrate([&](double r) { return (r - n) / r; }) > 0.0 ? low : high) = n;
    }
    const double n = (low + high) / 2;
    const double per_c = integrate([&](double r) { return (r - n) * (r - n) / r; }) * thickness;
    const double expected = 1000.0 / per_c * (n - inner) / inner;
    CHECK(CurvedBarStress_mpa(1000.0, depth, thickness, radius) == Approx(expected).epsilon(1e-4));
  }
  // A straight one: M c / I.
  CHECK(CurvedBarStress_mpa(1000.0, 8.0, 3.0, std::numeric_limits<double>::infinity()) ==
        Approx(1000.0 * 4.0 / (3.0 * 512.0 / 12.0)));
  // And a gentle curve is nearly straight.
  CHECK(CurvedBarStress_mpa(1000.0, 8.0, 3.0, 390.0) ==
        Approx(CurvedBarStress_mpa(1000.0, 8.0, 3.0, 410.0)).epsilon(0.01));
}

TEST_CASE("a pin's stresses are those of the handbook's cantilever") {
  // σ = 32 F a / (π d³), τ = 4 F / (π d²): F = 20 N at 6 mm, d = 3 mm.
  const PinStress pin = PinStressOf(20.0, 6.0, 3.0);
  CHECK(pin.bending_mpa == Approx(32.0 * 20.0 * 6.0 / (kPi * 27.0)));
  CHECK(pin.shear_mpa == Approx(4.0 * 20.0 / (kPi * 9.0)));
}

TEST_CASE("tipping agrees with a sum done by hand") {
  Job job = ExampleJob("sample_chest");
  job.loads.lid_mass_kg = 1.5;
  const Solid solid = MakeSolid(job);
  const LidMotion motion = *LidMotion::Make({{53.5, -44.5}, {28, -20}, {94.5, -46.5}, {68, 1.5}});
  const MassProperties lid = MassOfLid(job, solid), box = MassOfCase(job, solid);
  const Tipping tipping = TippingOf(job, solid, motion, lid, {220, 0});
  LoopOracle oracle(motion.pivots());
  oracle.Follow(job.swing.open_rad);
  const auto open = oracle.Place(Body::kLid, job.swing.open_rad);
  const double keeps = 9.80665 * (box.mass_kg * box.centre.x() + 1.5 * open(lid.centre).x());
  const Vec2 edge = open(Vec2(220.0, 0.0));
  CHECK(tipping.pull_n == Approx(keeps / std::hypot(edge.x(), edge.y() + job.box.height_mm)));
  CHECK(tipping.least_margin_nmm <= keeps + 1e-9);
}
