// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/stack.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"

namespace lidwright {
namespace {

// [mm] Play of an arm along its pin.
constexpr double kEndPlay_mm = 0.2;
// [mm] Thickness of the head on a pin's inner end: a washer soldered or riveted on. Head and play
// stay under the millimetre between two layers of arms.
constexpr double kHead_mm = 0.7;
// [mm] Least room between a plate and an arm, for a washer that can be made.
constexpr double kLeastWasher_mm = 0.5;
// [mm] Plates that pass each other keep this apart.
constexpr double kPlatesApart_mm = 0.4;
// [mm] Wood left behind the tip of a screw or a pin's hole.
constexpr double kSkin_mm = 2.0;
// [mm] Ground pins go this far into the wall where it is thick enough.
constexpr double kPinInWall_mm = 8.0;
// [1] Thread in the wood, and depth of a pin that nothing but wood holds, in diameters (common
// practice).
constexpr double kThreadDepth = 1.5;
constexpr double kPinDepth = 2.0;

class Stack {
 public:
  Stack(const Job& job, const Solid& solid, const Hardware& hardware, const StackWish& wish,
        std::vector<std::string>* faults)
      : job_(job), solid_(solid), hardware_(hardware), wish_(wish), faults_(*faults) {
    half_ = job.box.width_mm / 2.0;
    wall_ = solid.bay.z_max_mm;
    // Behind a lip along the ends the lid is solid as well.
    lid_wall_ = solid.end_lip ? LidEnd_mm(job, solid) - LidFace_mm(job, solid) : job.lid.wall_mm;
  }

  void Plates(StackPlan& plan) const {
    plan.case_face_mm = half_ - job_.box.end_wall_mm;
    plan.lid_face_mm = LidFace_mm(job_, solid_);
    plan.ground_packing = {wall_, plan.case_face_mm};
    plan.ground_plate = {wall_ - (wish_.ground_plate ? wish_.ground_plate_mm : 0.0), wall_};
    const double packed = wish_.lid_plate ? wish_.packing_mm : 0.0;
    const double lid_plate = wish_.lid_plate ? wish_.lid_plate_mm : 0.0;
    plan.lid_packing = {wall_ - packed, plan.lid_face_mm};
    plan.lid_plate = {wall_ - packed - lid_plate, wall_ - packed};
    const double room = wall_ - std::max(plan.arm_a.z_max_mm, plan.arm_b.z_max_mm);
    const double taken = std::max(wall_ - plan.lid_plate.z_min_mm,
                                  plan.ground_plate.z_max_mm - plan.ground_plate.z_min_mm);
    if (taken > room - kLeastWasher_mm + kSamePoint_mm) {
      faults_.push_back("plates: packing and lid plate take " + Say(taken) + " of the " +
                        Say(room) + " between end wall and arms, and the washers need " +
                        Say(kLeastWasher_mm) + ": plates of " + Say(room - kLeastWasher_mm) +
                        " together would fit");
    }
    if (wish_.lid_plate && wish_.ground_plate &&
        packed < wish_.ground_plate_mm + kPlatesApart_mm - kSamePoint_mm) {
      faults_.push_back("packing of the lid plate: " + Say(packed) +
                        " do not hold it clear of a ground plate of " + Say(wish_.ground_plate_mm) +
                        "; a packing of " + Say(wish_.ground_plate_mm + kPlatesApart_mm) +
                        " would fit");
    }
  }

  void Fixings(StackPlan& plan) const {
    const double most = job_.box.end_wall_mm - kSkin_mm;
    plan.pin_in_wall_mm = std::clamp(most, 0.0, kPinInWall_mm);
    const double least = kPinDepth * hardware_.bushing.pin_mm;
    const auto straight_in = [&](const std::string& wall, double thickness) {
      if (thickness - kSkin_mm >= least - kSamePoint_mm) return;
      faults_.push_back("pins straight in the " + wall + ": a pin of " +
                        Say(hardware_.bushing.pin_mm) + " needs to go in " + Say(least) +
                        ", the wall of " + Say(thickness) + " gives " +
                        Say(std::max(0.0, thickness - kSkin_mm)) + "; a wall of " +
                        Say(least + kSkin_mm) + ", a thinner bushing or a plate would fit");
    };
    if (!wish_.ground_plate) straight_in("case's end wall", job_.box.end_wall_mm);
    if (!wish_.lid_plate) straight_in("lid's end wall", lid_wall_);
    if (wish_.ground_plate) {
      plan.ground_screw = Screw("ground plate", plan.ground_plate.z_min_mm, plan.case_face_mm,
                                job_.box.end_wall_mm);
    }
    if (wish_.lid_plate) {
      plan.lid_screw = Screw("lid plate", plan.lid_plate.z_min_mm, plan.lid_face_mm, lid_wall_);
    }
  }

