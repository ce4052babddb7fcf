// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/plate_legs.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "forces/arm_shapes.h"
#include "lidwright/base/check.h"
#include "lidwright/forces/requirements.h"
#include "lidwright/forces/torsion.h"

using namespace lidwright;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

// A leg that hangs down from a screw at (0, 0) to a pin at (0, −length), with a bar of screws
// above.
PlateBody HangingLeg(double width, double thickness, double length, double pin = 3.0) {
  PlateBody plate;
  const double h = width / 2.0;
  plate.outline = {{-h, -length - h}, {h, -length - h}, {h, -8.0}, {30, -8.0},
                   {30, 8.0},         {-30, 8.0},       {-30, -8}, {-h, -8.0}};
  plate.pins = {{{0, -length}, pin / 2.0}};
  plate.screws = {{{0, 0}, 1.3}, {{20, 0}, 1.3}, {{-20, 0}, 1.3}};
  plate.thickness_mm = thickness;
  return plate;
}

LegStress At(const PlateBody& plate, const Vec2& at, const Vec2& along,
             const std::vector<PinPush>& pushes) {
  return StressOf(plate, CutOf(plate, at, along), pushes);
}

PlateUse UseOfPlate(const PlateBody& plate, const std::vector<PinPush>& pushes,
                    const StrapMaterial& material) {
  return PlateStrength(plate).Under(pushes, material);
}

Vec2 Turn(const Vec2& v, double angle) {
  return Pose::Make(angle, Vec2::Zero()) * v;
}

}  // namespace

TEST_CASE("a cut through a leg bears what the cantilever's formulas say") {
  const PlateBody plate = HangingLeg(7.0, 3.0, 50.0);
  const Vec2 down(0, -1);
  const std::vector<PinPush> push{{{0, -50}, {50, 20}, 6.0}};
  // At 10 mm under the screw: lever 40, W = 3 · 49 / 6 = 24.5, A = 21.
  const LegStress cut = At(plate, {0, -10}, down, push);
  CHECK_THAT(cut.edge_mpa, WithinRel(50.0 * 40.0 / 24.5, 1e-9));
  CHECK_THAT(cut.axial_mpa, WithinRel(-20.0 / 21.0, 1e-9));  // pushed up, towards the screws
  CHECK_THAT(cut.shear_mpa, WithinRel(1.5 * 50.0 / 21.0, 1e-9));
  CHECK_THAT(cut.flat_mpa, WithinRel(6.0 * 20.0 * 6.0 / (7.0 * 9.0), 1e-9));
  CHECK_THAT(cut.twist_mpa, WithinRel(50.0 * 6.0 / TorsionOfBar(7.0, 3.0).w_mm3, 1e-9));
  CHECK_THAT(cut.narrow_mpa,
             WithinRel(cut.twist_mpa * TorsionOfBar(7.0, 3.0).narrow_over_wide, 1e-9));
  // Beyond the pin nothing acts.
  CHECK(At(plate, {0, -51}, down, push).edge_mpa == 0.0);
  // On wood the wood takes what is out of the plane.
  PlateBody backed = plate;
  backed.backed = true;
  const LegStress lying = At(backed, {0, -10}, down, push);
  CHECK(lying.flat_mpa == 0.0);
  CHECK(lying.twist_mpa == 0.0);
  CHECK(lying.edge_mpa == cut.edge_mpa);
}

TEST_CASE("the use of a metal leg is Mises' stress at the worst of its points") {
  const StrapMaterial aluminium = *StrapOf("aluminium", 3.0);
  const StrapStrength strength = StrengthAt(aluminium, 0.0);
  for (int i = 0; i < 50; ++i) {
    const auto some = [&](int k) { return 60.0 * std::abs(std::sin(1.7 * i + 2.3 * k)); };
    LegStress s;
    s.axial_mpa = (i % 2 ? 1 : -1) * some(1);
    s.edge_mpa = some(2);
    s.flat_mpa = some(3);
    s.twist_mpa = some(4);
    s.narrow_mpa = 0.8 * s.twist_mpa;
    s.shear_mpa = some(5);
    // Both edges and both faces, tension and compression alike, shear both ways.
    double mises = 0.0;
    for (const double e : {-1.0, 0.0, 1.0}) {
      for (const double f : {-1.0, 0.0, 1.0}) {
        const double normal = s.axial_mpa + e * s.edge_mpa + f * s.flat_mpa;
        double shear = 0.0;
        if (e == 0.0 && f != 0.0) shear = s.twist_mpa + s.shear_mpa;
        if (f == 0.0 && e != 0.0) shear = s.narrow_mpa;
        if (e == 0.0 && f == 0.0) continue;
        mises = std::max(mises, std::sqrt(normal * normal + 3.0 * shear * shear));
      }
    }
    CHECK_THAT(LegUse(s, strength), WithinRel(mises / 255.0, 1e-9));
  }
}

