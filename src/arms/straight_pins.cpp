// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/straight_pins.h"

#include <algorithm>
#include <limits>

#include "lidwright/arms/hardware.h"
#include "lidwright/arms/jig.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/ring.h"

namespace lidwright {
namespace {

// [mm] Wood left behind a pin's hole, and the deepest that one is worth drilling.
constexpr double kSkin_mm = 2.0;
constexpr double kDeepest_mm = 8.0;
// [1] Depth of a pin that nothing but wood holds, in diameters (common practice).
constexpr double kDepth = 2.0;
// [mm] Sections are taken this far from the faces where the wood begins and ends.
constexpr double kInside_mm = 0.01;

}  // namespace

double PinDepthIn_mm(double wall_mm) {
  return std::clamp(wall_mm - kSkin_mm, 0.0, kDeepest_mm);
}

Verdicts PinsInWood(const ArmsTask& task, const Pivots& pivots) {
  const Job& job = task.job;
  const double pin = PinDiameter_mm(job);
  Verdicts verdicts;
  const auto judge = [&](Member of, const Vec2& centre, double face, double thickness,
                         PartKind wall) {
    const double depth = PinDepthIn_mm(thickness);
    const std::vector<const PartTree*> slabs = task.box.Shapes(wall);
    double around = std::numeric_limits<double>::infinity();
    for (const double z : {face + kInside_mm, face + std::max(depth, 2.0 * kInside_mm)}) {
      for (const double side : {1.0, -1.0}) {
        if (side < 0.0 && task.solid.mirrored) continue;
        around = std::min(around, -SignedDistance(SectionAt(slabs, side * z), centre));
      }
    }
    Verdict verdict = Reckoned(Requirement::kPinInWood, Unit::kMm, kWoodRoundPin * pin, around);
    verdict.of = of;
    verdict.angle_rad = 0.0;
    if (!verdict.met()) {
      verdict.why = Why::kPinAtEdge;
      verdict.why_value = pin;
    } else if (thickness - kSkin_mm < kDepth * pin - kSamePoint_mm) {
      verdict = Reckoned(Requirement::kPinInWood, Unit::kMm, kDepth * pin,
                         std::max(0.0, thickness - kSkin_mm));
      verdict.of = of;
      verdict.why = Why::kPinTooShallow;
      verdict.why_value = pin;
      verdict.outcome = Outcome::kViolated;
    }
    verdicts.push_back(verdict);
  };
  if (!job.plates.on_case) {
    const double thickness = job.case_form.end_wall_mm,
                 face = job.case_form.width_mm / 2.0 - thickness;
    judge(Member::kCasePinA, pivots.case_a, face, thickness, PartKind::kCase);
    judge(Member::kCasePinB, pivots.case_b, face, thickness, PartKind::kCase);
  }
  if (!job.plates.on_lid) {
    const double face = LidFace_mm(job, task.solid);
    const double thickness = LidEnd_mm(job, task.solid) - face;
    judge(Member::kLidPinA, pivots.lid_a, face, thickness, PartKind::kLid);
    judge(Member::kLidPinB, pivots.lid_b, face, thickness, PartKind::kLid);
  }
  return verdicts;
}

Verdicts PivotsHeld(const ArmsTask& task, const LidMotion& motion) {
  Verdicts verdicts = task.job.plates.on_lid ? LidPlateRoom(task, motion) : Verdicts();
  const Verdicts wood = PinsInWood(task, motion.pivots());
  verdicts.insert(verdicts.end(), wood.begin(), wood.end());
  return verdicts;
}

}  // namespace lidwright
