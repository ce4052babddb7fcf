// SPDX-License-Identifier: Apache-2.0
// Geometry that somebody brings is judged: what fails, where and by how much.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "certify/verdicts.h"
#include "design/examples.h"
#include "design/hinge_search.h"
#include "design/independent_eye.h"
#include "design/least_seen.h"
#include "lidwright/design/make_design.h"
#include "synthesis/lid_models.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

Hinge Judged(const BoxModel& box, const Pivots& pivots) {
  return JudgeHinge(box, pivots, std::nullopt, std::nullopt);
}

const Verdict* Failing(const Hinge& hinge, const std::string& what) {
  for (const Verdict& v : hinge.verdicts) {
    if (NameOf(v) == what && !v.met()) return &v;
  }
  return nullptr;
}

// The arm where it would lie if its plate were set far too low: through the case's floor.
Arm ThroughTheFloor(Arm arm, const Job& job) {
  const double lowest = Bounds(Flatten(arm.outline, 0.1)).low.y();
  const double into = -job.case_form.height_mm + job.case_form.floor_mm / 2.0;
  arm.outline = Moved(arm.outline, Pose::Make(0.0, {0.0, into - lowest}));
  return arm;
}

// Complete hinges, without what a whole design adds to the best of them.
std::vector<Hinge> SomeHinges(const BoxModel& box) {
  HingeSearchOptions options;
  options.improve = false;
  std::vector<Hinge> hinges = SearchHinges(box, options).hinges;
  if (hinges.size() > 3) hinges.resize(3);
  return hinges;
}

}  // namespace

TEST_CASE("parallel arms and arms without length are refused with the reason", "[design]") {
  const BoxModel box(ExampleJob("sample_chest"));
  for (const Pivots& pivots : {Pivots{{40, -60}, {80, -60}, {40, -10}, {80, -10}},
                               Pivots{{40, -60}, {80, -60}, {60, -10}, {100, -10}},
                               Pivots{{40, -60}, {80, -60}, {40, -60}, {80, -10}},
                               Pivots{{40, -60}, {80, -60}, {60, -10}, {60, -10}}}) {
    const Hinge hinge = Judged(box, pivots);
    REQUIRE(hinge.verdicts.size() == 1);
    CHECK_FALSE(hinge.verdicts[0].met());
    CHECK(hinge.verdicts[0].what == Requirement::kOpeningAngle);
    CHECK(hinge.verdicts[0].why == Why::kParallelWhenShut);
    CHECK(hinge.character == "given");
    CHECK_FALSE(hinge.forces);
  }
}

TEST_CASE("a motion that turns back before the opening angle is refused there", "[design]") {
  const BoxModel box(ExampleJob("sample_chest"));
  Draw draw(3);
  int turned_back = 0;
  while (turned_back < 20) {
    const Pivots p{draw.In(box.task.case_zone), draw.In(box.task.case_zone),
                   draw.In(box.task.lid_zone), draw.In(box.task.lid_zone)};
    LoopOracle oracle(p);
    const double end = oracle.Follow(box.job.swing.open_rad + 0.1);
    if (end >= box.job.swing.open_rad - 0.02 || end < 0.05) continue;
    const Hinge hinge = Judged(box, p);
    ++turned_back;
    const Verdict* v = Failing(hinge, "opening angle");
    REQUIRE(v);
    CHECK(v->found.value() == Approx(end * kDegPerRad).margin(0.02));
    CHECK(v->why == Why::kArmsParallel);
    CHECK(v->why_value.value() == Approx(end).margin(4e-4));
    CHECK_FALSE(hinge.forces);
  }
}

// Equal arms on equal plates: once they passed as opening all the way.
TEST_CASE("a motion that comes to a change point before the opening angle is refused there",
          "[design]") {
  const BoxModel box(ExampleJob("sample_chest"));
  const Hinge hinge = Judged(box, {{30, -60}, {60, -50}, {100, -50}, {130, -60}});
  const Verdict* v = Failing(hinge, "opening angle");
  REQUIRE(v);
  CHECK(v->found.value() == Approx(2.0 * std::atan(1.0 / 3.0) * kDegPerRad).margin(0.002));
  CHECK(v->why == Why::kArmsBalance);
  CHECK_FALSE(hinge.forces);
}

