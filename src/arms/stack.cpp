// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/stack.h"

#include <algorithm>
#include <cmath>

#include "lidwright/arms/straight_pins.h"
#include "lidwright/base/check.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/solid/mounting_block.h"

namespace lidwright {
namespace {

// [mm] Play of an arm along its pin.
constexpr double kEndPlay_mm = 0.2;
// [mm] Washer under a bolt's nut; [1] height of the nut with a thread beyond it, in diameters (ISO
// 4032: 0.8 to 0.9 for M2 to M5, from memory).
constexpr double kBoltWasher_mm = 0.8;
constexpr double kNut = 1.1;

class Stack {
 public:
  Stack(const Job& job, const Solid& solid, const Hardware& hardware,
        std::vector<std::string>* faults)
      : job_(job), solid_(solid), hardware_(hardware), wish_(PlatesOf(job)), faults_(*faults) {
    half_ = job.case_form.width_mm / 2.0;
    wall_ = solid.bay.z_max_mm;
  }

  void Plates(StackPlan& plan) const {
    const double end_wall = job_.case_form.end_wall_mm;
    plan.case_end_mm = half_ - end_wall;
    plan.lid_end_mm = LidFace_mm(job_, solid_);
    // Behind a lip along the ends the lid is solid as well.
    plan.lid_end_wall_mm =
        solid_.end_lip ? LidEnd_mm(job_, solid_) - plan.lid_end_mm : job_.lid.wall_mm;
    const MountingBlock& block = solid_.block;
    const bool blocks = NeedsBlock(block);
    plan.case_face_mm = blocks ? wall_ : plan.case_end_mm;
    plan.lid_face_mm = blocks ? wall_ : plan.lid_end_mm;
    plan.case_block = {plan.case_face_mm, plan.case_end_mm};
    plan.lid_block = {plan.lid_face_mm, plan.lid_end_mm};
    plan.case_wall_mm = end_wall + std::max(0.0, std::min(block.at_rim_mm, block.at_floor_mm));
    plan.lid_wall_mm = plan.lid_end_wall_mm + plan.lid_end_mm - plan.lid_face_mm;
    plan.case_packing = {wall_, plan.case_face_mm};
    plan.case_plate = {wall_ - (wish_.on_case ? wish_.case_mm : 0.0), wall_};
    const double packed = wish_.on_lid ? wish_.packing_mm : 0.0;
    const double lid_plate = wish_.on_lid ? wish_.lid_mm : 0.0;
    plan.lid_packing = {wall_ - packed, plan.lid_face_mm};
    plan.lid_plate = {wall_ - packed - lid_plate, wall_ - packed};
    if (wish_.on_lid && wish_.on_case && packed < wish_.case_mm + kPlatesApart_mm - kSamePoint_mm) {
      faults_.push_back("packing of the lid plate: " + Say(packed) +
                        " do not hold it clear of a case plate of " + Say(wish_.case_mm) +
                        "; a packing of " + Say(wish_.case_mm + kPlatesApart_mm) + " would fit");
    }
  }

  void Fixings(StackPlan& plan) const {
    plan.pin_in_wall_mm = PinDepthIn_mm(plan.case_wall_mm);
    if (wish_.on_case) {
      plan.case_screw =
          Screw("case plate", plan.case_plate.z_min_mm, plan.case_face_mm, plan.case_wall_mm);
    }
    if (wish_.on_lid) {
      plan.lid_screw =
          Screw("lid plate", plan.lid_plate.z_min_mm, plan.lid_face_mm, plan.lid_wall_mm);
    }
  }

  // A washer on the outer layer's pin stands between the layers of arms.
  void Washers(const StackPlan& plan) const {
    const LayerSpan &a = plan.arm_a, &b = plan.arm_b;
    if (a.z_max_mm > b.z_min_mm && b.z_max_mm > a.z_min_mm) return;  // one layer
    const double between = std::max(a.z_min_mm - b.z_max_mm, b.z_min_mm - a.z_max_mm);
    const double most = between - kEndPlay_mm;
    if (hardware_.washer_mm <= most + kSamePoint_mm) return;
    faults_.push_back("washers: one of " + Say(hardware_.washer_mm) +
                      " would rub between the layers of arms, which are " + Say(between) +
                      " apart; " + Say(most) + " would fit");
  }

