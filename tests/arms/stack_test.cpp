// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/stack.h"

#include <catch2/catch.hpp>

#include "arms/hinge_cases.h"

using namespace lidwright;
using namespace lidwright::testing;
using Catch::Matchers::WithinAbs;

namespace {

struct StackCase {
  explicit StackCase(Job wanted) : job(std::move(wanted)), solid(MakeSolid(job)) {}
  Arm At(int layer) const {
    Arm arm;
    const LayerSpan span = SpanOf(job, solid, layer);
    arm.layer = layer;
    arm.z_min_mm = span.z_min_mm;
    arm.z_max_mm = span.z_max_mm;
    return arm;
  }
  std::optional<StackPlan> Lay(std::vector<std::string>* faults) const {
    std::vector<std::string> none;
    const auto hardware = ChooseHardware(job, &none);
    REQUIRE(hardware);
    return LayStack(job, solid, {{1, 1}, {2, 2}, {3, 3}, {4, 4}}, At(0), At(1), *hardware, faults);
  }
  Job job;
  Solid solid;
};

}  // namespace

TEST_CASE("each pivot's section is without gaps and its pin as long as all of it") {
  std::vector<std::string> faults;
  const StackCase box(ExampleJob("sample_chest"));
  const auto plan = box.Lay(&faults);
  REQUIRE(plan);
  REQUIRE(plan->pivots.size() == 4);
  for (const PivotStack& stack : plan->pivots) {
    INFO(stack.pivot);
    double sum = 0.0;
    for (std::size_t i = 0; i < stack.rows.size(); ++i) {
      CHECK(stack.rows[i].Thickness_mm() > 0.0);
      sum += stack.rows[i].Thickness_mm();
      if (i > 0) CHECK(stack.rows[i].z_max_mm == stack.rows[i - 1].z_min_mm);
    }
    CHECK_THAT(stack.pin_length_mm, WithinAbs(sum, 1e-9));
    // The turned parts are as long as their rows.
    int turned = 0;
    for (const StackRow& row : stack.rows) {
      if (row.part != "spacer" && row.part != "washer" && row.part != "head") continue;
      ++turned;
      const LayerSpan& span = row.part == "head" ? stack.head : stack.spacer;
      CHECK(span.z_min_mm == Approx(row.z_min_mm));
      CHECK(span.z_max_mm == Approx(row.z_max_mm));
    }
    CHECK(turned == 2);
    CHECK(stack.pin.z_max_mm - stack.pin.z_min_mm == Approx(stack.pin_length_mm));
  }
  // By hand. Ground: 8 in the wall, plate 2, spacer 5 to the first layer, arm 3, play 0.2, head
  // 0.5; the second layer is an arm and a washer, 4, farther in. Lid: plate 3, washer 1, the rest
  // alike.
  CHECK_THAT(plan->pivots[0].pin_length_mm, WithinAbs(8 + 2 + 5 + 3 + 0.7, 1e-9));
  CHECK_THAT(plan->pivots[1].pin_length_mm, WithinAbs(8 + 2 + 5 + 3 + 0.7 + 4, 1e-9));
  CHECK_THAT(plan->pivots[2].pin_length_mm, WithinAbs(3 + 1 + 3 + 0.7, 1e-9));
  CHECK_THAT(plan->pivots[3].pin_length_mm, WithinAbs(3 + 1 + 3 + 0.7 + 4, 1e-9));
}

TEST_CASE("plates, packing and walls do not share room") {
  for (const char* name : {"sample_chest", "barrel_chest", "jewellery_casket"}) {
    INFO(name);
    std::vector<std::string> faults;
    const StackCase box(ExampleJob(name));
    const auto plan = box.Lay(&faults);
    REQUIRE(plan);
    CHECK(plan->case_plate.z_max_mm == box.solid.bay.z_max_mm);
    CHECK(plan->case_plate.z_min_mm >= plan->lid_plate.z_max_mm + 0.4 - 1e-9);
    CHECK(plan->lid_plate.z_min_mm >= plan->arm_a.z_max_mm + 0.5 - 1e-9);
    // The head of the inner layer's pin stays out of the outer layer's arm.
    CHECK(plan->pivots[0].head.z_min_mm > plan->arm_b.z_max_mm + 0.05);
    for (const LayerSpan& screw : {plan->case_screw, plan->lid_screw}) {
      CHECK(screw.z_max_mm <= box.job.case_form.width_mm / 2.0 - 2.0 + 1e-9);
      CHECK(screw.z_max_mm > box.solid.bay.z_max_mm + 3.0);
    }
  }
}

