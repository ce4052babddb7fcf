// SPDX-License-Identifier: Apache-2.0
// The lid's certificate against an eye that shares no code with it, and the rules of the trade in
// DEVELOPERS.md that a search without end walls, access or first motion would break.
#include "lidwright/certify/certify.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

#include "design/independent_eye.h"
#include "design/least_seen.h"
#include "synthesis/lid_models.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

bool Met(const Verdicts& verdicts, const std::string& what) {
  const Verdict* v = Called(verdicts, what);
  REQUIRE(v);
  return v->met();
}

Seen LidOnly(const Job& job, const Solid& solid, const Pivots& pivots, const Geos& geos,
             double step_deg) {
  Look look;
  look.step_rad = step_deg * kRadPerDeg;
  look.arms = false;
  return LookAt(job, solid, pivots, std::nullopt, std::nullopt, geos, look);
}

}  // namespace

TEST_CASE("what the lid's certificate says is what an independent eye sees", "[slow]") {
  const Geos geos;
  int met = 0, missed = 0, collided = 0;
  for (const char* name : {"sample_chest", "jewellery_casket", "sample_chest_tight"}) {
    const LidModel model(ExampleJob(name));
    // What the search finds, the same spoilt a little and a lot, and what it starts from.
    std::vector<Pivots> all = FoundLids(model.job, model.solid, model.task, 4);
    Draw draw(3);
    for (std::size_t i = 0, n = all.size(); i < n; ++i) {
      for (const double by : {2.0, 8.0}) {
        Pivots p = all[i];
        const auto off = [&] { return Vec2(draw(-by, by), draw(-by, by)); };
        p.lid_a += off();
        p.case_b += off();
        all.push_back(p);
      }
    }
    for (const Pivots& p : MovingPivots(model.task, 4, 9)) all.push_back(p);
    for (const Pivots& pivots : all) {
      INFO(name << " " << pivots.case_a.transpose() << " " << pivots.case_b.transpose() << " "
                << pivots.lid_a.transpose() << " " << pivots.lid_b.transpose());
      const auto motion = LidMotion::Make(pivots);
      if (!motion || motion->Range().high_rad <= model.job.swing.open_rad) continue;
      CertifyOptions options;
      options.depths = true;
      const Verdicts verdicts = CertifyLid(model.box, *motion, model.limits, options);
      const Seen seen = LidOnly(model.job, model.solid, pivots, geos, 0.5);
      REQUIRE(seen.opens);
      // What the certificate takes off and stops at, and what the eye may see too much.
      const double reserve = BoundsReserve_mm(model.solid) + kEyeWithin_mm;
      const LeastSeen least(model.job, model.solid, pivots, geos);
      const auto agrees = [&](const char* what, double truth, double required) {
        const Verdict* v = Called(verdicts, what);
        REQUIRE(v);
        if (v->found) {
          CHECK(*v->found <= truth + 1e-6);
          CHECK(truth <= *v->found + reserve);
        } else {
          // Outlines within the tolerance count as meeting: nothing is proven.
          CHECK(truth <= kGapTolerance_mm + kEyeWithin_mm);
        }
        // What was seen is an upper bound of the truth.
        if (v->seen && truth > 0.0) CHECK(*v->seen >= truth - kEyeWithin_mm);
        if (v->met()) CHECK(truth >= required - v->slack);
        if (truth < required - v->slack - reserve) CHECK(v->outcome == Outcome::kViolated);
        if (truth < required - v->slack) CHECK_FALSE(v->met());
        if (truth > required + reserve) CHECK(v->met());
      };
      agrees("lid to case", least.ToCase(), model.job.swing.gap_mm);
      if (std::isfinite(model.job.room.behind_mm)) {
        agrees("lid to wall and ceiling", least.Rearmost() + model.job.room.behind_mm, 0.0);
      }
      agrees("lid to bench", least.Lowest() - model.solid.bench_mm, model.job.swing.gap_mm);
      const bool first = Met(verdicts, "first motion");
      if (first) {
        CHECK(seen.early >= -0.011);
        CHECK(seen.least_early > 0.0);
      }
      if (seen.early < -0.02 || seen.least_early == 0.0) CHECK_FALSE(first);
      const Verdict* line = Called(verdicts, "open lid's foremost x");
      REQUIRE(line);
      CHECK(*line->found >= seen.foremost_open - 1e-9);
      CHECK(*line->found <= seen.foremost_open + reserve);
      (AllMet(verdicts) ? met : missed) += 1;
      if (seen.lid_to_case == 0.0) ++collided;
    }
  }
  CHECK(met > 8);
  CHECK(missed > 15);
  CHECK(collided > 5);
}

