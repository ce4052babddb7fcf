// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/stop_loads.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "forces/force_cases.h"
#include "lidwright/base/check.h"
#include "lidwright/forces/virtual_work.h"
#include "lidwright/synthesis/lid_merit.h"
#include "synthesis/lid_models.h"

using namespace lidwright;
using namespace lidwright::testing;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

constexpr double kOpen = 0.9;

// Any stop of each kind on a random linkage.
StopPlace AnyStop(Draw& draw, int i) {
  StopPlace place;
  place.kind = i % 2 == 0 ? StopKind::kStay : StopKind::kPad;
  place.body = i % 3 == 2 ? Body::kArmA : Body::kLid;
  if (place.kind == StopKind::kPad && i % 3 == 2) place.kind = StopKind::kPost;
  place.on_body = Vec2(draw(-50, 250), draw(-120, 60));
  place.on_case = Vec2(draw(-50, 250), draw(-120, 60));
  return place;
}

}  // namespace

TEST_CASE("a stop's force is the lid's work over its way, whatever kind it is") {
  Draw draw(77);
  int checked = 0;
  for (ForceCase& c : RandomForceCases(40, 8)) {
    c.load.lean_n = 50.0;
    c.load.lean_share = draw(0.5, 1.0);
    const StopPlace place = AnyStop(draw, checked);
    const StopLoads loads = StopLoadsOf(place, c.load, c.motion, kOpen, c.front);
    if (std::abs(loads.approach_mm) < 5.0) continue;
    // Virtual work alone, no joint's force: the stop resists at `approach` per radian.
    const LidState state = c.motion.At(kOpen);
    const double moment = ClosingMoment_nmm(c.motion, state, c.load);
    CHECK_THAT(2.0 * loads.rest_n * loads.approach_mm, WithinRel(-moment, 1e-8));
    const double edge = VelocityOf(c.motion, state, Body::kLid, state.X_CL * c.front).norm();
    // The hand's best direction is along the edge's path; half-degree steps miss it by 1e-5.
    const double most =
        loads.rest_n + 50.0 * c.load.lean_share * edge / std::abs(loads.approach_mm);
    if (most > 0.0) CHECK_THAT(loads.worst_n, WithinRel(most, 1e-4));
    ++checked;
  }
  CHECK(checked > 30);
}

TEST_CASE("a stay is a post on the other side of its end, pin by pin") {
  Draw draw(5);
  for (ForceCase& c : RandomForceCases(15, 12)) {
    c.load.lean_n = 30.0;
    StopPlace stay;
    stay.kind = StopKind::kStay;
    stay.on_body = Vec2(draw(0, 200), draw(-20, 60));
    stay.on_case = Vec2(draw(0, 200), draw(-120, -20));
    const Vec2 at = c.motion.At(kOpen).X_CL * stay.on_body;
    StopPlace post = stay;
    post.kind = StopKind::kPad;
    post.on_case = 2.0 * at - stay.on_case;
    const StopLoads a = StopLoadsOf(stay, c.load, c.motion, kOpen, c.front);
    const StopLoads b = StopLoadsOf(post, c.load, c.motion, kOpen, c.front);
    CHECK_THAT(a.rest_n, WithinAbs(b.rest_n, 1e-9 * (1.0 + std::abs(b.rest_n))));
    for (std::size_t j = 0; j < kJoints; ++j) {
      CHECK_THAT(a.worst_pin_n[j], WithinRel(b.worst_pin_n[j], 1e-9));
      CHECK(a.worst_pin_n[j] >= a.rest_pin_n[j] * (1.0 - 1e-12));
    }
  }
  const ForceCase c = RandomForceCases(1, 3)[0];
  StopPlace nowhere;
  nowhere.on_case = c.motion.At(kOpen).X_CL * nowhere.on_body;
  CHECK_THROWS_AS(StopLoadsOf(nowhere, c.load, c.motion, kOpen, c.front), ContractError);
}