TEST_CASE("a narrow leg with its pin far under its screws is far over, a wide one holds") {
  // The case that started it: 7 × 3 mm, the pin 50 mm under the screws, 50 N at the pin.
  const StrapMaterial aluminium = *StrapOf("aluminium", 3.0);
  const std::vector<PinPush> push{{{0, -50}, {50, 0}, 6.0}};
  const double wanted = WantedFor(Situation::kLeaning, Stressed::kMetal).factor;
  const PlateUse thin = UseOfPlate(HangingLeg(7.0, 3.0, 50.0), push, aluminium);
  CHECK(thin.how == StrapFailure::kEdge);
  CHECK_THAT(thin.way_mm, WithinAbs(42.0, 1.0));
  CHECK_THAT(thin.width_mm, WithinAbs(7.0, 0.1));
  // At the screws' bar the leg has its full lever: 50 N · 42 mm over 24.5 mm³ is 86 MPa for 255;
  // cuts are half a millimetre apart.
  CHECK(thin.leg.edge_mpa > 86.0 * 41.0 / 42.0);
  CHECK(thin.leg.edge_mpa < 86.0);
  // Leaning on the sample chest puts seven times the hand on a pin: 350 N.
  const std::vector<PinPush> leaning{{{0, -50}, {350, 0}, 6.0}};
  CHECK(wanted * UseOfPlate(HangingLeg(7.0, 3.0, 50.0), leaning, aluminium).used > 3.0);
  CHECK(wanted * UseOfPlate(HangingLeg(16.0, 4.0, 20.0), leaning, aluminium).used < 1.0);
  // Plywood of the same size is nothing for it.
  CHECK(UseOfPlate(HangingLeg(7.0, 3.0, 50.0), push, *StrapOf("birch plywood", 3.0)).used >
        2.0 * thin.used);
}

TEST_CASE("a plate's use turns with it and grows with the force") {
  const StrapMaterial brass = *StrapOf("brass", 2.0);
  const PlateBody plate = HangingLeg(9.0, 2.0, 30.0);
  const std::vector<PinPush> push{{{0, -30}, {25, -14}, 5.0}};
  const PlateUse here = UseOfPlate(plate, push, brass);
  for (const double angle : {0.3, 1.2, 2.9}) {
    PlateBody turned = plate;
    for (Vec2& p : turned.outline) p = Turn(p, angle);
    for (Circle& c : turned.pins) c.centre = Turn(c.centre, angle);
    for (Circle& c : turned.screws) c.centre = Turn(c.centre, angle);
    const std::vector<PinPush> pushed{{Turn({0, -30}, angle), Turn({25, -14}, angle), 5.0}};
    CHECK_THAT(UseOfPlate(turned, pushed, brass).used, WithinRel(here.used, 0.03));
  }
  std::vector<PinPush> twice = push;
  twice[0].force_n *= 2.0;
  CHECK_THAT(UseOfPlate(plate, twice, brass).used, WithinRel(2.0 * here.used, 1e-9));
}

TEST_CASE("a leg with two pins one behind the other bears both") {
  PlateBody plate = HangingLeg(10.0, 3.0, 60.0);
  plate.pins.push_back({{0, -30}, 1.5});
  const std::vector<PinPush> both{{{0, -60}, {20, 0}, 6.0}, {{0, -30}, {30, 0}, 10.0}};
  const LegStress root = At(plate, {0, -9}, {0, -1}, both);
  CHECK_THAT(root.edge_mpa, WithinRel((20.0 * 51.0 + 30.0 * 21.0) / (3.0 * 100.0 / 6.0), 1e-9));
  CHECK_THAT(root.twist_mpa,
             WithinRel((20.0 * 6.0 + 30.0 * 10.0) / TorsionOfBar(10.0, 3.0).w_mm3, 1e-9));
  // Between the pins only the lower one counts.
  const LegStress between = At(plate, {0, -40}, {0, -1}, both);
  CHECK_THAT(between.edge_mpa, WithinRel(20.0 * 20.0 / 50.0, 1e-9));
  // A pin on another leg beside it does not.
  plate.pins.push_back({{25, -60}, 1.5});
  const std::vector<PinPush> three{both[0], both[1], {{25, -60}, {500, 0}, 6.0}};
  CHECK(At(plate, {0, -9}, {0, -1}, three).edge_mpa == root.edge_mpa);
  CHECK_THROWS_AS(UseOfPlate(plate, both, *StrapOf("brass", 3.0)), ContractError);
}

