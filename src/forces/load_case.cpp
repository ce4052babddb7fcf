// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/load_case.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/forces/material_data.h"

namespace lidwright {
namespace {

// The assumptions of UsualLoadCase, all common practice without a source.
constexpr double kBushingWalls_mm = 1.0;
constexpr double kThinnestPin_mm = 0.5;
constexpr double kWasher_mm = 1.0;
constexpr double kSeat_mm = 3.0;
constexpr double kWall_mm = 6.0;
constexpr double kContents_kg_m3 = 200.0;
constexpr double kMm3PerM3 = 1e9;
// [mm] Arcs of what a plate stands on become chords this near.
constexpr double kFootChord_mm = 0.01;
const std::string kSteel = "mild steel";

double Middle(const Arm& arm) {
  return (arm.z_min_mm + arm.z_max_mm) / 2.0;
}

}  // namespace

const char* NameOf(Joint joint) {
  constexpr std::array<const char*, kJoints> kNames{"case pin of arm A", "case pin of arm B",
                                                    "lid pin of arm A", "lid pin of arm B"};
  return kNames[joint];
}

BoxStands StandsOf(const Job& job) {
  return job.loads.stands == "free" ? BoxStands::kFree : BoxStands::kFixed;
}

double LeanShareOf(const Job& job, double arms_z_mm) {
  return arms_z_mm > 0.0 ? 0.5 + job.case_form.width_mm / (4.0 * arms_z_mm) : 1.0;
}

double ContentsOf_kg(const Job& job, const Solid& solid) {
  if (!std::isnan(job.loads.contents_kg)) return job.loads.contents_kg;
  const double deep = solid.mouth_front_mm - solid.mouth_back_mm;
  const double high = job.case_form.height_mm - job.case_form.floor_mm;
  const double wide = job.case_form.width_mm - 2.0 * job.case_form.end_wall_mm;
  const double room_mm3 = std::max(0.0, deep) * std::max(0.0, high) * std::max(0.0, wide);
  return std::isfinite(room_mm3) ? room_mm3 * kContents_kg_m3 / kMm3PerM3 : 0.0;
}

LoadCase UsualLoadCase(const Job& job, const Solid& solid, const Arm& arm_a, const Arm& arm_b,
                       const std::vector<PieceMass>& hardware) {
  const MaterialData* material = FindMaterial(job.arms.material);
  LW_REQUIRE(material != nullptr, "material=" << job.arms.material);
  LoadCase load;
  load.lid = MassOfLid(job, solid);
  load.arm_a = MassOfArms(arm_a, material->density_kg_m3);
  load.arm_b = MassOfArms(arm_b, material->density_kg_m3);
  load.case_mass = MassOfCase(job, solid);
  const bool weighed = !std::isnan(job.loads.lid_mass_kg);
  for (const PieceMass& piece : hardware) {
    if (piece.body == Body::kLid && weighed) continue;
    MassProperties& body = piece.body == Body::kLid    ? load.lid
                           : piece.body == Body::kArmA ? load.arm_a
                           : piece.body == Body::kArmB ? load.arm_b
                                                       : load.case_mass;
    body = Together(body, piece.mass);
  }
  load.arm_material = job.arms.material;
  if (!material->brittle) load.plate_material = job.arms.material;
  const double face = std::max(arm_a.z_max_mm, arm_b.z_max_mm) + kWasher_mm;
  for (const Joint joint : {kCaseA, kCaseB, kLidA, kLidB}) {
    const Arm& arm = joint == kCaseA || joint == kLidA ? arm_a : arm_b;
    const Circle& hole = joint < kLidA ? arm.case_hole : arm.lid_hole;
    PinSeat& pin = load.pins[joint];
    pin.diameter_mm = std::max(kThinnestPin_mm, 2.0 * hole.radius_mm - kBushingWalls_mm);
    pin.reach_mm = face - Middle(arm);
    pin.bearing_mm = arm.z_max_mm - arm.z_min_mm;
    pin.seat_mm = kSeat_mm;
    pin.wall_mm = joint < kLidA ? kWall_mm : 0.0;
  }
  load.friction = job.loads.friction;
  load.lean_n = job.loads.hand_n;
  load.lean_share = LeanShareOf(job, (Middle(arm_a) + Middle(arm_b)) / 2.0);
  const auto or_else = [](double said, double measured) {
    return std::isnan(said) ? measured : said;
  };
  load.feet_back_x_mm = or_else(job.loads.feet_back_mm, solid.stands_back_mm);
  load.feet_front_x_mm = or_else(job.loads.feet_front_mm, solid.stands_front_mm);
  const double high = job.case_form.height_mm - job.case_form.floor_mm;
  load.contents_kg = ContentsOf_kg(job, solid);
  load.contents_at = {(solid.mouth_back_mm + solid.mouth_front_mm) / 2.0,
                      solid.bench_mm + job.case_form.floor_mm + high / 2.0};
  return load;
}

std::vector<PieceMass> MassesOf(const HingeSet& set) {
  std::vector<PieceMass> masses;
  for (const HingePiece& piece : set.pieces) {
    if (piece.kind == PieceKind::kArm || piece.kind == PieceKind::kJig) continue;
    const std::string& name = piece.material == "steel" ? kSteel : piece.material;
    const MaterialData* material = FindMaterial(name);
    LW_REQUIRE(material != nullptr, piece.name << " of " << piece.material);
    std::vector<Circle> holes = piece.holes;
    holes.insert(holes.end(), piece.drills.begin(), piece.drills.end());
    masses.push_back({piece.name, piece.body,
                      MassOfPair(piece.outline, holes, piece.z_max_mm - piece.z_min_mm,
                                 material->density_kg_m3)});
  }
  return masses;
}

LoadCase LoadCaseOf(const Job& job, const Solid& solid, const Arm& arm_a, const Arm& arm_b,
                    const HingeSet& set) {
  LoadCase load = UsualLoadCase(job, solid, arm_a, arm_b, MassesOf(set));
  if (!set.stack || !set.hardware) return load;
  const StackPlan& plan = *set.stack;
  const Hardware& hardware = *set.hardware;
  load.plate_material = plan.plate_material;
  for (const Joint joint : {kCaseA, kCaseB, kLidA, kLidB}) {
    const PivotStack& stack = plan.pivots[joint];
    const Arm& arm = stack.arm_b ? arm_b : arm_a;
    PinSeat& pin = load.pins[joint];
    pin.diameter_mm = hardware.bushing.pin_mm;
    pin.reach_mm = stack.spacer.z_max_mm - Middle(arm);
    pin.seat_mm = pin.wall_mm = 0.0;
    for (const StackRow& row : stack.rows) {
      if (row.z_min_mm < stack.spacer.z_max_mm - kSamePoint_mm) break;
      (row.material == "wood" ? pin.wall_mm : pin.seat_mm) += row.Thickness_mm();
    }
  }
  const std::array<double, 2> middles{Middle(arm_a), Middle(arm_b)};
  const auto hold = [&](const Plate& plate, const Outline& foot, const LayerSpan& screw,
                        double face, double wall) {
    PlateHold held;
    held.screws = plate.screws;
    held.edge = Flatten(foot, kFootChord_mm);
    held.screw_mm = hardware.screw.diameter_mm;
    held.bolted = hardware.bolts;
    held.thread_mm = hardware.bolts ? wall : screw.z_max_mm - face;
    held.height_mm = {face - middles[0], face - middles[1]};
    return held;
  };
  if (set.case_plate) {
    load.case_plate = hold(*set.case_plate, set.case_plate->outline, plan.case_screw,
                           plan.case_face_mm, plan.case_wall_mm);
  }
  // The lid plate stands on its packing and tilts over the edge of that.
  if (set.lid_plate) {
    load.lid_plate = hold(*set.lid_plate, set.lid_plate->packing, plan.lid_screw, plan.lid_face_mm,
                          plan.lid_wall_mm);
  }
  if (set.stop) {
    const Stop& stop = *set.stop;
    load.stop = {stop.stops, stop.contact, stop.normal, stop.rod_mm};
    const double middle = stop.stops == Body::kArmA ? middles[0]
                          : stop.stops == Body::kArmB
                              ? middles[1]
                              : (plan.lid_plate.z_min_mm + plan.lid_plate.z_max_mm) / 2.0;
    const double face = set.case_plate ? plan.case_plate.z_min_mm : plan.case_face_mm;
    load.stop->reach_mm = std::max(0.0, face - middle);
  }
  if (set.pad) {
    StopContact down;
    down.body = Body::kLid;
    down.at = set.pad->contact;
    down.normal = set.pad->normal;
    load.stop = down;
    load.pad = {set.pad->Length_mm(), set.pad->bears_mm};
  }
  if (set.stay) {
    const Stay& stay = *set.stay;
    StopContact pull;  // as if it were pushed from the other side
    pull.at = stay.lid_end_open;
    pull.normal = (stay.lid_end_open - stay.on_case).normalized();
    load.stop = pull;
    const StayFixing& fixing = stay.fixing;
    load.stay = {stay.sold.name,
                 stay.sold.source.where,
                 stay.sold.working_n,
                 fixing.shank_mm,
                 std::min(fixing.in_case.thread_mm, fixing.in_lid.thread_mm),
                 fixing.share,
                 fixing.bolted};
  }
  return load;
}

}  // namespace lidwright
