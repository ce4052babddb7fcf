// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/grain.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "forces/arm_shapes.h"
#include "forces/pull_along.h"
#include "lidwright/arms/shop_sheets.h"
#include "lidwright/base/check.h"
#include "lidwright/forces/dowels.h"
#include "lidwright/forces/requirements.h"
#include "lidwright/job/woods.h"

using namespace lidwright;
using namespace lidwright::testing;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

Arm Turned(const Arm& arm, double angle) {
  const Pose pose = Pose::Make(angle, Vec2(3.0, -7.0));
  Arm turned = arm;
  for (OutlineVertex& v : turned.centreline) v.point = pose * v.point;
  turned.outline = Moved(arm.outline, pose);
  turned.case_hole.centre = pose * arm.case_hole.centre;
  turned.lid_hole.centre = pose * arm.lid_hole.centre;
  return turned;
}

}  // namespace

TEST_CASE("Hankinson's formula has its tabulated shares and the forest laboratory's stresses") {
  // n = 2, Q/P = 1/15: 25° 0.286, 45° 0.125, 60° 0.0870 of P (check values, derived by hand).
  for (const auto& [degrees, share] : {std::pair(25.0, 0.286), {45.0, 0.125}, {60.0, 0.0870}}) {
    CHECK_THAT(Hankinson(15.0, 1.0, degrees * kRadPerDeg, 2.0) / 15.0, WithinAbs(share, 0.0005));
  }
  // READ (Forest Products Laboratory, report on bearing at angles to the grain): oak's basic
  // stresses 1350 and 365 psi are the formula's ends; half way it is their harmonic mean.
  CHECK_THAT(Hankinson(1350.0, 365.0, 0.0, 2.0), WithinRel(1350.0, 1e-12));
  CHECK_THAT(Hankinson(1350.0, 365.0, kPi / 2.0, 2.0), WithinRel(365.0, 1e-12));
  CHECK_THAT(Hankinson(1350.0, 365.0, kPi / 4.0, 2.0),
             WithinRel(2.0 / (1.0 / 1350.0 + 1.0 / 365.0), 1e-12));
  // The lower power is the weaker in between and the same at the ends.
  for (double degrees = 5.0; degrees < 90.0; degrees += 5.0) {
    const double a = degrees * kRadPerDeg;
    CHECK(Hankinson(85.0, 3.9, a, kHankinsonPulled) < Hankinson(85.0, 3.9, a, 2.0));
  }
  CHECK_THROWS_AS(Hankinson(1.0, 0.0, 0.1, 2.0), ContractError);
}

TEST_CASE("a bend that opens is pulled apart across its layers as elasticity says") {
  // The exact plane solution for a curved bar under end moments (Golovin; Timoshenko and Goodier):
  // with N = (b²−a²)² − 4a²b² ln²(b/a),
  // σ_r = −4M/N (a²b²/r² ln(b/a) + b² ln(r/b) + a² ln(a/r)); M closes the bend.
  int bends = 0;
  for (const double ratio : {1.1, 1.3, 1.6, 2.0, 3.0}) {
    const double a = 10.0, b = ratio * a, moment = 1000.0, thickness = 1.0;
    const double log = std::log(b / a);
    const double n = std::pow(b * b - a * a, 2) - 4.0 * a * a * b * b * log * log;
    double exact = 0.0;
    for (int i = 1; i < 4000; ++i) {
      const double r = a + (b - a) * i / 4000.0;
      exact = std::max(exact, std::abs(4.0 * moment / n *
                                       (a * a * b * b / (r * r) * log + b * b * std::log(r / b) +
                                        a * a * std::log(a / r))));
    }
    const double ours = RadialPull_mpa(moment, b - a, thickness, (a + b) / 2.0);
    INFO(ratio);
    CHECK_THAT(ours, WithinRel(exact, 0.02));
    ++bends;
  }
  CHECK(bends == 5);
  // Gentle bends: the timber codes' 3 M / (2 R b h), and no step where the formula changes.
  CHECK_THAT(RadialPull_mpa(1000.0, 8.0, 3.0, 1600.0),
             WithinRel(1.5 * 1000.0 / (1600.0 * 24.0), 1e-4));
  CHECK_THAT(RadialPull_mpa(1000.0, 8.0, 3.0, 2399.9),
             WithinRel(RadialPull_mpa(1000.0, 8.0, 3.0, 2400.1), 2e-4));
}

