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
  const auto say = [&](double mm) { return BenchLength(mm, job.inches); };
  Verdicts verdicts;
  const auto judge = [&](const std::string& name, const std::string& wall, const Vec2& centre,
                         double face, double thickness, const std::vector<ShapedPart>& slabs) {
    const double depth = PinDepthIn_mm(thickness);
    Verdict verdict;
    verdict.what = name + " straight in the " + wall;
    verdict.proven = true;
    verdict.required = kWoodRoundPin * pin;
    verdict.angle_rad = 0.0;
    verdict.found = std::numeric_limits<double>::infinity();
    for (const double z : {face + kInside_mm, face + std::max(depth, 2.0 * kInside_mm)}) {
      for (const double side : {1.0, -1.0}) {
        if (side < 0.0 && task.solid.mirrored) continue;
        const std::vector<Ring> wood = SectionAt(slabs, side * z);
        verdict.found = std::min(verdict.found, -SignedDistance(wood, centre));
      }
    }
    const double deep = thickness - kSkin_mm;
    verdict.met = verdict.found >= verdict.required && deep >= kDepth * pin - kSamePoint_mm;
    if (verdict.found < verdict.required) {
      verdict.remark = "it would sit " +
                       (verdict.found >= 0.0 ? say(verdict.found) + " from the wood's edge"
                                             : say(-verdict.found) + " outside the wood") +
                       ", a pin of " + say(pin) + " needs " + say(verdict.required) +
                       " of wood around it; a plate would fit";
    } else if (!verdict.met) {
      verdict.remark = "a pin of " + say(pin) + " needs to go in " + say(kDepth * pin) +
                       ", the wall of " + say(thickness) + " gives " + say(std::max(0.0, deep)) +
                       "; a wall of " + say(kDepth * pin + kSkin_mm) +
                       ", a thinner bushing or a plate would fit";
    }
    verdicts.push_back(verdict);
  };
  if (!job.plates.on_case) {
    const std::string wall = "case's end wall";
    const double thickness = job.case_form.end_wall_mm,
                 face = job.case_form.width_mm / 2.0 - thickness;
    judge("case pin of arm A", wall, pivots.case_a, face, thickness, task.parts.case_slabs);
    judge("case pin of arm B", wall, pivots.case_b, face, thickness, task.parts.case_slabs);
  }
  if (!job.plates.on_lid) {
    const std::string wall = "lid's end wall";
    const double face = LidFace_mm(job, task.solid);
    const double thickness = LidEnd_mm(job, task.solid) - face;
    judge("lid pin of arm A", wall, pivots.lid_a, face, thickness, task.parts.lid_slabs);
    judge("lid pin of arm B", wall, pivots.lid_b, face, thickness, task.parts.lid_slabs);
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
