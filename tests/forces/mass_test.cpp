// SPDX-License-Identifier: Apache-2.0
#include <catch2/catch.hpp>
#include <cmath>

#include "forces/force_cases.h"
#include "lidwright/forces/material_data.h"
#include "lidwright/job/arm_materials.h"
#include "lidwright/job/woods.h"

using namespace lidwright;
using namespace lidwright::testing;

TEST_CASE("mass, centre and inertia of boards and wedges are those of the formulas") {
  Job job = ExampleJob("barrel_chest");
  job.case_form.back_bow_mm = job.case_form.front_bow_mm = job.case_form.rim_arch_mm = 0.0;
  job.loads.density_kg_m3 = 600.0;
  Solid solid = MakeSolid(job);
  SECTION("a board over the whole width") {
    const Ring board{{0, 0}, {200, 0}, {200, 20}, {0, 20}};
    for (Station& s : solid.stations) s.lid_rings = {board};
    const MassProperties lid = MassOfLid(job, solid);
    const double mass = 200.0 * 20.0 * job.case_form.width_mm * 600.0 / 1e9;
    CHECK(lid.mass_kg == Approx(mass));
    CHECK(lid.centre.x() == Approx(100.0));
    CHECK(lid.centre.y() == Approx(10.0));
    CHECK(lid.z_mm == 0.0);
    CHECK(lid.inertia_kg_mm2 == Approx(mass * (200.0 * 200.0 + 20.0 * 20.0) / 12.0));
  }
  SECTION("a wedge along the width: its area grows linearly, its mass is half the block's") {
    for (Station& s : solid.stations) {
      const double share = s.z_mm / (job.case_form.width_mm / 2.0);
      s.lid_rings = {{{0, 0}, {100, 0}, {100, 1e-9 + 40 * share}, {0, 1e-9 + 40 * share}}};
    }
    CHECK(MassOfLid(job, solid).mass_kg ==
          Approx(100.0 * 40.0 * job.case_form.width_mm / 2.0 * 600.0 / 1e9));
    // Centre of y: ∫ h²/2 over ∫ h with h linear from 0 to 40: 40/3.
    CHECK(MassOfLid(job, solid).centre.y() == Approx(40.0 / 3.0));
    CHECK(MassOfLid(job, solid).z_mm == 0.0);
    // Half of it alone: a wedge's centre lies at two thirds.
    solid.mirrored = false;
    CHECK(MassOfLid(job, solid).z_mm == Approx(job.case_form.width_mm / 3.0));
  }
  SECTION("a weighed lid weighs what it weighs, spread the same way") {
    const MassProperties wood = MassOfLid(job, solid);
    job.loads.lid_mass_kg = 2.5;
    const MassProperties weighed = MassOfLid(job, solid);
    CHECK(weighed.mass_kg == 2.5);
    CHECK(weighed.centre == wood.centre);
    CHECK(weighed.inertia_kg_mm2 / 2.5 == Approx(wood.inertia_kg_mm2 / wood.mass_kg));
  }
}

TEST_CASE("a lid of any sections weighs its volume, by the solid's own measure") {
  for (const char* name : {"sample_chest", "barrel_chest", "jewellery_casket"}) {
    const Job job = ExampleJob(name);
    const Solid solid = MakeSolid(job);
    CHECK(MassOfLid(job, solid).mass_kg ==
          Approx(LidVolume_mm3(solid) * job.loads.density_kg_m3 / 1e9).epsilon(1e-9));
  }
}