TEST_CASE("a straight strap along its grain fails where the plain formulas say") {
  const Arm arm = ArmWithBend(0.0);
  const ArmStrength strength(arm);
  const StrapMaterial cherry = *StrapOf("hardwood", 3.0, "black cherry");
  CHECK(cherry.name == "black cherry");
  const StrapUse pulled = UseOf(strength, {PullAlong(arm, 100.0)}, cherry, 0.0);
  const EyeStress eye = strength.EyeUnder(arm.lid_hole, Vec2(100.0, 0.0));
  // Pulled by its pins: the eye's net section, its tearing or its crushing, whichever is most.
  const double net = eye.peak_mpa / 85.0, torn = eye.tear_mpa / 11.7;
  const double crushed = eye.bearing_mpa / DowelBearing_mpa(0.50, 4.0, 0.0);
  CHECK_THAT(pulled.used, WithinRel(std::max({net, torn, crushed}), 1e-3));
  // Across the grain the same strap bears a twentieth at its eye.
  const StrapUse across = UseOf(strength, {PullAlong(arm, 100.0)}, cherry, kPi / 2.0);
  CHECK(across.how == StrapFailure::kEye);
  CHECK_THAT(across.used, WithinRel(eye.peak_mpa / 3.9, 1e-3));
  // Uses are linear in the load.
  CHECK_THAT(UseOf(strength, {PullAlong(arm, 300.0)}, cherry, 0.4).used,
             WithinRel(3.0 * UseOf(strength, {PullAlong(arm, 100.0)}, cherry, 0.4).used, 1e-9));
}

TEST_CASE("a bent strap is used most where its leg runs at an angle to the grain") {
  const Arm arm = ArmWithBend(30.0);
  const ArmStrength strength(arm);
  const std::vector<ArmLoad> loads{PullAlong(arm, 60.0), PullAlong(arm, -60.0)};
  const StrapMaterial maple = *StrapOf("hardwood", 3.0, "hard maple");
  const StrapUse flat = UseOf(strength, loads, maple, 0.0);
  // By hand, section by section: |M|/W at the edge over Hankinson at the section's own angle.
  double worst = 0.0;
  for (std::size_t l = 0; l < loads.size(); ++l) {
    const std::vector<SectionState> states = strength.Along(loads[l]);
    for (std::size_t i = 0; i < states.size(); ++i) {
      const ArmSection& section = strength.sections()[i];
      const double angle = std::atan2(section.along.y(), section.along.x());
      const double bent = std::max(std::abs(states[i].edge.left_mpa - states[i].direct_mpa),
                                   std::abs(states[i].edge.right_mpa - states[i].direct_mpa));
      const double direct = states[i].direct_mpa;
      worst = std::max(worst, bent / Hankinson(109.0, 4.6, angle, 1.5) +
                                  (direct > 0 ? direct / Hankinson(109.0, 4.6, angle, 1.5)
                                              : -direct / Hankinson(54.0, 10.1, angle, 2.0)));
    }
  }
  CHECK(flat.how == StrapFailure::kEdge);
  CHECK_THAT(flat.used, WithinRel(worst, 1e-3));
  // The state along the arm is what Under reports the largest of.
  const ArmStress under = strength.Under(loads[0]);
  double body = 0.0, shear = 0.0;
  for (const SectionState& state : strength.Along(loads[0])) {
    body = std::max(body, state.edge.Largest());
    shear = std::max(shear, state.shear_mpa);
  }
  CHECK(body == under.body_mpa);
  CHECK(shear == under.shear_mpa);
  // Only the pull that straightens the bend splits it: one of the two loads.
  double opened = 0.0, closed = 0.0;
  for (const SectionState& state : strength.Along(loads[0])) opened += state.radial_mpa;
  for (const SectionState& state : strength.Along(loads[1])) closed += state.radial_mpa;
  CHECK(opened > 0.0);
  CHECK(closed == 0.0);
}

