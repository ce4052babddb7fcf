// SPDX-License-Identifier: Apache-2.0
#include <catch2/catch.hpp>
#include <cmath>

#include "forces/force_cases.h"
#include "lidwright/forces/material_data.h"

using namespace lidwright;
using namespace lidwright::testing;

TEST_CASE("hardware weighs its outlines, less holes, in its own metal, at both ends") {
  const Chest chest;
  const HingeSet set = chest.hinge.Make();
  REQUIRE(set.complete);
  double by_hand = 0.0, summed = 0.0;
  int pins = 0;
  for (const HingePiece& piece : set.pieces) {
    if (piece.kind == PieceKind::kArm || piece.kind == PieceKind::kJig) continue;
    double area = SignedArea(piece.outline);
    for (const Circle& h : piece.holes) area -= kPi * h.radius_mm * h.radius_mm;
    for (const Circle& h : piece.drills) area -= kPi * h.radius_mm * h.radius_mm;
    const double density = piece.material == "steel"       ? 7850.0
                           : piece.material == "brass"     ? 8530.0
                           : piece.material == "aluminium" ? 2710.0
                                                           : -1.0;
    INFO(piece.name << " of " << piece.material);
    REQUIRE(density > 0.0);
    by_hand += 2.0 * area * (piece.z_max_mm - piece.z_min_mm) * density / 1e9;
    if (piece.kind == PieceKind::kPin) ++pins;
  }
  CHECK(pins == 4);
  for (const PieceMass& piece : MassesOf(set)) {
    CHECK(piece.mass.mass_kg > 0.0);
    summed += piece.mass.mass_kg;
  }
  CHECK(summed == Approx(by_hand).epsilon(1e-4));
  CHECK(summed > 0.01);
  CHECK(summed < 0.5);
}

TEST_CASE("a hinge's own parts replace what was assumed") {
  const Chest chest;
  const HingeSet set = chest.hinge.Make();
  REQUIRE(set.complete);
  const HingeCase& h = chest.hinge;
  const LoadCase load = LoadCaseOf(h.box.job, h.box.solid, *h.arms.arm_a, *h.arms.arm_b, set);
  double lid = 0.0, arms = 0.0, box = 0.0;
  Vec2 moment = chest.load.lid.mass_kg * chest.load.lid.centre;
  for (const PieceMass& piece : MassesOf(set)) {
    (piece.body == Body::kLid ? lid : piece.body == Body::kCase ? box : arms) += piece.mass.mass_kg;
    if (piece.body == Body::kLid) moment += piece.mass.mass_kg * piece.mass.centre;
  }
  CHECK(load.lid.mass_kg == Approx(chest.load.lid.mass_kg + lid));
  CHECK((load.lid.centre - moment / load.lid.mass_kg).norm() < 1e-9);
  CHECK(load.case_mass.mass_kg == Approx(chest.load.case_mass.mass_kg + box));
  CHECK(load.arm_a.mass_kg + load.arm_b.mass_kg ==
        Approx(chest.load.arm_a.mass_kg + chest.load.arm_b.mass_kg + arms));
  // A weighed lid was weighed with its plates.
  Job weighed = h.box.job;
  weighed.loads.lid_mass_kg = 2.0;
  CHECK(LoadCaseOf(weighed, h.box.solid, *h.arms.arm_a, *h.arms.arm_b, set).lid.mass_kg == 2.0);

  // Each pin from its stack: diameter of the rod, the rows outside the spacer hold it.
  for (const Joint joint : {kCaseA, kCaseB, kLidA, kLidB}) {
    const PivotStack& stack = set.stack->pivots[joint];
    INFO(stack.pivot);
    CHECK(std::string(NameOf(joint)) == stack.pivot);
    const PinSeat& pin = load.pins[joint];
    CHECK(pin.diameter_mm == set.hardware->bushing.pin_mm);
    CHECK(pin.seat_mm + pin.wall_mm == Approx(stack.pin.z_max_mm - stack.spacer.z_max_mm));
    CHECK(pin.wall_mm == Approx(stack.body == Body::kCase ? set.stack->pin_in_wall_mm : 0.0));
    const Arm& arm = stack.arm_b ? *h.arms.arm_b : *h.arms.arm_a;
    CHECK(pin.reach_mm == Approx(stack.spacer.z_max_mm - (arm.z_min_mm + arm.z_max_mm) / 2.0));
  }
  REQUIRE(load.case_plate);
  REQUIRE(load.lid_plate);
  CHECK(load.case_plate->thread_mm ==
        Approx(set.stack->case_screw.z_max_mm - set.stack->case_face_mm));
  CHECK(load.lid_plate->screws.size() == set.lid_plate->screws.size());
  for (const double height : load.lid_plate->height_mm) CHECK(height > 0.0);

  REQUIRE(load.stop);
  const HingeForces forces =
      ForcesOf(h.box.job, h.box.solid, h.motion, chest.front, *h.arms.arm_a, *h.arms.arm_b, load);
  // The stop's own figure of how fast the part comes on agrees with the force found by balance.
  CHECK(2.0 * forces.feel.stop_n * set.stop->approach_mm ==
        Approx(forces.feel.over_centre_nmm).epsilon(1e-3));
  bool stop = false, ground = false, lid_plate = false;
  for (const Strength& s : forces.strengths) {
    stop = stop || s.part == "stop";
    ground = ground || s.part == "screws of the case plate";
    lid_plate = lid_plate || s.part == "screws of the lid plate";
    if (s.part != "stop" || s.how != "in bending" || !s.leaning) continue;
    // σ = 32 F a / (π d³) with the largest force that somebody leaning puts on it.
    const double d = set.hardware->bushing.pin_mm;
    CHECK(s.acts ==
          Approx(32.0 * forces.feel.leaning_stop_n * load.stop->reach_mm / (kPi * d * d * d))
              .epsilon(1e-3));
  }
  CHECK(stop);
  CHECK(ground);
  CHECK(lid_plate);
}

TEST_CASE("every example's hinge can be weighed and judged with its parts") {
  int judged = 0;
  for (const NamedPivots& named : ExampleLinkages()) {
    const HingeCase h(named.job, named.pivots);
    if (!h.arms.arm_a || !h.arms.arm_b) continue;
    const HingeSet set = h.Make();
    INFO(named.job);
    const HingeForces forces = ForcesOf(
        h.box.job, h.box.solid, h.motion, h.box.task.front_edge, *h.arms.arm_a, *h.arms.arm_b,
        LoadCaseOf(h.box.job, h.box.solid, *h.arms.arm_a, *h.arms.arm_b, set));
    CHECK(forces.safety > 0.0);
    CHECK_FALSE(forces.weakest.empty());
    CHECK(forces.feel.lid.mass_kg > MassOfLid(h.box.job, h.box.solid).mass_kg);
    ++judged;
  }
  CHECK(judged >= 6);
}
