// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/stop.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "arms/hinge_cases.h"
#include "lidwright/geometry/ring.h"
#include "swing/loop_oracle.h"

using namespace lidwright;
using namespace lidwright::testing;
using Catch::Matchers::WithinRel;

namespace {

const HingePiece& Stopped(const HingeSet& set) {
  const char* name = set.stop->stops == Body::kArmA   ? "arm A"
                     : set.stop->stops == Body::kArmB ? "arm B"
                                                      : "lid plate";
  return *FindPiece(set, name);
}

// Distance from the stop's surface to the part at a lid angle, by the oracle's poses: negative when
// it has run into the stop.
double Gap(LoopOracle& oracle, const HingeSet& set, const Ring& ring, double theta) {
  const Placing place = oracle.Place(set.stop->stops, theta);
  Ring there;
  for (const Vec2& p : ring) there.push_back(place(p));
  return SignedDistance({there}, set.stop->centre) - set.stop->radius_mm;
}

}  // namespace

TEST_CASE("the stop meets its part exactly when the lid is open, not before, and would stop it") {
  int looked = 0;
  for (const NamedPivots& linkage : ExampleLinkages()) {
    const HingeCase hinge(linkage.job, linkage.pivots);
    const HingeSet set = hinge.Make();
    REQUIRE(set.stop);
    const double open = hinge.box.job.swing.open_rad, beyond = open + 1.0 * kRadPerDeg;
    LoopOracle oracle(linkage.pivots);
    const double reached = oracle.Follow(beyond);
    REQUIRE(reached >= open - 1e-12);
    const Ring ring = Flatten(Stopped(set).outline, 0.0005);
    INFO(linkage.job << " stop at " << set.stop->centre.transpose());
    CHECK(std::abs(Gap(oracle, set, ring, open)) < kStopContact_mm);
    for (double theta = 0.0; theta < open - kStopFree_rad; theta += 0.25 * kRadPerDeg) {
      CHECK(Gap(oracle, set, ring, theta) > 0.0);
    }
    if (reached >= beyond - 1e-12) CHECK(Gap(oracle, set, ring, beyond) < -0.05);
    // The approach is the slope of the gap there (a central difference).
    const double h = 0.02 * kRadPerDeg;
    const double slope = (Gap(oracle, set, ring, open - h) - Gap(oracle, set, ring, open)) / h;
    CHECK_THAT(slope, WithinRel(set.stop->approach_mm, 0.03));
    ++looked;
  }
  CHECK(looked == 9);
}

TEST_CASE("the stop stands inside the case, under the rim, clear of the case pins") {
  for (const NamedPivots& linkage : ExampleLinkages()) {
    const HingeCase hinge(linkage.job, linkage.pivots);
    const HingeSet set = hinge.Make();
    REQUIRE(set.stop);
    const Stop& stop = *set.stop;
    for (const double z : {stop.span.z_min_mm, stop.span.z_max_mm}) {
      CHECK(SignedDistance(SectionAt(hinge.box.box.Shapes(PartKind::kCase), z - 1e-6),
                           stop.centre) > stop.radius_mm);
    }
    const Vec2 size = hinge.box.solid.bounds.high;
    CHECK(stop.centre.x() > 0.0);
    CHECK(stop.centre.x() < size.x());
    CHECK(stop.centre.y() < RimAtEndWall_mm(hinge.box.solid));
    for (const Vec2& pin : {linkage.pivots.case_a, linkage.pivots.case_b}) {
      CHECK((stop.centre - pin).norm() >= stop.radius_mm + set.hardware->spacer_out_mm / 2.0 + 0.4);
    }
  }
}

TEST_CASE("a hinge without a place for a stop says so and is not complete") {
  const NamedPivots linkage = WithoutStop();
  const HingeCase hinge(linkage.job, linkage.pivots);
  REQUIRE(hinge.arms.met);
  const HingeSet set = hinge.Make();
  CHECK_FALSE(set.stop);
  CHECK_FALSE(set.complete);
  CHECK(Mentions(set.faults, "stop: of "));
  CHECK(set.lid_plate);  // everything else is there
  CHECK(set.case_plate);
  HingeSetOptions without;
  without.stop = false;
  CHECK(hinge.Make(without).complete);
}

TEST_CASE("a stop's rod is as thick as asked for, in the plate and in the list of what to buy") {
  const NamedPivots& linkage = ExampleLinkages()[0];
  const HingeCase hinge(linkage.job, linkage.pivots);
  const HingeSet usual = hinge.Make();
  HingeSetOptions options;
  options.stop_rod_mm = 6.0;
  const HingeSet set = hinge.Make(options);
  REQUIRE(usual.stop);
  REQUIRE(set.stop);
  REQUIRE(set.case_plate);
  const double pin_mm = set.hardware->bushing.pin_mm;
  CHECK(usual.stop->rod_mm == pin_mm);
  CHECK(set.stop->rod_mm == 6.0);
  CHECK(set.stop->radius_mm == 3.0);
  // It is pushed into its hole once arms and pins are in, so that is no press fit.
  const HingePiece* plate = FindPiece(set, "case plate");
  const auto hole = std::find_if(plate->holes.begin(), plate->holes.end(), [&](const Circle& c) {
    return (c.centre - set.stop->centre).norm() < 1e-9;
  });
  REQUIRE(hole != plate->holes.end());
  CHECK(2.0 * hole->radius_mm == Approx(6.0).margin(1e-9));
  const auto in_wood =
      std::find_if(set.bench_work.begin(), set.bench_work.end(),
                   [](const WoodWork& work) { return work.what == "hole for the stop"; });
  REQUIRE(in_wood != set.bench_work.end());
  CHECK(2.0 * in_wood->hole.radius_mm == Approx(7.0));
  // As much plate round it, in diameters, as round a pin.
  const double web = -SignedDistance({Flatten(plate->outline, 0.0005)}, set.stop->centre) - 3.0;
  CHECK(web >= set.hardware->plate_fit.web_per_diameter * 6.0 - 0.01);
  const auto bought = std::find_if(set.buy.begin(), set.buy.end(),
                                   [](const HardwareLine& l) { return l.name == "stop rod"; });
  REQUIRE(bought != set.buy.end());
  CHECK(bought->note.rfind("6", 0) == 0);
  CHECK(set.complete);
}
