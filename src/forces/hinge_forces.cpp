// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/hinge_forces.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "leaning.h"
#include "lidwright/base/check.h"
#include "lidwright/forces/material_data.h"
#include "lidwright/forces/requirements.h"
#include "lidwright/forces/virtual_work.h"

namespace lidwright {
namespace {

constexpr int kDirections = 360;
constexpr int kFewAngles = 12;
// Bushing: a maker's page on turned bronze bushings (READ).
constexpr double kBushingMoving_mpa = 25.0;
constexpr double kBushingResting_mpa = 90.0;
// [MPa, –] Dowel bearing in wood, pins under 1/4 in: 16 600 G^1.84 psi (from memory).
constexpr double kDowel_mpa = 16600.0 * 0.00689475729;
constexpr double kDowelPower = 1.84;
// [–] Of what draws a screw out of wood this part is allowed (READ: "commonly five or six").
constexpr double kScrewAllowed = 1.0 / 5.0;
// [1] Core of a machine screw's thread over its diameter (ISO 261 coarse, M2: 1.51 of 2).
constexpr double kBoltCore = 0.75;
// [MPa] Wood under a pin yields like this, to metal's 70 000 and more (across the grain, from
// memory): only the ratio to the plate counts.
constexpr double kWoodSeat_mpa = 700.0;

// [MPa, –] Stress at the proportional limit across the grain by specific gravity at 12 % moisture,
// softwoods 16.5 G^1.57 and hardwoods 21.6 G^2.09 (Wood Handbook, from memory): the lower of both.
constexpr double kAcrossSoft_mpa = 16.5, kAcrossSoftPower = 1.57;
constexpr double kAcrossHard_mpa = 21.6, kAcrossHardPower = 2.09;
// [mm] A pad has at least this much of an edge under it, once it has bedded in (common practice, no
// source).
constexpr double kOnEdge_mm = 3.0;

// Forces on one end under one load: joints as in Balance, the stop on what it stops.
struct EndLoad {
  std::array<Vec2, kJoints> joint;
  double stop_n = 0.0;
  const LidState* state = nullptr;
  bool leaning = false;
};

Situation SituationOf(const EndLoad& end) {
  return end.leaning ? Situation::kLeaning : Situation::kInUse;
}

// One end's part while a hand at the front edge holds the lid.
EndLoad HeldAt(const LidMotion& motion, const LidState& state, const LoadCase& load,
               const Vec2& front_edge) {
  const Balance held = BalanceAt(motion, state, load, HandAt(motion, state, front_edge));
  EndLoad end{{}, 0.0, &state, false};
  for (std::size_t j = 0; j < kJoints; ++j) end.joint[j] = held.joint[j] / 2.0;
  return end;
}

// How many times over a material must hold.
double FactorWanted(const MaterialData& material, bool leaning) {
  Stressed stressed = Stressed::kMetal;
  if (material.brittle) stressed = Stressed::kSolidWood;
  if (material.name == "birch plywood") stressed = Stressed::kPlywood;
  if (material.name == "acrylic") stressed = Stressed::kPlastic;
  return WantedFor(leaning ? Situation::kLeaning : Situation::kInUse, stressed).factor;
}

class Gathering {
 public:
  explicit Gathering(std::vector<Strength>& into) : into_(into) {}

  // Keeps the worst of each part, way to fail and situation.
  void Add(const Strength& strength) {
    if (!(strength.acts > 0.0)) return;
    for (Strength& known : into_) {
      if (known.part != strength.part || known.how != strength.how ||
          known.leaning != strength.leaning)
        continue;
      if (strength.Factor() / strength.wanted < known.Factor() / known.wanted) known = strength;
      return;
    }
    into_.push_back(strength);
  }

