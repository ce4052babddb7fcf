// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/hinge_forces.h"

#include <algorithm>

#include "lidwright/base/check.h"
#include "lidwright/job/arm_materials.h"

namespace lidwright {
namespace {

constexpr double kPinYield_mpa = 235.0;
// [mm] A bushing's wall takes this off its diameter, both sides together.
constexpr double kBushingWalls_mm = 1.0;
constexpr double kThinnestPin_mm = 0.5;
// [MPa] Bushings bear in wood and plastic at no more than the material's strength; in metal at 0.9.
constexpr double kBearingShare = 0.9;

}  // namespace

HingeForces ForcesOf(const Job& job, const Solid& solid, const LidMotion& motion,
                     const Vec2& front_edge, const Arm& arm_a, const Arm& arm_b) {
  HingeForces forces;
  forces.feel = FeelOf(job, solid, motion, front_edge);
  forces.load_n = std::max(forces.feel.largest_pin_n, forces.feel.leaning_pin_n);
  forces.arm_a = StressOf(arm_a, job, forces.load_n);
  forces.arm_b = StressOf(arm_b, job, forces.load_n);
  const double innermost =
      std::min((arm_a.z_min_mm + arm_a.z_max_mm) / 2.0, (arm_b.z_min_mm + arm_b.z_max_mm) / 2.0);
  forces.pin_reach_mm = std::max(arm_a.z_max_mm, arm_b.z_max_mm) + 1.0 - innermost;
  const double pin = std::max(kThinnestPin_mm, job.arms.bushing_mm - kBushingWalls_mm);
  forces.pin = PinStressOf(forces.load_n, forces.pin_reach_mm, pin);
  forces.tipping = TippingOf(job, solid, motion, forces.feel.lid, front_edge);
  const ArmMaterial* material = FindArmMaterial(job.arms.material);
  LW_REQUIRE(material != nullptr, "material=" << job.arms.material);
  forces.safety_wanted = material->factor_wanted;
  const auto weigh = [&](const std::string& what, double strength, double stress) {
    const double factor = stress > 0.0 ? strength / stress : 1e9;
    if (!(factor >= forces.safety)) {
      forces.safety = factor;
      forces.weakest = what;
    }
  };
  for (const auto& [name, stress] : {std::pair("arm A", &forces.arm_a), {"arm B", &forces.arm_b}}) {
    weigh(std::string(name) + " in bending", material->strength_mpa, stress->body_mpa);
    weigh(std::string(name) + " at an eye", material->strength_mpa, stress->eye_mpa);
    weigh(std::string("bushing in ") + name, kBearingShare * material->strength_mpa,
          stress->bearing_mpa);
  }
  weigh("a pin in bending", kPinYield_mpa, forces.pin.bending_mpa);
  return forces;
}

}  // namespace lidwright