TEST_CASE("the chosen grain is the best of all directions, turned with the arm") {
  int turned_arms = 0;
  for (const double offset : {12.0, 25.0, 40.0}) {
    for (const double turn : {0.0, 0.6, 2.0}) {
      const Arm arm = Turned(ArmWithBend(offset), turn);
      const ArmStrength strength(arm);
      std::vector<ArmLoad> loads{PullAlong(arm, 40.0), PullAlong(arm, -25.0)};
      loads[1].lid_n += Vec2(3.0, -2.0);
      for (const char* name : {"hardwood", "birch plywood"}) {
        const StrapMaterial material = *StrapOf(name, 3.0, "white ash");
        const GrainChoice choice = ChooseGrain(strength, loads, material);
        INFO(name << " " << offset << " " << turn);
        REQUIRE_FALSE(choice.refused);
        double best = 1e300;
        for (int degrees = 0; degrees < 180; ++degrees) {
          const double grain = degrees * kRadPerDeg;
          if (material.kind == StrapKind::kSolidWood &&
              SteepestRun_rad(strength, grain) > kAcrossGrain_rad)
            continue;
          best = std::min(best, UseOf(strength, loads, material, grain).used);
        }
        CHECK(choice.use.used <= best * (1.0 + 1e-9));
        CHECK_THAT(choice.use.used,
                   WithinRel(UseOf(strength, loads, material, choice.grain_rad).used, 1e-12));
        CHECK_THAT(choice.steepest_rad,
                   WithinAbs(SteepestRun_rad(strength, choice.grain_rad), 1e-12));
      }
      ++turned_arms;
    }
  }
  CHECK(turned_arms == 9);
}

TEST_CASE("an arm that turns back through half a circle has no grain that runs along it") {
  Arm arm;
  // Two legs side by side joined by a half circle: every grain runs across it somewhere.
  arm.centreline = {{{0, 0}, 0.0}, {{60, 0}, 1.0}, {{60, 40}, 0.0}, {{0, 40}, 0.0}};
  arm.outline = ArmOutline(arm.centreline, {8.0, 12.0, 4.0, 2.0});
  arm.case_hole = {{0, 0}, 2.0};
  arm.lid_hole = {{0, 40}, 2.0};
  arm.z_max_mm = 4.0;
  const ArmStrength strength(arm);
  const std::vector<ArmLoad> loads{PullAlong(arm, 20.0)};
  const GrainChoice oak = ChooseGrain(strength, loads, *StrapOf("hardwood", 4.0, "white oak"));
  CHECK(oak.refused);
  CHECK(oak.steepest_rad > kAcrossGrain_rad);
  CHECK(oak.use.used > 0.0);
  CHECK_FALSE(ChooseGrain(strength, loads, *StrapOf("birch plywood", 4.0)).refused);
  const GrainChoice brass = ChooseGrain(strength, loads, *StrapOf("brass", 4.0));
  CHECK_FALSE(brass.refused);
  CHECK(brass.grain_rad == 0.0);
}