 private:
  std::vector<Strength>& into_;
};

void KeepLargest(const ArmStress& stress, ArmStress& largest) {
  if (stress.body_mpa > largest.body_mpa) {
    largest.body_mpa = stress.body_mpa;
    largest.body_at = stress.body_at;
  }
  largest.eccentricity_mm = std::max(largest.eccentricity_mm, stress.eccentricity_mm);
  largest.shear_mpa = std::max(largest.shear_mpa, stress.shear_mpa);
  largest.eye_mpa = std::max(largest.eye_mpa, stress.eye_mpa);
  largest.eye_peak_mpa = std::max(largest.eye_peak_mpa, stress.eye_peak_mpa);
  largest.tear_mpa = std::max(largest.tear_mpa, stress.tear_mpa);
  largest.bearing_mpa = std::max(largest.bearing_mpa, stress.bearing_mpa);
}

void AddArm(const ArmStrength& strength, bool arm_b, const LidMotion& motion, const EndLoad& end,
            const LoadCase& load, const MaterialData& material, Gathering& gathering,
            ArmStress& largest) {
  const Body body = arm_b ? Body::kArmB : Body::kArmA;
  const Pose X_CArm = motion.BodyPose(body, *end.state);
  ArmLoad on_arm;
  on_arm.lid_n = X_CArm.TurnBack(Vec2(-end.joint[arm_b ? kLidB : kLidA]));
  if (load.stop && load.stop->body == body && end.stop_n != 0.0) {
    on_arm.stop_n = X_CArm.TurnBack(Vec2(-end.stop_n * load.stop->normal));
    on_arm.stop_at = X_CArm.Inverse() * load.stop->at;
  }
  const ArmStress stress = strength.Under(on_arm);
  KeepLargest(stress, largest);
  const double force = on_arm.lid_n.norm();
  const std::string name = arm_b ? "arm B" : "arm A";
  const auto add = [&](const char* how, double acts, double bears) {
    gathering.Add({LoadedPart::kArm, name, how, end.leaning, force, acts, bears, "MPa",
                   FactorWanted(material, end.leaning), material.source});
  };
  add("in bending", stress.body_mpa, material.tension_mpa);
  add("in shear", stress.shear_mpa, material.shear_mpa);
  add("at an eye", material.brittle ? stress.eye_peak_mpa : stress.eye_mpa, material.tension_mpa);
  add("torn out at an eye", stress.tear_mpa, material.shear_mpa);
  add("crushed by the bushing", stress.bearing_mpa, material.bearing_mpa);
  const double push =
      on_arm.lid_n.dot(strength.arm().case_hole.centre - strength.arm().lid_hole.centre);
  if (push > 0.0) {
    gathering.Add({LoadedPart::kArm, name, "buckling sideways", end.leaning, force, force,
                   strength.Buckling_n(material.modulus_mpa), "N",
                   FactorWanted(material, end.leaning), "Euler; " + material.source,
                   HangsOn::kStiffness});
  }
}

void AddPins(const EndLoad& end, const LoadCase& load, double wood_gravity, bool moving,
             HingeForces& forces, Gathering& gathering) {
  const MaterialData* steel = FindMaterial(load.pin_material);
  LW_REQUIRE(steel != nullptr, "pin_material=" << load.pin_material);
  for (const Joint joint : {kCaseA, kCaseB, kLidA, kLidB}) {
    const PinSeat& pin = load.pins[joint];
    const double force = end.joint[joint].norm();
    const PinStress stress = PinStressOf(force, pin.reach_mm, pin.diameter_mm);
    if (std::isnan(forces.pin.bending_mpa) || stress.bending_mpa > forces.pin.bending_mpa) {
      forces.pin = stress;
      forces.pin_reach_mm = pin.reach_mm;
    }
    const auto add = [&](const char* how, double acts, double bears, double wanted,
                         const std::string& source, HangsOn size = HangsOn::kPin) {
      gathering.Add({LoadedPart::kPin, NameOf(joint), how, end.leaning, force, acts, bears, "MPa",
                     wanted, source, size});
    };
    add("in bending", stress.bending_mpa, steel->tension_mpa, FactorWanted(*steel, end.leaning),
        steel->source);
    add("in shear", stress.shear_mpa, steel->shear_mpa, FactorWanted(*steel, end.leaning),
        steel->source);
    add("pressure on its bushing", force / (pin.diameter_mm * pin.bearing_mm),
        moving ? kBushingMoving_mpa : kBushingResting_mpa, 1.0,
        "READ, a maker's page on bronze bushings");
    const MaterialData* plate = FindMaterial(load.plate_material);
    LW_REQUIRE(plate != nullptr, "plate_material=" << load.plate_material);
    std::vector<SeatLayer> layers;
    if (pin.seat_mm > 0.0) layers.push_back({0.0, pin.seat_mm, plate->modulus_mpa});
    if (pin.wall_mm > 0.0) {
      layers.push_back({pin.seat_mm, pin.seat_mm + pin.wall_mm, kWoodSeat_mpa});
    }
    if (layers.empty()) continue;
    const std::vector<double> pressures =
        SeatPressures_mpa(force, pin.reach_mm, pin.diameter_mm, layers);
    if (pin.seat_mm > 0.0) {
      add("pressed into its plate", pressures[0], plate->bearing_mpa,
          FactorWanted(*plate, end.leaning), plate->source, HangsOn::kSeat);
    }
    if (pin.wall_mm > 0.0) {
      add("pressed into the wood", pressures.back(),
          kDowel_mpa * std::pow(wood_gravity, kDowelPower),
          WantedFor(SituationOf(end), Stressed::kWoodUnderPin).factor,
          "dowel bearing, 16 600 G^1.84 psi, from memory", HangsOn::kSeat);
    }
  }
}

// A stop's rod, held at one end like a pin.
void AddStop(const EndLoad& end, const LoadCase& load, Gathering& gathering) {
  if (!load.stop || !(end.stop_n > 0.0) || std::isnan(load.stop->rod_mm)) return;
  const MaterialData* steel = FindMaterial(load.pin_material);
  const PinStress stress = PinStressOf(end.stop_n, load.stop->reach_mm, load.stop->rod_mm);
  const auto add = [&](const char* how, double acts, double bears) {
    gathering.Add({LoadedPart::kStop, "stop", how, end.leaning, end.stop_n, acts, bears, "MPa",
                   FactorWanted(*steel, end.leaning), steel->source, HangsOn::kPin});
  };
  add("in bending", stress.bending_mpa, steel->tension_mpa);
  add("in shear", stress.shear_mpa, steel->shear_mpa);
}

void AddStay(const EndLoad& end, const LoadCase& load, double gravity, Gathering& gathering) {
  if (!load.stay || !(end.stop_n > 0.0)) return;
  const StayHold& stay = *load.stay;
  const Situation situation = SituationOf(end);
  const auto add = [&](const char* part, const char* how, double bears, Stressed stressed,
                       const std::string& source) {
    gathering.Add({LoadedPart::kStay, part, how, end.leaning, end.stop_n, end.stop_n, bears, "N",
                   WantedFor(situation, stressed).factor, source, HangsOn::kStay});
  };
  add("stay", "pulled", stay.working_n, Stressed::kStay, stay.source);
  add(stay.bolted ? "bolts of the stay" : "screws of the stay", "pushed across",
      stay.share * ScrewSideLoad_n(gravity, stay.screw_mm, stay.thread_mm), Stressed::kScrew,
      "READ, handbook of civil formulas: allowed load");
}

// A pad's face on the rim, wood on wood, pressed across the grain.
void AddPad(const EndLoad& end, const LoadCase& load, double gravity, Gathering& gathering) {
  if (!load.pad || !(end.stop_n > 0.0)) return;
  const double area_mm2 = load.pad->length_mm * std::max(load.pad->bears_mm, kOnEdge_mm);
  const double softwood = kAcrossSoft_mpa * std::pow(gravity, kAcrossSoftPower);
  const double hardwood = kAcrossHard_mpa * std::pow(gravity, kAcrossHardPower);
  gathering.Add({LoadedPart::kStop, "pad", "pressed into the rim", end.leaning, end.stop_n,
                 end.stop_n / area_mm2, std::min(softwood, hardwood), "MPa",
                 WantedFor(SituationOf(end), Stressed::kWoodUnderPin).factor,
                 "Wood Handbook's formulas for compression across the grain, from memory",
                 HangsOn::kPad});
}

void AddScrews(const EndLoad& end, const LoadCase& load, const LidMotion& motion, double gravity,
               Gathering& gathering) {
  const auto add = [&](Member of, const char* name, const std::optional<PlateHold>& plate,
                       const std::array<Vec2, 2>& pins, const std::array<Vec2, 2>& forces) {
    if (!plate || plate->screws.empty()) return;
    const ScrewLoads loads = LoadsOnScrews(*plate, pins, forces);
    const double force = (forces[0] + forces[1]).norm();
    const double wanted = WantedFor(SituationOf(end), Stressed::kScrew).factor;
    if (plate->bolted) {
      const MaterialData* steel = FindMaterial(load.pin_material);
      const double core = kBoltCore * plate->screw_mm;
      gathering.Add({LoadedPart::kScrews, name, "drawn apart", end.leaning, force, loads.pull_n,
                     kPi / 4.0 * core * core * steel->tension_mpa, "N",
                     FactorWanted(*steel, end.leaning), steel->source, HangsOn::kScrew, of});
    } else {
      gathering.Add(
          {LoadedPart::kScrews, name, "drawn out of the wood", end.leaning, force, loads.pull_n,
           kScrewAllowed * ScrewPullOut_n(gravity, plate->screw_mm, plate->thread_mm), "N", wanted,
           "a fifth of READ, Wood Handbook's formula as reproduced", HangsOn::kScrew, of});
    }
    gathering.Add({LoadedPart::kScrews, name, "pushed across", end.leaning, force, loads.side_n,
                   ScrewSideLoad_n(gravity, plate->screw_mm, plate->thread_mm), "N", wanted,
                   "READ, handbook of civil formulas: allowed load", HangsOn::kScrew, of});
  };
  const Pivots& p = motion.pivots();
  add(Member::kCasePlate, "screws of the case plate", load.case_plate, {p.case_a, p.case_b},
      {-end.joint[kCaseA], -end.joint[kCaseB]});
  const Pose& X_CL = end.state->X_CL;
  add(Member::kLidPlate, "screws of the lid plate", load.lid_plate, {p.lid_a, p.lid_b},
      {X_CL.TurnBack(end.joint[kLidA]), X_CL.TurnBack(end.joint[kLidB])});
}

}  // namespace

double ArmsSafety(const Job& job, const Solid& solid, const LidMotion& motion,
                  const Vec2& front_edge, const Arm& arm_a, const Arm& arm_b) {
  const LoadCase load = UsualLoadCase(job, solid, arm_a, arm_b);
  const MaterialData& material = *FindMaterial(load.arm_material);
  const ArmStrength strength_a(arm_a), strength_b(arm_b);
  std::vector<Strength> strengths;
  Gathering gathering(strengths);
  ArmStress largest;
  for (int i = 0; i <= kFewAngles; ++i) {
    const LidState state = motion.At(job.swing.open_rad * i / kFewAngles);
    const EndLoad end = HeldAt(motion, state, load, front_edge);
    AddArm(strength_a, false, motion, end, load, material, gathering, largest);
    AddArm(strength_b, true, motion, end, load, material, gathering, largest);
  }
  double least = std::numeric_limits<double>::infinity();
  for (const Strength& s : strengths) least = std::min(least, s.Factor() / s.wanted);
  return least;
}

HingeForces ForcesOf(const Job& job, const Solid& solid, const LidMotion& motion,
                     const Vec2& front_edge, const Arm& arm_a, const Arm& arm_b,
                     const LoadCase& given) {
  HingeForces forces;
  const double open = job.swing.open_rad;
  LoadCase& load = forces.load = given;
  // A box that stands free tips before more can act.
  load.lean_n = LeanForceOf(given.lean_n,
                            TippingOf(given, motion, open, solid.bench_mm, front_edge).pull_full_n,
                            StandsOf(job))
                    .force_n;
  forces.stay_fitted = job.loads.stay;
  forces.density_kg_m3 = job.loads.density_kg_m3;
  forces.hardware_kg = load.lid.mass_kg - MassOfLid(job, solid).mass_kg;
  forces.feel = FeelOf(load, motion, open, front_edge);
  std::array<double, kJoints> pin_mm{};
  for (std::size_t j = 0; j < kJoints; ++j) pin_mm[j] = load.pins[j].diameter_mm;
  forces.holdings = HoldingsOf(forces.feel, motion, pin_mm);
  forces.load_n = std::max(forces.feel.largest_pin_n,
                           std::isnan(forces.feel.leaning_pin_n) ? 0.0 : forces.feel.leaning_pin_n);
  forces.tipping = TippingOf(load, motion, open, solid.bench_mm, front_edge);
  const MaterialData* material = FindMaterial(load.arm_material);
  LW_REQUIRE(material != nullptr, "arm_material=" << load.arm_material);
  // The wood's specific gravity by its density, 12 % of it water.
  const double gravity = job.loads.density_kg_m3 / 1120.0;

  const ArmStrength strength_a(arm_a), strength_b(arm_b);
  Gathering gathering(forces.strengths);
  forces.pin = {kUnset, kUnset};
  const auto judge = [&](const EndLoad& end, bool moving) {
    AddArm(strength_a, false, motion, end, load, *material, gathering, forces.arm_a);
    AddArm(strength_b, true, motion, end, load, *material, gathering, forces.arm_b);
    AddPins(end, load, gravity, moving, forces, gathering);
    AddScrews(end, load, motion, gravity, gathering);
    AddStop(end, load, gathering);
    AddStay(end, load, gravity, gathering);
    AddPad(end, load, gravity, gathering);
  };
  for (const double theta : forces.feel.theta_rad) {
    const LidState state = motion.At(theta);
    judge(HeldAt(motion, state, load, front_edge), true);
  }
  const LidState at_open = motion.At(open);
  for (const LeaningHand& leaning : Leanings(load, motion, open, front_edge, kDirections)) {
    judge({leaning.joint, leaning.stop_n, &at_open, true}, false);
  }
  std::stable_sort(forces.strengths.begin(), forces.strengths.end(),
                   [](const Strength& a, const Strength& b) {
                     return a.Factor() / a.wanted < b.Factor() / b.wanted;
                   });
  LW_REQUIRE(!forces.strengths.empty(), "a hinge without loads");
  const Strength& weakest = forces.strengths.front();
  forces.safety = weakest.Factor();
  forces.safety_wanted = weakest.wanted;
  forces.weakest = weakest.part + " " + weakest.how;
  return forces;
}

HingeForces ForcesOf(const Job& job, const Solid& solid, const LidMotion& motion,
                     const Vec2& front_edge, const Arm& arm_a, const Arm& arm_b,
                     const std::vector<PieceMass>& hardware) {
  return ForcesOf(job, solid, motion, front_edge, arm_a, arm_b,
                  UsualLoadCase(job, solid, arm_a, arm_b, hardware));
}

const Strength* Weakest(const HingeForces& forces, bool leaning) {
  for (const Strength& s : forces.strengths) {
    if (s.leaning == leaning) return &s;
  }
  return nullptr;
}

bool IsAsked(const HingeForces& forces, bool leaning) {
  return !(leaning && forces.stay_fitted);
}

const Strength* WeakestAsked(const HingeForces& forces, bool leaning) {
  return IsAsked(forces, leaning) ? Weakest(forces, leaning) : nullptr;
}

}  // namespace lidwright