TEST_CASE("ends that lean get blocks that count as their wall") {
  const StackCase box(ExampleJob("flared_caddy"));
  std::vector<std::string> faults;
  const auto plan = box.Lay(&faults);
  REQUIRE(plan);
  const Job& job = box.job;
  // By hand: the wall's face leans in by tan(flare) of the height inside.
  const double lean =
      std::tan(job.case_form.end_flare_rad) * (job.case_form.height_mm - job.case_form.floor_mm);
  const double face = job.case_form.width_mm / 2.0 - job.case_form.end_wall_mm;
  const double upright = box.solid.bay.z_max_mm;
  CHECK(face - upright >= lean);
  CHECK(face - upright < lean + 1.0);
  CHECK(plan->case_block.z_min_mm == upright);
  CHECK(plan->case_block.z_max_mm == face);
  CHECK(plan->case_face_mm == upright);
  CHECK(plan->lid_face_mm == upright);
  // No metal as thick as the lean, and screws no longer than it takes to hold in block and wall.
  CHECK(plan->case_packing.z_max_mm == plan->case_packing.z_min_mm);
  CHECK(plan->lid_packing.z_max_mm == upright);
  CHECK(plan->case_screw.z_max_mm <= upright + job.case_form.end_wall_mm);
  CHECK(plan->case_screw.z_max_mm > upright + 4.0);
  // At the floor, where the block is thinnest, there is that much wood behind its face.
  CHECK(plan->case_wall_mm >= job.case_form.end_wall_mm);
  CHECK(plan->case_wall_mm <= job.case_form.end_wall_mm + face - upright - lean + 1e-6);
  CHECK(plan->lid_wall_mm == Approx(job.case_form.width_mm / 2.0 - upright).margin(1e-9));
  // Beside a lip the lid's rail may stand as far in as the block, which then is the case's alone.
  Job lipped = ExampleJob("lipped_caddy");
  lipped.case_form.end_flare_rad = 0.5 * kRadPerDeg;
  const auto beside_lip = StackCase(lipped).Lay(&faults);
  REQUIRE(beside_lip);
  CHECK(beside_lip->lid_block.z_min_mm == beside_lip->lid_block.z_max_mm);
  CHECK(beside_lip->case_block.z_max_mm - beside_lip->case_block.z_min_mm > 1.0);
  CHECK(beside_lip->case_packing.z_max_mm == beside_lip->case_packing.z_min_mm);
  // Upright ends have none.
  const auto plain = StackCase(ExampleJob("sample_chest")).Lay(&faults);
  REQUIRE(plain);
  CHECK(plain->case_block.z_min_mm == plain->case_block.z_max_mm);
  CHECK(plain->lid_block.z_min_mm == plain->lid_block.z_max_mm);
}

TEST_CASE("a thicker end wall of one gets the other's plate a packing to the common plane") {
  Job job = ExampleJob("sample_chest");
  job.lid.wall_mm = 15.0;
  std::vector<std::string> faults;
  const auto plan = StackCase(job).Lay(&faults);
  REQUIRE(plan);
  CHECK_THAT(plan->case_packing.z_max_mm - plan->case_packing.z_min_mm, WithinAbs(3.0, 1e-9));
  job.lid.wall_mm = 9.0;
  const auto other = StackCase(job).Lay(&faults);
  REQUIRE(other);
  CHECK(other->case_packing.z_max_mm == other->case_packing.z_min_mm);
  CHECK_THAT(other->lid_packing.z_max_mm - other->lid_packing.z_min_mm, WithinAbs(3.0 + 3.0, 1e-9));
}