TEST_CASE("an arm weighs its exact area less its holes, at both ends of the box") {
  const Chest chest;
  const Arm& arm = *chest.hinge.arms.arm_a;
  const double area =
      SignedArea(arm.outline) - kPi * (arm.case_hole.radius_mm * arm.case_hole.radius_mm +
                                       arm.lid_hole.radius_mm * arm.lid_hole.radius_mm);
  const MassProperties arms = MassOfArms(arm, 680.0);
  CHECK(arms.mass_kg ==
        Approx(2.0 * area * (arm.z_max_mm - arm.z_min_mm) * 680.0 / 1e9).epsilon(1e-4));
  // Points spread over the outline agree about the centre.
  Draw draw(3);
  const Ring ring = Flatten(arm.outline, 0.01);
  const Rect2 box = Bounds(ring);
  Vec2 sum = Vec2::Zero();
  int inside = 0;
  for (int i = 0; i < 200000; ++i) {
    const Vec2 p(draw(box.low.x(), box.high.x()), draw(box.low.y(), box.high.y()));
    if (!Contains({ring}, p) || (p - arm.case_hole.centre).norm() < arm.case_hole.radius_mm ||
        (p - arm.lid_hole.centre).norm() < arm.lid_hole.radius_mm) {
      continue;
    }
    sum += p;
    ++inside;
  }
  REQUIRE(inside > 10000);
  CHECK((sum / inside - arms.centre).norm() < 0.5);
}

TEST_CASE("two bodies together have the sum of mass and moments") {
  const MassProperties p{2.0, Vec2(10, 0), 4.0, 100.0}, q{1.0, Vec2(40, 30), -2.0, 50.0};
  const MassProperties both = Together(p, q);
  CHECK(both.mass_kg == 3.0);
  CHECK((both.centre - Vec2(20, 10)).norm() < 1e-12);
  CHECK(both.z_mm == Approx(2.0));
  // By the parallel axis about the origin: sums of I + m r².
  CHECK(both.inertia_kg_mm2 + 3.0 * 500.0 == Approx(100.0 + 2.0 * 100.0 + 50.0 + 2500.0));
  CHECK(Together(p, MassProperties{}).mass_kg == 2.0);
}

TEST_CASE("the density of a wood is its oven-dry mass and 12 % of water") {
  // Wood Handbook (READ as digitised): black cherry 0.50, hard maple 0.63.
  CHECK(Density_kg_m3(*FindWood("black cherry")) == Approx(560.0));
  CHECK(Density_kg_m3(*FindWood("hard maple")) == Approx(705.6));
  CHECK(FindWood("balsa") == nullptr);
}

TEST_CASE("woods and metals are those of the tables that were read") {
  // Wood Handbook Table 5-3a (READ as digitised): SG, MOR, compression, shear.
  const auto wood = [](const char* name, double gravity, double mor, double c, double s) {
    const Wood* found = FindWood(name);
    REQUIRE(found);
    CHECK(found->specific_gravity == gravity);
    CHECK(found->bending_mpa == mor);
    CHECK(found->compression_mpa == c);
    CHECK(found->shear_mpa == s);
  };
  wood("black cherry", 0.50, 85.0, 49.0, 11.7);
  wood("hard maple", 0.63, 109.0, 54.0, 16.1);
  wood("white oak", 0.68, 105.0, 51.3, 13.8);
  wood("white ash", 0.60, 106.0, 51.1, 13.2);
  wood("yellow birch", 0.62, 114.5, 56.3, 13.0);
  // READ: 6061-T6 2710 kg/m³, 68.9 GPa, yield 255; 304 annealed 7860, 193, 207; cartridge brass
  // 110 GPa, yield from 110.
  const auto metal = [](const char* name, double density, double modulus, double yield) {
    const MaterialData* found = FindMaterial(name);
    REQUIRE(found);
    CHECK(found->density_kg_m3 == density);
    CHECK(found->modulus_mpa == modulus);
    CHECK(found->tension_mpa == yield);
    CHECK(found->shear_mpa == Approx(yield / std::sqrt(3.0)));
  };
  metal("aluminium", 2710.0, 68900.0, 255.0);
  metal("stainless steel", 7860.0, 193000.0, 207.0);
  metal("brass", 8530.0, 110000.0, 110.0);  // density from memory
  for (const ArmMaterial& arms : ArmMaterials()) {
    REQUIRE(FindMaterial(arms.name));
    CHECK(FindMaterial(arms.name)->factor_wanted == arms.factor_wanted);
  }
  CHECK(FindMaterial("unobtainium") == nullptr);
}
