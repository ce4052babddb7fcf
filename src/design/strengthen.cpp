// SPDX-License-Identifier: Apache-2.0
#include "strengthen.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "lidwright/arms/hardware.h"
#include "lidwright/arms/shop_fasteners.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"
#include "lidwright/design/merit.h"

namespace lidwright {
namespace {

// [times] A longer row than is foretold to hold: the pins' own pull does not go with its length.
constexpr std::array kLongerRows{1.05, 1.5};
// [count] Parts made stronger one after the other.
constexpr int kMostSteps = 4;

double RowOf_mm(const Plate& plate) {
  return (plate.screws.back() - plate.screws.front()).norm();
}

bool IsLidRow(const Strength& strength) {
  return strength.kind == LoadedPart::kScrews && strength.of == Member::kLidPlate;
}
bool Lacks(const HingeForces& forces, const Strength& strength) {
  return IsAsked(forces, strength.leaning) && strength.Factor() < strength.wanted;
}

// Of all that lacks strength what lacks most, or nothing.
const Strength* LacksMost(const Hinge& hinge) {
  for (const Strength& s : hinge.forces->strengths) {
    if (Lacks(*hinge.forces, s)) return &s;
  }
  return nullptr;
}

// The thinnest rod sold that is foretold to bear it, the bending stress going with d⁻³, and the one
// that fills the sleeve's place.
std::vector<double> ThickerRods(const BoxModel& box, const Stop& stop, const Strength& strength) {
  const double wanted_mm = stop.rod_mm * std::cbrt(strength.wanted / strength.Factor());
  double enough = kUnset, most = kUnset;
  for (const StockRod& rod : StockRods()) {
    if (rod.inch != box.job.inches || rod.diameter_mm <= stop.rod_mm + kSamePoint_mm) continue;
    if (rod.diameter_mm >= wanted_mm && !(rod.diameter_mm >= enough)) enough = rod.diameter_mm;
    const bool fills = rod.diameter_mm <= 2.0 * stop.radius_mm + kSamePoint_mm;
    if (fills && !(rod.diameter_mm <= most)) most = rod.diameter_mm;
  }
  std::vector<double> rods;
  if (!std::isnan(enough)) rods.push_back(enough);
  if (!std::isnan(most) && most != enough) rods.push_back(most);
  return rods;
}

// What might bear more, most promising first.
std::vector<HingeSetOptions> StrongerThan(const BoxModel& box, const Hinge& hinge,
                                          const Strength& weakest) {
  const HingeSet& parts = *hinge.parts;
  std::vector<HingeSetOptions> all;
  HingeSetOptions options = AsMade(hinge);
  if (weakest.kind == LoadedPart::kStop && parts.stop) {
    for (const double rod_mm : ThickerRods(box, *parts.stop, weakest)) {
      options.stop_rod_mm = rod_mm;
      all.push_back(options);
    }
  } else if (weakest.kind == LoadedPart::kStop && parts.pad) {
    const double step = box.job.inches ? kMmPerInch / 4.0 : 5.0;
    const double wanted = parts.pad->Length_mm() * weakest.wanted / weakest.Factor();
    options.pad_mm = std::min(kLongestPad_mm, std::ceil(wanted / step) * step);
    if (options.pad_mm > parts.pad->Length_mm() + kSamePoint_mm) all.push_back(options);
  } else if (IsLidRow(weakest) && parts.lid_plate) {
    for (const double more : kLongerRows) {
      options.lid_row_mm = more * weakest.wanted / weakest.Factor() * RowOf_mm(*parts.lid_plate);
      all.push_back(options);
    }
  }
  return all;
}

}  // namespace

HingeSetOptions AsMade(const Hinge& hinge) {
  const HingeSet& parts = *hinge.parts;
  HingeSetOptions options;
  options.stay = parts.stay;
  if (parts.stop && std::abs(parts.stop->rod_mm - parts.hardware->bushing.pin_mm) > kSamePoint_mm) {
    options.stop_rod_mm = parts.stop->rod_mm;
  }
  if (parts.pad) options.pad_mm = parts.pad->Length_mm();
  if (parts.lid_plate) options.lid_row_mm = std::max(kLeastRow_mm, RowOf_mm(*parts.lid_plate));
  return options;
}

Hinge MadeAnew(const BoxModel& box, const Swing& swing, const Hinge& hinge,
               const HingeSetOptions& options) {
  Hinge made = hinge;
  made.parts = MakeHingeSet(box.arms, swing, *made.arm_a, *made.arm_b, options);
  AddForces(box, made);
  made.merit.strength = StrengthLacking(made);
  made.accuracy.reset();
  return made;
}

bool LacksOnlyStopOrRow(const Hinge& hinge) {
  const std::vector<Strength>& all = hinge.forces->strengths;
  return std::all_of(all.begin(), all.end(), [&](const Strength& s) {
    return !Lacks(*hinge.forces, s) || s.kind == LoadedPart::kStop || IsLidRow(s);
  });
}

void Strengthen(const BoxModel& box, const Swing& swing, Hinge& hinge) {
  for (int step = 0; step < kMostSteps && ClearsWithAllParts(hinge); ++step) {
    const Strength* weakest = LacksMost(hinge);
    if (!weakest) return;
    std::optional<Hinge> best;
    for (const HingeSetOptions& options : StrongerThan(box, hinge, *weakest)) {
      Hinge stronger = MadeAnew(box, swing, hinge, options);
      if (stronger.parts->complete < hinge.parts->complete) continue;
      const double lacking = StrengthLacking(best ? *best : hinge);
      if (StrengthLacking(stronger) >= lacking) continue;
      best = std::move(stronger);
      if (!LacksMost(*best)) break;
    }
    if (!best) return;
    hinge = std::move(*best);
  }
}

}  // namespace lidwright