TEST_CASE("a leg round a corner bears its lever, not the straight line's") {
  // Down 40 from the screw, then 30 to the front: the straight line from pin to screw lies in air.
  PlateBody plate;
  plate.outline = {{-4, 6}, {-4, -44}, {34, -44}, {34, -36}, {4, -36}, {4, 6}};
  plate.pins = {{{30, -40}, 1.5}};
  plate.screws = {{{0, 0}, 1.3}};
  plate.thickness_mm = 3.0;
  const StrapMaterial aluminium = *StrapOf("aluminium", 3.0);
  const PlateStrength strength(plate);
  // Up at the pin: a moment of 30 · 20 all the way up, over 3 · 8²/6 = 32 mm³, with 20/24 of push.
  const PlateUse up = strength.Under({{{30, -40}, {0, 20}, 0.0}}, aluminium);
  CHECK(up.how == StrapFailure::kEdge);
  CHECK_THAT(up.width_mm, WithinAbs(8.0, 0.2));
  // Along x: nothing in the lower leg but pull, 40 · 20 at the screw, where its hole takes 2.6 mm.
  const PlateUse along = strength.Under({{{30, -40}, {20, 0}, 0.0}}, aluminium);
  const double net = 3.0 * (512.0 - 2.6 * 2.6 * 2.6) / 12.0 / 4.0;
  CHECK_THAT(along.leg.edge_mpa, WithinRel(20.0 * 40.0 / net, 0.05));
  CHECK_THAT(along.way_mm, WithinAbs(70.0, 4.0));
  // On the upright part the first load bends by 600 N mm whatever the height.
  for (const PlateCut& cut : strength.cuts()) {
    if (cut.section.at.y() < -30.0 || cut.section.at.y() > -4.0) continue;
    CHECK(cut.beyond == std::vector<std::size_t>{0});
    CHECK_THAT(StressOf(plate, cut, {{{30, -40}, {0, 20}, 0.0}}).edge_mpa,
               WithinRel(600.0 / 32.0, 0.02));
  }
}

TEST_CASE("a pin between two screws counts alone, not the pins beyond the other screw") {
  PlateBody plate;
  plate.outline = {{-60, -5}, {60, -5}, {60, 5}, {-60, 5}};
  plate.pins = {{{10, 0}, 1.5}, {{-50, 0}, 1.5}};
  plate.screws = {{{30, 0}, 1.3}, {{-30, 0}, 1.3}};
  plate.thickness_mm = 2.0;
  const PlateStrength strength(plate);
  int first = 0, second = 0;
  for (const PlateCut& cut : strength.cuts()) {
    CHECK(cut.beyond == std::vector<std::size_t>{cut.pin});
    ++(cut.pin == 0 ? first : second);
  }
  CHECK(first > 20);
  CHECK(second > 20);
}

TEST_CASE("an eye of a plate is an arm's eye of the same size") {
  const Arm arm = testing::ArmWithBend(0.0, 12.0, 12.0, 4.0);
  const EyeStress of_arm = ArmStrength(arm).EyeUnder(arm.lid_hole, {0.0, 80.0});
  const Ring ring = ChordsOf(arm);
  const EyeStress of_plate =
      EyeStressOf(ring, {arm.case_hole, arm.lid_hole}, 3.0, arm.lid_hole, {0.0, 80.0});
  CHECK(of_arm.peak_mpa == of_plate.peak_mpa);
  CHECK(of_arm.tear_mpa == of_plate.tear_mpa);
  // By hand: 80 N over a diameter on the arm's side and 4 mm on the other, 3 mm thick; bearing over
  // 4 · 3, torn over two planes of 4 · 3.
  CHECK_THAT(of_plate.mean_mpa, WithinRel(80.0 / 24.0, 0.01));
  CHECK_THAT(of_plate.bearing_mpa, WithinRel(80.0 / 12.0, 1e-12));
  CHECK_THAT(of_plate.tear_mpa, WithinRel(80.0 / 24.0, 0.01));
}

TEST_CASE(
    "an eye pulled across its arm is held by what is beside the hole, not by the arm's length") {
  const Arm arm = testing::ArmWithBend(0.0, 12.0, 12.0, 4.0);
  const ArmStrength strength(arm);
  const double along = strength.EyeUnder(arm.lid_hole, {80.0, 0.0}).mean_mpa;
  const double across = strength.EyeUnder(arm.lid_hole, {0.0, 80.0}).mean_mpa;
  CHECK_THAT(across, WithinRel(along, 0.01));
  // In a wide plate the peak beside the pin is 1.2 of its pressure (handbooks, from memory).
  const Ring wide{{-50, -50}, {50, -50}, {50, 50}, {-50, 50}};
  const Circle hole{{0, 0}, 2.0};
  const EyeStress eye = EyeStressOf(wide, {hole}, 3.0, hole, {30.0, 40.0});
  CHECK_THAT(eye.peak_mpa / eye.bearing_mpa, WithinAbs(1.2, 0.05));
}