TEST_CASE("a verdict's spot is where the two parts are that near") {
  const LidModel model(ExampleJob("sample_chest"));
  int looked = 0;
  for (const Pivots& pivots : FoundLids(model.job, model.solid, model.task, 6)) {
    const LidMotion motion = *LidMotion::Make(pivots);
    const Verdicts verdicts = CertifyLid(model.box, motion, model.limits);
    const Verdict* v = Called(verdicts, "lid to case");
    REQUIRE(v);
    if (!v->nearest || v->nearest->gap_mm <= 0.0) continue;
    ++looked;
    CHECK(*v->angle_rad >= model.job.swing.gap_from_rad);
    CHECK(*v->angle_rad <= model.job.swing.open_rad);
    CHECK((v->nearest->on_first - v->nearest->on_second).norm() ==
          Approx(v->nearest->gap_mm).margin(1e-6));
    // Both points lie on an outline of lid and case at that z and angle.
    LoopOracle oracle(pivots);
    oracle.Follow(model.job.swing.open_rad);
    const Placing back = oracle.Place(Body::kLid, *v->angle_rad).Inverse();
    double on_lid = 1e300, on_case = 1e300;
    for (const SeenSection& s : SectionsOf(model.solid, {v->nearest->z_mm})) {
      if (std::abs(s.z - v->nearest->z_mm) > 1e-6) continue;
      on_lid = std::min(on_lid, std::abs(SignedDistance(s.lid, back(v->nearest->on_first))));
      on_case = std::min(on_case, std::abs(SignedDistance(s.box, v->nearest->on_second)));
    }
    CHECK(on_lid < 1e-4);
    CHECK(on_case < 1e-4);
    CHECK(v->first.find("lid") == 0);
    CHECK(v->second.find("case") == 0);
  }
  CHECK(looked > 3);
}

TEST_CASE("without the end walls' stations linkages are certified that go through the walls (R1)",
          "[slow]") {
  // The whole chain once more on a box whose end walls are left out: its certificate is honest
  // about what it was given, so the lids "clear". The eye sees the box as it is.
  const LidModel honest(ExampleJob("sample_chest"));
  Solid hollow = honest.solid;
  hollow.stations.erase(std::remove_if(hollow.stations.begin(), hollow.stations.end(),
                                       [](const Station& s) { return s.end_wall; }),
                        hollow.stations.end());
  REQUIRE(hollow.stations.size() < honest.solid.stations.size());
  const Assembly no_walls = BoxAssembly(honest.job, hollow);
  LidTask task = honest.task;
  const auto of_end = [&](std::size_t i) { return honest.solid.stations[i].end_wall; };
  task.section_stations.erase(
      std::remove_if(task.section_stations.begin(), task.section_stations.end(), of_end),
      task.section_stations.end());
  REQUIRE(task.section_stations.size() < honest.task.section_stations.size());
  const Geos geos;
  int fooled = 0, through_walls = 0;
  for (const Pivots& pivots : FoundLids(honest.job, honest.solid, task, 24)) {
    const auto motion = LidMotion::Make(pivots);
    if (!motion || motion->Range().high_rad <= honest.job.swing.open_rad) continue;
    if (!AllMet(CertifyLid(no_walls, *motion, LimitsOf(honest.job, hollow)))) continue;
    ++fooled;
    const Verdicts truth = CertifyLid(honest.box, *motion, honest.limits);
    if (Met(truth, "lid to case") && Met(truth, "first motion")) continue;
    const Seen seen = LidOnly(honest.job, honest.solid, pivots, geos, 0.5);
    if (seen.lid_to_case == 0.0 || seen.least_early == 0.0) ++through_walls;
  }
  CHECK(fooled > 5);
  CHECK(through_walls > 0);
}

TEST_CASE("an open lid that stands over the mouth is told how far, and is none to build (R2)") {
  const LidModel model(ExampleJob("sample_chest"));
  int over_the_mouth = 0, looked = 0;
  for (const Pivots& pivots : MovingPivots(model.task, 60, 11)) {
    const auto motion = LidMotion::Make(pivots);
    ++looked;
    const Verdicts verdicts = CertifyLid(model.box, *motion, model.limits);
    LoopOracle oracle(pivots);
    oracle.Follow(model.job.swing.open_rad);
    const Placing open = oracle.Place(Body::kLid, model.job.swing.open_rad);
    double foremost = -1e300;
    for (const Station& s : model.solid.stations) {
      for (const Vec2& p : s.lid_rings[0]) foremost = std::max(foremost, open(p).x());
    }
    // 196 mm of mouth between the walls, from x = 12 to x = 208; a tenth of it may be covered.
    const double free = std::max(0.0, (208.0 - std::max(foremost, 12.0)) / 196.0);
    CHECK(Called(verdicts, "mouth left free")->found.value() == Approx(free).margin(1e-3));
    if (foremost > 25.0) CHECK_FALSE(Met(verdicts, "open lid's foremost x"));
    if (free < 0.9) {
      ++over_the_mouth;
      CHECK_FALSE(Met(verdicts, "mouth left free"));
    }
  }
  CHECK(looked == 60);
  CHECK(over_the_mouth > 5);
}