TEST_CASE("an instant centre inside the box is named with the spot where the rim digs in",
          "[design]") {
  const BoxModel box(ExampleJob("sample_chest"));
  int looked = 0;
  for (const Pivots& p : MovingPivots(box.task, 12, 3)) {
    const LidMotion motion = *LidMotion::Make(p);
    if (motion.InstantCentre(motion.At(0.0)).x() < 0.0) continue;
    ++looked;
    const Hinge hinge = Judged(box, p);
    const Verdict* v = Failing(hinge, "first motion");
    REQUIRE(v);
    // The slowest to rise is the rearmost rim point, at mid-width.
    CHECK(v->nearest.value().on_first.x() == Approx(-10.0).margin(0.01));
    CHECK(v->found < 0.0);
    CHECK(v->angle_rad == 0.0);
  }
  CHECK(looked > 3);
}

TEST_CASE("a hinge of the program's own passes when it is fed back, spoilt ones do not",
          "[design][slow]") {
  const Geos geos;
  const BoxModel box(ExampleJob("sample_chest"));
  const std::vector<Hinge> hinges = SomeHinges(box);
  REQUIRE_FALSE(hinges.empty());
  int spoilt = 0;
  for (const Hinge& hinge : hinges) {
    const Hinge again = JudgeHinge(box, hinge.pivots, hinge.arm_a, hinge.arm_b);
    CHECK(AllMet(again.verdicts));
    // Besides, each given arm is asked whether it reaches round its pins.
    REQUIRE(again.verdicts.size() == hinge.verdicts.size() + 2);
    for (std::size_t i = 0; i < hinge.verdicts.size(); ++i) {
      const Verdict &v = hinge.verdicts[i], &w = again.verdicts[i];
      CHECK(v.what == w.what);
      CHECK(v.of == w.of);
      CHECK(v.met() == w.met());
      CHECK(v.found == w.found);
      CHECK(v.first + v.second == w.first + w.second);
    }
    CHECK(again.traits.least_gap_mm == hinge.traits.least_gap_mm);
    // As a hinge file gives it back: outlines alone, no centre lines.
    const auto given = [](const Arm& arm) {
      return GivenArm{arm.outline, arm.layer, 2.0 * arm.case_hole.radius_mm};
    };
    const Hinge read =
        JudgeHinge(box, GivenHinge{hinge.pivots.case_a, hinge.pivots.case_b, hinge.pivots.lid_a,
                                   hinge.pivots.lid_b, given(*hinge.arm_a), given(*hinge.arm_b)});
    CHECK(AllMet(read.verdicts));
    const Arm low = ThroughTheFloor(*hinge.arm_a, box.job);
    CHECK(Failing(JudgeHinge(box, hinge.pivots, low, hinge.arm_b), "arm A to case"));
    // Pivots a little off with the same arms' shapes: whatever is said, the eye must not see worse.
    Draw draw(5);
    for (int i = 0; i < 6; ++i) {
      Pivots p = hinge.pivots;
      p.lid_b += Vec2(draw(-6, 6), draw(-6, 6));
      p.case_a += Vec2(draw(-6, 6), draw(-6, 6));
      const Hinge judged = Judged(box, p);
      if (!AllMet(judged.verdicts)) {
        ++spoilt;
        continue;
      }
      Look look;
      look.step_rad = 0.5 * kRadPerDeg;
      const Seen seen = LookAt(box.job, box.solid, p, judged.arm_a, judged.arm_b, geos, look);
      CHECK(Complaints(box, seen, true).empty());
    }
  }
  CHECK(spoilt > 3);
}