TEST_CASE("a pushed strap buckles at the strut's load, pulled it does not") {
  const Arm arm = ArmWithBend(0.0, 8.0, 8.0, 4.0);
  const ArmStrength strength(arm);
  const StrapMaterial aluminium = *StrapOf("aluminium", 3.0);
  // As wide as its eyes, so the narrowest section is the 4 mm beside a hole: I = 4 · 27 / 12 = 9.
  const double euler = kPi * kPi * 68900.0 * 9.0 / 1e4;
  CHECK_THAT(StrutLoad_n(strength, aluminium, 0.0), WithinRel(euler, 0.02));
  CHECK_THAT(StrutLoad_n(strength, aluminium, 0.0), WithinRel(strength.Buckling_n(68900.0), 1e-9));
  const StrapUse pushed = UseOf(strength, {PullAlong(arm, -100.0)}, aluminium, 0.0);
  CHECK(pushed.how == StrapFailure::kBuckled);
  CHECK_THAT(pushed.used, WithinRel(100.0 / strength.Buckling_n(68900.0), 1e-9));
  CHECK(UseOf(strength, {PullAlong(arm, 100.0)}, aluminium, 0.0).how != StrapFailure::kBuckled);
  // Across its grain a strap of wood is a fifteenth as stiff.
  const StrapMaterial oak = *StrapOf("white oak", 3.0);
  CHECK_THAT(StrutLoad_n(strength, oak, kPi / 2.0),
             WithinRel(StrutLoad_n(strength, oak, 0.0) / 15.0, 1e-6));
}

TEST_CASE("materials of straps are those of the tables, and unknown ones are nothing") {
  for (const char* name : {"birch plywood", "hardwood", "brass", "aluminium", "stainless steel",
                           "acrylic", "mild steel", "phenolic", "white oak"}) {
    const std::optional<StrapMaterial> m = StrapOf(name, 3.0);
    INFO(name);
    REQUIRE(m);
    CHECK(m->density_kg_m3 > 300.0);
    CHECK_FALSE(m->source.empty());
    for (const double angle : {0.0, 0.3, kPi / 4, kPi / 2}) {
      const StrapStrength s = StrengthAt(*m, angle);
      for (const double strength : {s.bending_mpa, s.tension_mpa, s.compression_mpa, s.shear_mpa,
                                    s.flatwise_mpa, s.modulus_mpa, s.flatwise_modulus_mpa}) {
        CHECK(strength > 0.0);
      }
    }
  }
  CHECK(StrengthAt(*StrapOf("aluminium", 2.0), 0.0).tension_mpa == 255.0);
  CHECK_FALSE(StrapOf("cheese", 3.0));
  CHECK_FALSE(StrapOf("hardwood", 3.0, "cheese"));
}

TEST_CASE("the first sheet in order that holds an arm is the lightest of all that hold it") {
  int lightest_found = 0;
  for (const bool inch : {false, true}) {
    for (const double pull : {10.0, 40.0, 160.0}) {
      Arm arm = ArmWithBend(18.0, 12.0, 14.0, 4.0);
      const auto holds = [&](const StockSheet& sheet) {
        arm.z_max_mm = arm.z_min_mm + sheet.thickness_mm;
        const ArmStrength strength(arm);
        const StrapMaterial material = *StrapOf(sheet.material, sheet.thickness_mm, "hard maple");
        const GrainChoice choice =
            ChooseGrain(strength, {PullAlong(arm, pull), PullAlong(arm, -pull)}, material);
        const Stressed kind = material.kind == StrapKind::kMetal       ? Stressed::kMetal
                              : material.kind == StrapKind::kPlastic   ? Stressed::kPlastic
                              : material.kind == StrapKind::kSolidWood ? Stressed::kSolidWood
                                                                       : Stressed::kPlywood;
        return !choice.refused &&
               WantedFor(Situation::kInUse, kind).factor * choice.use.used <= 1.0;
      };
      double first = 0.0, least = 1e300;
      for (const StockSheet& sheet : SheetsToTry(inch, {}, 1.0, 7.0)) {
        if (!holds(sheet)) continue;
        if (first == 0.0) first = WeightOf_kg_m2(sheet);
        least = std::min(least, WeightOf_kg_m2(sheet));
      }
      if (first == 0.0) continue;
      CHECK(first <= least * 1.01);
      ++lightest_found;
    }
  }
  CHECK(lightest_found >= 4);
}