  PivotStack Through(const StackPlan& plan, bool of_lid, bool of_b, const Vec2& centre) const {
    const LayerSpan arm = of_b ? plan.arm_b : plan.arm_a;
    const std::string name = of_b ? "arm B" : "arm A";
    PivotStack stack;
    stack.pivot = (of_lid ? "lid pin of " : "ground pin of ") + name;
    stack.body = of_lid ? Body::kLid : Body::kCase;
    stack.arm_b = of_b;
    stack.centre = centre;
    double inner = 0.0;  // how far inwards the rows have come
    const auto add = [&](const std::string& part, const std::string& material, double to) {
      if (inner - to < kSamePoint_mm) return;
      stack.rows.push_back({part, material, to, inner});
      inner = to;
    };
    if (of_lid && wish_.lid_plate) {
      inner = plan.lid_plate.z_max_mm;
      add("lid plate", plan.plate_material, plan.lid_plate.z_min_mm);
    } else if (of_lid) {
      inner = plan.lid_face_mm + std::min(kPinInWall_mm, lid_wall_ - kSkin_mm);
      add("lid's end wall", "wood", plan.lid_face_mm);
    } else {
      inner = plan.case_face_mm + plan.pin_in_wall_mm;
      add("case's end wall", "wood", plan.case_face_mm);
      if (wish_.ground_plate) {
        add("ground packing", "packing", plan.ground_packing.z_min_mm);
        add("ground plate", plan.plate_material, plan.ground_plate.z_min_mm);
      }
    }
    stack.pin.z_max_mm = stack.rows.front().z_max_mm;
    stack.spacer = {arm.z_max_mm, inner};
    add(stack.spacer.z_max_mm - stack.spacer.z_min_mm > 1.5 ? "spacer" : "washer", "brass",
        arm.z_max_mm);
    add(name + " with bushing", job_.arms.material, arm.z_min_mm);
    add("play", "air", arm.z_min_mm - kEndPlay_mm);
    add("head", "brass", arm.z_min_mm - kEndPlay_mm - kHead_mm);
    stack.head = {inner, inner + kHead_mm};
    stack.pin.z_min_mm = inner;
    stack.pin_length_mm = stack.pin.z_max_mm - stack.pin.z_min_mm;
    const double taken = wall_ - inner;
    if (inner < solid_.bay.z_min_mm - kSamePoint_mm) {
      faults_.push_back("bay: the stack at the " + stack.pivot + " takes " + Say(taken) +
                        " from the end wall, bay.width is " + Say(job_.bay.width_mm) +
                        "; a bay of " + Say(taken) + " would fit, or thinner arms");
    }
    return stack;
  }

 private:
  std::string Say(double mm) const { return BenchLength(mm, job_.inches); }

  LayerSpan Screw(const std::string& plate, double head_z, double face, double wall) const {
    const double most = face + wall - kSkin_mm - head_z;
    const double thread = kThreadDepth * hardware_.screw.diameter_mm;
    double length = 0.0;
    if (!std::isnan(wish_.screw_length_mm)) {
      length = wish_.screw_length_mm;
      if (length > most + kSamePoint_mm) {
        faults_.push_back("screws of the " + plate + ": " + Say(length) + " would come within " +
                          Say(kSkin_mm) + " of the outside of a wall of " + Say(wall) +
                          "; at most " + Say(most) + " would fit");
      }
    } else {
      for (const double size : WoodScrewLengths_mm(job_.inches)) {
        if (size <= most + kSamePoint_mm) length = size;
      }
    }
    const double held = head_z + length - face;
    if (held < thread - kSamePoint_mm) {
      faults_.push_back("screws of the " + plate + ": a wall of " + Say(wall) + " takes screws " +
                        Say(std::max(0.0, held)) + " deep, " + hardware_.screw.name +
                        " screws need " + Say(thread) + "; a wall of " + Say(wall + thread - held) +
                        " would fit, or bolts right through it");
    }
    return {head_z, head_z + length};
  }

  const Job& job_;
  const Solid& solid_;
  const Hardware& hardware_;
  const StackWish& wish_;
  std::vector<std::string>& faults_;
  double half_ = 0.0, wall_ = 0.0, lid_wall_ = 0.0;
};

}  // namespace

StackWish UsualSheets(const StackWish& wish, bool inch) {
  StackWish usual = wish;
  const auto set = [](double& value, double to) {
    if (std::isnan(value)) value = to;
  };
  // Packing and lid plate together stay within the six millimetres that the arms leave them; in
  // metric both come from one sheet.
  set(usual.ground_plate_mm, inch ? 3.0 / 32.0 * kMmPerInch : 2.0);
  set(usual.lid_plate_mm, inch ? 3.0 / 32.0 * kMmPerInch : 3.0);
  set(usual.packing_mm, inch ? 1.0 / 8.0 * kMmPerInch : 3.0);
  return usual;
}

std::optional<StackPlan> LayStack(const Job& job, const Solid& solid, const Pivots& pivots,
                                  const Arm& arm_a, const Arm& arm_b, const Hardware& hardware,
                                  const StackWish& wish, const std::string& plate_material,
                                  std::vector<std::string>* faults) {
  LW_REQUIRE(!std::isnan(wish.ground_plate_mm + wish.lid_plate_mm + wish.packing_mm),
             "sheets are not set");
  const std::size_t before = faults->size();
  const Stack stack(job, solid, hardware, wish, faults);
  StackPlan plan;
  plan.plate_material = plate_material;
  plan.arm_a = {arm_a.z_min_mm, arm_a.z_max_mm};
  plan.arm_b = {arm_b.z_min_mm, arm_b.z_max_mm};
  stack.Plates(plan);
  stack.Fixings(plan);
  plan.pivots = {stack.Through(plan, false, false, pivots.ground_a),
                 stack.Through(plan, false, true, pivots.ground_b),
                 stack.Through(plan, true, false, pivots.lid_a),
                 stack.Through(plan, true, true, pivots.lid_b)};
  if (faults->size() > before) return std::nullopt;
  return plan;
}

}  // namespace lidwright