TEST_CASE("an arm that is given is judged even if the other is left to be routed", "[design]") {
  const BoxModel box(ExampleJob("sample_chest"));
  const std::vector<Hinge> hinges = SomeHinges(box);
  REQUIRE_FALSE(hinges.empty());
  const Hinge& hinge = hinges[0];
  const Arm low = ThroughTheFloor(*hinge.arm_a, box.job);
  const Hinge judged = JudgeHinge(box, hinge.pivots, low, std::nullopt);
  CHECK_FALSE(AllMet(judged.verdicts));
  REQUIRE(judged.arm_a);
  CHECK(judged.arm_a->outline.vertices[0].point == low.outline.vertices[0].point);
}

TEST_CASE("a given arm that joins nothing is not called met", "[design]") {
  // A disc cut out of the middle of the hinge's own arm clears all that the arm clears, and holds
  // neither of its pins.
  const BoxModel box(ExampleJob("sample_chest"));
  const std::vector<Hinge> hinges = SomeHinges(box);
  REQUIRE_FALSE(hinges.empty());
  const Hinge& hinge = hinges[0];
  const auto line = PointsAlong(hinge.arm_a->centreline, 1.0);
  const GivenArm disc{AsOutline(Circle{line[line.size() / 2], box.job.arms.width_mm / 2.0}),
                      hinge.arm_a->layer, 4.0};
  const GivenArm good{hinge.arm_b->outline, hinge.arm_b->layer, 4.0};
  const Hinge judged =
      JudgeHinge(box, GivenHinge{hinge.pivots.case_a, hinge.pivots.case_b, hinge.pivots.lid_a,
                                 hinge.pivots.lid_b, disc, good});
  CHECK_FALSE(AllMet(judged.verdicts));
}

TEST_CASE("the wall behind is among what the lid must clear when the job has one", "[design]") {
  const BoxModel box(ExampleJob("sample_chest"));
  REQUIRE(std::isfinite(box.job.room.behind_mm));
  const std::vector<Hinge> hinges = SomeHinges(box);
  REQUIRE_FALSE(hinges.empty());
  const Geos geos;
  for (const Hinge& hinge : hinges) {
    const Verdict* wall = Find(hinge.verdicts, Requirement::kLidToRoom);
    REQUIRE(wall);
    CHECK(wall->second == "wall behind");
    // From below, by the lid's error and what the walk stops at; the eye is off by its own share.
    const double room =
        box.job.room.behind_mm + LeastSeen(box.job, box.solid, hinge.pivots, geos).Rearmost();
    CHECK(*wall->found <= room + 1e-6);
    CHECK(*wall->found >= room - box.solid.blend_error_mm - box.solid.chord_error_mm -
                              kGapTolerance_mm - kEyeWithin_mm);
  }
}

TEST_CASE("a box whose ends differ gets no hinge whose arms strike something at the other end",
          "[design][slow]") {
  // A cleat crosses the bay at −z only, between the stations that the arms are routed by. Wherever
  // arms go in the even box, they would go through it.
  Job job = ExampleJob("sample_chest");
  job.case_form.back_bow_mm = job.case_form.rim_arch_mm = 0.0;
  const Ring box_ring{{0, -120},   {220, -120}, {220, 0}, {208, 0},
                      {208, -108}, {12, -108},  {12, 0},  {0, 0}};
  const Ring lid_ring{{0, 0}, {12, 0}, {12, 30}, {208, 30}, {208, 0}, {220, 0}, {220, 42}, {0, 42}};
  const Ring cleat{{30, -60}, {80, -60}, {80, -20}, {30, -20}};
  for (const double z : {-170.0, -153.0, -153.0, -142.0, -142.0, 170.0}) {
    job.stations.push_back({z, {box_ring}, {lid_ring}});
  }
  for (const std::size_t i : {2ul, 3ul}) job.stations[i].case_rings.push_back(cleat);
  const BoxModel uneven(job);
  const Geos geos;
  const std::vector<Hinge> hinges = SomeHinges(uneven);
  for (const Hinge& hinge : hinges) {
    Look look;
    look.step_rad = kRadPerDeg;
    look.lid_to_case = false;
    const Seen seen = LookAt(job, uneven.solid, hinge.pivots, hinge.arm_a, hinge.arm_b, geos, look);
    CHECK(seen.arm_to_case >= job.arms.gap_mm);
  }
}