TEST_CASE("the rim parts at once only if the instant centre lies behind all of it (R4)") {
  // For a rim that lies flat in the side view a point p rises if it is in front of the instant
  // centre. The rearmost rim point is the bow's, at mid-width.
  for (const char* name : {"sample_chest", "jewellery_casket", "barrel_chest"}) {
    INFO(name);
    const LidModel model(ExampleJob(name));
    const double rear = -model.job.case_form.back_bow_mm;
    int in_front = 0, behind = 0;
    for (const Pivots& pivots : MovingPivots(model.task, 1500, 17)) {
      const LidMotion motion = *LidMotion::Make(pivots);
      // Where the lines of the two arms meet, written out here.
      const Vec2 a = pivots.lid_a - pivots.case_a, b = pivots.lid_b - pivots.case_b;
      const double t = Cross(Vec2(pivots.case_b - pivots.case_a), b) / Cross(a, b);
      const Vec2 centre = pivots.case_a + t * a;
      if (centre.x() > rear ? in_front == 60 : behind == 12) continue;
      const Verdicts verdicts = CertifyLid(model.box, motion, model.limits);
      const Verdict* first = Called(verdicts, "first motion");
      REQUIRE(first);
      if (centre.x() > rear) {
        ++in_front;
        CHECK_FALSE(first->met());
        CHECK(first->found.value() ==
              Approx(rear - centre.x()).margin(1e-3 * (1.0 + std::abs(centre.x()))));
        CHECK(first->why == Why::kNoParting);
      } else if (first->met()) {
        ++behind;
        CHECK(first->found.value() ==
              Approx(rear - centre.x()).margin(1e-3 * (1.0 + std::abs(centre.x()))));
      }
    }
    CHECK(in_front == 60);
    CHECK(behind == 12);
  }
}

TEST_CASE("a hinge whose instant centre lies in front digs its rim into the case") {
  // The refusal is not a formality: the eye sees wood in wood within the first degree.
  const Geos geos;
  const LidModel model(ExampleJob("sample_chest"));
  int dug = 0, looked = 0;
  for (const Pivots& pivots : MovingPivots(model.task, 30, 29)) {
    const LidMotion motion = *LidMotion::Make(pivots);
    const double centre = motion.InstantCentre(motion.At(0.0)).x();
    if (centre < 10.0 || centre > 200.0) continue;
    ++looked;
    LoopOracle oracle(pivots);
    oracle.Follow(0.02);
    const Placing lid = oracle.Place(Body::kLid, 0.01);
    const Station& s = model.solid.stations.front();
    const StandingRegion standing(geos, s.case_rings);
    if (standing.To(s.lid_rings, lid) == 0.0) ++dug;
  }
  CHECK(looked > 5);
  CHECK(dug == looked);
}

TEST_CASE("a pose asked for is judged by where the lid's point really comes") {
  LidModel model(ExampleJob("sample_chest"));
  const Pivots pivots = FoundLids(model.job, model.solid, model.task, 3)[0];
  LoopOracle oracle(pivots);
  oracle.Follow(model.job.swing.open_rad);
  const Vec2 point(210.0, 5.0), there = oracle.Place(Body::kLid, 0.8)(point);
  Job job = model.job;
  job.poses = {{0.8, there + Vec2(0.6, 0.0), point, 1.0},
               {0.8, there + Vec2(0.0, 1.5), point, 1.0}};
  const Verdicts verdicts =
      CertifyLid(model.box, LidMotion::Make(pivots), LimitsOf(job, model.solid));
  std::vector<const Verdict*> poses;
  for (const Verdict& v : verdicts) {
    if (v.what == Requirement::kPose) poses.push_back(&v);
  }
  REQUIRE(poses.size() == 2);
  CHECK(poses[0]->met());
  CHECK(*poses[0]->found == Approx(0.6).margin(1e-9));
  CHECK_FALSE(poses[1]->met());
  CHECK(*poses[1]->found == Approx(1.5).margin(1e-9));
}

TEST_CASE("what the lid would strike inside the box is seen") {
  // Room to leave free that stands in the way of the lid, as in a box packed to over its rim.
  Job job = ExampleJob("sample_chest");
  const LidModel without(job);
  const Pivots pivots = FoundLids(without.job, without.solid, without.task, 3)[0];
  const LidMotion motion = *LidMotion::Make(pivots);
  const Geos geos;
  int struck = 0, clear = 0;
  for (const double top : {-20.0, -2.0, 6.0, 12.0, 20.0}) {
    for (const double back : {14.0, 60.0, 150.0}) {
      job.contents = {
          {{{{back, -100.0}, {205.0, -100.0}, {205.0, top}, {back, top}}}, -60.0, 60.0}};
      const LidModel model(job);
      Look look;
      look.step_rad = 0.25 * kRadPerDeg;
      look.lid_to_case = look.arms = false;
      const Seen seen = LookAt(job, model.solid, pivots, {}, {}, geos, look);
      const bool met = Met(CertifyLid(model.box, motion, model.limits), "lid to contents");
      if (seen.lid_to_contents == 0.0) CHECK_FALSE(met);
      // The model's error is under the slack of a limit of nothing: any room at all is enough.
      if (LeastSeen(job, model.solid, pivots, geos).ToContents(model.solid) > kEyeWithin_mm) {
        CHECK(met);
      }
      (met ? clear : struck) += 1;
    }
  }
  CHECK(struck > 2);
  CHECK(clear > 2);
}
