// SPDX-License-Identifier: Apache-2.0
#include <catch2/catch.hpp>
#include <cmath>

#include "forces/force_cases.h"
#include "lidwright/base/check.h"
#include "swing/loop_oracle.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

const Stance& Find(const Tipping& tipping, Stance::Lid lid, bool full, bool leaning,
                   bool backwards) {
  for (const Stance& s : tipping.cases) {
    if (s.lid == lid && s.full == full && s.leaning == leaning && s.backwards == backwards) {
      return s;
    }
  }
  throw std::runtime_error("no such stance");
}

}  // namespace

TEST_CASE("tipping is the sum of weights times levers done by hand, open and shut") {
  // Case 4 kg at x 110, lid 1.5 kg at (115, 25) shut, arms without mass, feet at x 20 and 200 on a
  // bench at −120, contents 3 kg at x 110, front edge (220, 0). The linkage is a parallelogram of
  // slow arms, so that the lid turns about almost one place; its poses come from the oracle.
  const Pivots pivots{{53.5, -44.5}, {28, -20}, {94.5, -46.5}, {68, 1.5}};
  const LidMotion motion = *LidMotion::Make(pivots);
  LoadCase load;
  load.case_mass = {4.0, Vec2(110, -60), 0.0, 1.0};
  load.lid = {1.5, Vec2(115, 25), 0.0, 1.0};
  load.arm_a = load.arm_b = {0.0, Vec2::Zero(), 0.0, 0.0};
  load.feet_back_x_mm = 20.0;
  load.feet_front_x_mm = 200.0;
  load.contents_kg = 3.0;
  load.contents_at = {110.0, -50.0};
  load.lean_n = 50.0;
  const double open = 95.0 * kRadPerDeg, g = 9.80665;
  const Tipping tipping = TippingOf(load, motion, open, -120.0, {220.0, 0.0}, 181);
  REQUIRE(tipping.cases.size() == 16);
  using Lid = Stance::Lid;

  // Shut, over the back feet: 4 · 90 + 1.5 · 95 = 502.5 kg mm; full 3 · 90 more. Over the front
  // feet: 4 · 90 + 1.5 · 85 = 487.5.
  CHECK(Find(tipping, Lid::kShut, false, false, true).keeps_nmm == Approx(502.5 * g));
  CHECK(Find(tipping, Lid::kShut, true, false, true).keeps_nmm == Approx(772.5 * g));
  CHECK(Find(tipping, Lid::kShut, false, false, false).keeps_nmm == Approx(487.5 * g));

  LoopOracle oracle(pivots);
  REQUIRE(oracle.Follow(open) >= open - 1e-9);
  const double lid_x = oracle.Place(Body::kLid, open)(Vec2(115, 25)).x();
  REQUIRE(lid_x < 20.0);  // it hangs behind the feet
  const double keeps = g * (4.0 * 90.0 + 1.5 * (lid_x - 20.0));
  CHECK(Find(tipping, Lid::kOpen, false, false, true).keeps_nmm == Approx(keeps));
  const Vec2 edge = oracle.Place(Body::kLid, open)(Vec2(220, 0));
  const double lever = std::hypot(edge.x() - 20.0, edge.y() + 120.0);
  CHECK(tipping.pull_n == Approx(keeps / lever));
  CHECK(tipping.pull_full_n == Approx((keeps + 3.0 * 90.0 * g) / lever));
  const Stance& leaning = Find(tipping, Lid::kOpen, false, true, true);
  CHECK(leaning.tips_nmm == Approx(50.0 * lever));
  CHECK(leaning.Stands() == (keeps > 50.0 * lever));
  CHECK(Find(tipping, Lid::kOpen, true, true, true).keeps_nmm == Approx(keeps + 270.0 * g));
  // The worst pull is square to the line from the feet, backwards: it has the whole lever and no
  // other direction more.
  const Vec2 pull(std::cos(tipping.pull_direction_rad), std::sin(tipping.pull_direction_rad));
  const Vec2 from_feet = edge - Vec2(20.0, -120.0);
  CHECK(Cross(from_feet, pull) == Approx(lever));
  CHECK(pull.x() < 0.0);
  // Forwards, the open lid has gone to the back and helps.
  CHECK(Find(tipping, Lid::kOpen, false, false, false).keeps_nmm ==
        Approx(g * (4.0 * 90.0 + 1.5 * (200.0 - lid_x))));

  // Over the swing: by the oracle at the same angles.
  double least = 1e300, at = 0.0;
  for (int i = 0; i <= 180; ++i) {
    const double theta = open * i / 180;
    const double now =
        g * (4.0 * 90.0 + 1.5 * (oracle.Place(Body::kLid, theta)(Vec2(115, 25)).x() - 20.0));
    if (now < least) {
      least = now;
      at = theta;
    }
  }
  CHECK(tipping.least_margin_nmm == Approx(least));
  CHECK(tipping.at_rad == Approx(at));
  CHECK(Find(tipping, Lid::kSwinging, false, false, true).keeps_nmm == Approx(least));
}

TEST_CASE("a box on feet far in tips where one on its faces stands, and a full one stands longer") {
  Chest chest;
  const auto judge = [&] {
    return TippingOf(chest.load, chest.motion(), chest.open, chest.hinge.box.solid.bench_mm,
                     chest.front);
  };
  const Tipping faces = judge();
  CHECK(faces.least_margin_nmm > 0.0);
  CHECK(faces.pull_full_n > faces.pull_n);
  chest.load.feet_back_x_mm = 0.9 * chest.load.case_mass.centre.x();
  const Tipping far_in = judge();
  CHECK(far_in.least_margin_nmm < 0.0);
  CHECK(far_in.pull_n == 0.0);
  CHECK_FALSE(Find(far_in, Stance::Lid::kOpen, false, false, true).Stands());
  CHECK(Find(far_in, Stance::Lid::kShut, true, false, true).Stands());
  chest.load.feet_front_x_mm = chest.load.feet_back_x_mm;
  CHECK_THROWS_AS(judge(), ContractError);
}

TEST_CASE("the job's feet and contents are those that are reckoned with") {
  Job job = ExampleJob("sample_chest");
  // Unsaid, the feet are where the case meets the bench: its faces at the bottom.
  CHECK(std::isnan(job.loads.feet_back_mm));
  CHECK(std::isnan(job.loads.feet_front_mm));
  {
    const Chest unsaid;
    CHECK(unsaid.load.feet_back_x_mm == 0.0);
    CHECK(unsaid.load.feet_front_x_mm == job.case_form.depth_mm);
  }
  job.loads.feet_back_mm = 15.0;
  job.loads.feet_front_mm = 190.0;
  job.loads.contents_kg = 4.5;
  const Solid solid = MakeSolid(job);
  const Chest chest;
  const LoadCase load = UsualLoadCase(job, solid, *chest.hinge.arms.arm_a, *chest.hinge.arms.arm_b);
  CHECK(load.feet_back_x_mm == 15.0);
  CHECK(load.feet_front_x_mm == 190.0);
  CHECK(load.contents_kg == 4.5);
  // Unsaid, the room filled: (220 − 24) · (120 − 12) · (340 − 24) mm³ less the bow's effect on the
  // mouth, at 200 kg/m³.
  CHECK(chest.load.contents_kg == Approx(0.2 * 1.96 * 1.08 * 3.16).epsilon(0.03));
}