TEST_CASE("a stack that does not fit is refused with part, number and what would fit") {
  const auto fault = [](const Job& job) {
    std::vector<std::string> faults;
    CHECK_FALSE(StackCase(job).Lay(&faults));
    REQUIRE_FALSE(faults.empty());
    return faults[0];
  };
  const Job job = ExampleJob("sample_chest");
  Job thin = job;
  thin.bay.width_mm = 12.0;
  CHECK(fault(thin) ==
        "bay: the stack at the case pin of arm B takes 14.7 mm from the end wall, bay.width is "
        "12 mm; a bay of 14.7 mm would fit, or thinner arms");
  Job long_screws = job;
  long_screws.hardware.screw_length_mm = 20.0;
  CHECK(fault(long_screws) ==
        "screws of the case plate: 20 mm would come within 2 mm of the outside of a wall of 12 "
        "mm; at most 12 mm would fit");
  Job short_screws = job;
  short_screws.hardware.screw_length_mm = 4.0;
  CHECK(fault(short_screws) ==
        "screws of the case plate: 4 mm go 2 mm into the wall, 2.5 mm screws need 3.75 mm; "
        "screws of 5.75 mm to 12 mm would fit");
  Job low = job;
  low.plates.packing_mm = 2.0;
  CHECK(fault(low) ==
        "packing of the lid plate: 2 mm do not hold it clear of a case plate of 2 mm; a packing "
        "of 2.4 mm would fit");
  Job thick = job;
  thick.hardware.washer_thickness_mm = 1.0;
  CHECK(fault(thick) ==
        "washers: one of 1 mm would rub between the layers of arms, which are 1 mm apart; 0.8 mm "
        "would fit");
  Job weak = job;
  std::vector<std::string> faults_of_bolts;
  weak.case_form.end_wall_mm = 5.0;
  CHECK(StackCase(weak).Lay(&faults_of_bolts));  // they go through it
  weak.hardware.screw = "2.5 mm";
  CHECK(fault(weak).find("screws of the case plate: a wall of 5 mm takes screws") == 0);
}

TEST_CASE("bolts come through wall, washer and nut") {
  Job job = ExampleJob("sample_chest");
  job.hardware.screw = "M3";
  std::vector<std::string> faults;
  const auto plan = StackCase(job).Lay(&faults);
  REQUIRE(plan);
  // From the head in the plate to the outside 170: plates 2 mm, and 3 on 3 mm; washer 0.8, nut 3.3.
  CHECK(plan->case_screw.z_min_mm == 156.0);
  CHECK(plan->case_screw.z_max_mm - plan->case_screw.z_min_mm == 20.0);  // 18.1 or more
  CHECK(plan->lid_screw.z_min_mm == 152.0);
  CHECK(plan->lid_screw.z_max_mm - plan->lid_screw.z_min_mm == 25.0);  // 22.1 or more
  job.hardware.screw_length_mm = 20.0;
  CHECK_FALSE(StackCase(job).Lay(&faults));
  REQUIRE(faults.size() == 1);
  CHECK(faults[0] ==
        "screws of the lid plate: bolts of 20 mm do not come through the wall with washer and nut; "
        "22.1 mm or more would fit");
}

TEST_CASE("arms stand where the plates leave off") {
  Job job = ExampleJob("sample_chest");
  const double usual = StackCase(job).At(0).z_max_mm;
  job.plates.lid_mm = 5.0;
  job.plates.packing_mm = 4.0;
  std::vector<std::string> faults;
  const StackCase thick(job);
  CHECK_THAT(usual - thick.At(0).z_max_mm, WithinAbs(3.0, 1e-9));
  const auto plan = thick.Lay(&faults);
  REQUIRE(plan);
  CHECK_THAT(plan->lid_plate.z_max_mm - plan->lid_plate.z_min_mm, WithinAbs(5.0, 1e-9));
  CHECK(plan->lid_plate.z_min_mm >= thick.At(0).z_max_mm + 1.0 - 1e-9);
  job.plates = PlateWish();
  job.plates.on_case = job.plates.on_lid = false;
  const StackCase bare(job);
  CHECK_THAT(bare.At(0).z_max_mm - usual, WithinAbs(6.0, 1e-9));
  const auto straight = bare.Lay(&faults);
  REQUIRE(straight);
  for (const PivotStack& stack : straight->pivots) {
    REQUIRE(stack.rows.size() == 5);  // wall, washer or spacer, arm, play, head
    CHECK(stack.rows[0].material == "wood");
    CHECK_THAT(stack.rows[0].Thickness_mm(), WithinAbs(8.0, 1e-9));
    CHECK(stack.rows[0].z_min_mm == 158.0);  // half of 340 less a wall of 12
  }
}