TEST_CASE("the stop that spares the pins most comes first, and bad ones not at all") {
  Draw draw(99);
  int ranked_cases = 0;
  for (ForceCase& c : RandomForceCases(12, 21)) {
    c.load.lean_n = 50.0;
    std::vector<StopPlace> places;
    for (int i = 0; i < 40; ++i) places.push_back(AnyStop(draw, i));
    const std::vector<RankedStop> ranked = RankStops(places, c.load, c.motion, kOpen, c.front);
    for (std::size_t i = 0; i < ranked.size(); ++i) {
      CHECK(ranked[i].loads.rest_n >= 0.0);
      CHECK(ranked[i].loads.approach_mm > 0.0);
      if (i > 0) CHECK(ranked[i].loads.WorstPin_n() >= ranked[i - 1].loads.WorstPin_n());
    }
    // Those left out are those that the lid does not rest on.
    std::size_t good = 0;
    for (const StopPlace& place : places) {
      const StopLoads loads = StopLoadsOf(place, c.load, c.motion, kOpen, c.front, 8);
      if (loads.rest_n >= 0.0 && loads.approach_mm > 0.0) ++good;
    }
    CHECK(good == ranked.size());
    if (good > 3) ++ranked_cases;
  }
  CHECK(ranked_cases > 2);
}

TEST_CASE("a stay's length over the swing is what measuring at ten thousand angles gives") {
  Draw draw(3);
  int only_open = 0, too_soon = 0;
  for (const ForceCase& c : RandomForceCases(40, 15)) {
    const Vec2 on_case(draw(0, 200), draw(-100, 0)), on_lid(draw(0, 200), draw(0, 60));
    const StayRun run = StayRunOf(on_case, on_lid, c.motion, kOpen);
    double least = 1e300, most = 0.0, before = 0.0, last = 0.0;
    constexpr int kMany = 10000;
    for (int i = 0; i <= kMany; ++i) {
      before = last;
      last = (c.motion.At(kOpen * i / kMany).X_CL * on_lid - on_case).norm();
      least = std::min(least, last);
      most = std::max(most, last);
    }
    CHECK_THAT(run.most_mm, WithinRel(most, 1e-6));
    CHECK(run.least_mm >= least - 1e-4);
    CHECK_THAT(run.least_mm, WithinAbs(least, 0.5));
    CHECK_THAT(run.open_mm, WithinRel(last, 1e-9));
    CHECK_THAT(run.rate_mm, WithinAbs((last - before) * kMany / kOpen, 0.1));
    const bool slack_before = most <= last * (1.0 + 1e-12) && last > before;
    CHECK(run.HoldsOnlyOpen() == slack_before);
    ++(slack_before ? only_open : too_soon);
  }
  CHECK(only_open > 5);
  CHECK(too_soon > 5);
}

TEST_CASE("a folding stay's joint is a bar's length from either end") {
  const Vec2 on_case(10, -20), on_lid(60, 70);
  for (const int side : {-1, 1}) {
    const auto knee = StayKnee(on_case, on_lid, 70.0, 55.0, side);
    REQUIRE(knee);
    CHECK_THAT((*knee - on_case).norm(), WithinAbs(70.0, 1e-9));
    CHECK_THAT((*knee - on_lid).norm(), WithinAbs(55.0, 1e-9));
    CHECK(side * Cross(Vec2(on_lid - on_case), Vec2(*knee - on_case)) > 0.0);
  }
  CHECK_FALSE(StayKnee(on_case, on_lid, 50.0, 40.0, 1));
}

TEST_CASE(
    "what a search foretells of the worse pin is what statics say, up to the hand's direction") {
  const testing::LidModel model(testing::ExampleJob("sample_chest"));
  LoadCase hand;  // nothing weighs anything
  hand.lid.mass_kg = hand.arm_a.mass_kg = hand.arm_b.mass_kg = 0.0;
  hand.lean_n = 1.0;
  const double open = model.task.open_rad;
  for (const Pivots& p : testing::MovingPivots(model.task, 60, 4)) {
    const LidMotion motion = *LidMotion::Make(p);
    double least = 1e300;
    for (const bool of_b : {false, true}) {
      StopPlace post;
      post.kind = StopKind::kPost;
      post.body = of_b ? Body::kArmB : Body::kArmA;
      const Vec2 &pivot = of_b ? p.case_b : p.case_a, &lid = of_b ? p.lid_b : p.lid_a;
      post.on_body = pivot + kUsualPost_mm * (lid - pivot).normalized();
      const Vec2 at = motion.BodyPose(post.body, motion.At(open)) * post.on_body;
      post.on_case = at + Perp(Vec2(at - pivot));
      const StopLoads loads = StopLoadsOf(post, hand, motion, open, model.task.front_edge);
      least = std::min(least, loads.WorstPin_n());
    }
    // Steps of half a degree miss the worst direction by 1e-5.
    const double foretold = LeantPin(model.task, p);
    CHECK(foretold >= (1.0 - 1e-5) * least);
    CHECK(foretold <= std::sqrt(2.0) * (1.0 + 1e-5) * least);
  }
}