  PivotStack Through(const StackPlan& plan, bool of_lid, bool of_b, const Vec2& centre) const {
    const LayerSpan arm = of_b ? plan.arm_b : plan.arm_a;
    const std::string name = of_b ? "arm B" : "arm A";
    PivotStack stack;
    stack.pivot = (of_lid ? "lid pin of " : "case pin of ") + name;
    stack.body = of_lid ? Body::kLid : Body::kCase;
    stack.arm_b = of_b;
    stack.centre = centre;
    double inner = 0.0;  // how far inwards the rows have come
    const auto add = [&](const std::string& part, const std::string& material, double to) {
      if (inner - to < kSamePoint_mm) return;
      stack.rows.push_back({part, material, to, inner});
      inner = to;
    };
    if (of_lid && wish_.on_lid) {
      inner = plan.lid_plate.z_max_mm;
      add("lid plate", plan.plate_material, plan.lid_plate.z_min_mm);
    } else if (of_lid) {
      inner = plan.lid_face_mm + PinDepthIn_mm(plan.lid_wall_mm);
      add("lid's end wall", "wood", plan.lid_face_mm);
    } else {
      inner = plan.case_face_mm + plan.pin_in_wall_mm;
      add("case's end wall", "wood", plan.case_face_mm);
      if (wish_.on_case) {
        add("case packing", "packing", plan.case_packing.z_min_mm);
        add("case plate", plan.plate_material, plan.case_plate.z_min_mm);
      }
    }
    stack.pin.z_max_mm = stack.rows.front().z_max_mm;
    stack.spacer = {arm.z_max_mm, inner};
    add(stack.spacer.z_max_mm - stack.spacer.z_min_mm > 1.5 ? "spacer" : "washer", "brass",
        arm.z_max_mm);
    add(name + " with bushing", job_.arms.material, arm.z_min_mm);
    add("play", "air", arm.z_min_mm - kEndPlay_mm);
    add("head", "brass", arm.z_min_mm - kEndPlay_mm - hardware_.washer_mm);
    stack.head = {inner, inner + hardware_.washer_mm};
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

  // A bolt goes through the wall, its washer and its nut.
  LayerSpan Bolt(const std::string& plate, double head_z, double outside) const {
    const double d = hardware_.screw.diameter_mm;
    const double least = outside - head_z + kBoltWasher_mm + kNut * d;
    double length = hardware_.screw_length_mm;
    if (std::isnan(length)) {
      for (const double size : MachineScrewLengths_mm(job_.inches)) {
        if (std::isnan(length) && size >= least - kSamePoint_mm) length = size;
      }
      if (std::isnan(length)) length = least;  // cut from longer ones or from rod
    } else if (length < least - kSamePoint_mm) {
      faults_.push_back("screws of the " + plate + ": bolts of " + Say(length) +
                        " do not come through the wall with washer and nut; " + Say(least) +
                        " or more would fit");
    }
    return {head_z, head_z + length};
  }

  LayerSpan Screw(const std::string& plate, double head_z, double face, double wall) const {
    if (hardware_.bolts) return Bolt(plate, head_z, face + wall);
    const double most = face + wall - kBehindScrew_mm - head_z;
    const double thread = kThreadDepth * hardware_.screw.diameter_mm;
    double length = 0.0;
    if (!std::isnan(hardware_.screw_length_mm)) {
      length = hardware_.screw_length_mm;
      if (length > most + kSamePoint_mm) {
        faults_.push_back("screws of the " + plate + ": " + Say(length) + " would come within " +
                          Say(kBehindScrew_mm) + " of the outside of a wall of " + Say(wall) +
                          "; at most " + Say(most) + " would fit");
      }
    } else {
      for (const double size : WoodScrewLengths_mm(job_.inches)) {
        if (size <= most + kSamePoint_mm) length = size;
      }
    }
    const double held = head_z + length - face;
    if (held < thread - kSamePoint_mm && length + thread - held <= most + kSamePoint_mm) {
      faults_.push_back("screws of the " + plate + ": " + Say(length) + " go " +
                        Say(std::max(0.0, held)) + " into the wall, " + hardware_.screw.name +
                        " screws need " + Say(thread) + "; screws of " +
                        Say(length + thread - held) + " to " + Say(most) + " would fit");
    } else if (held < thread - kSamePoint_mm) {
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
  const PlateWish wish_;
  std::vector<std::string>& faults_;
  double half_ = 0.0, wall_ = 0.0;
};

}  // namespace

std::optional<StackPlan> LayStack(const Job& job, const Solid& solid, const Pivots& pivots,
                                  const Arm& arm_a, const Arm& arm_b, const Hardware& hardware,
                                  std::vector<std::string>* faults) {
  const std::size_t before = faults->size();
  const Stack stack(job, solid, hardware, faults);
  StackPlan plan;
  plan.plate_material = PlatesOf(job).material;
  plan.arm_a = {arm_a.z_min_mm, arm_a.z_max_mm};
  plan.arm_b = {arm_b.z_min_mm, arm_b.z_max_mm};
  stack.Plates(plan);
  stack.Fixings(plan);
  stack.Washers(plan);
  plan.pivots = {stack.Through(plan, false, false, pivots.case_a),
                 stack.Through(plan, false, true, pivots.case_b),
                 stack.Through(plan, true, false, pivots.lid_a),
                 stack.Through(plan, true, true, pivots.lid_b)};
  if (faults->size() > before) return std::nullopt;
  return plan;
}

}  // namespace lidwright
