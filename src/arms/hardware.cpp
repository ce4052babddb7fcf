// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/hardware.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

// [mm] A tube this near to the diameter asked for is that tube: the tolerance of drawn tube.
constexpr double kSameTube_mm = 0.05;
// [mm] Spacers stand out this far beyond the bushing all round, as the arms' certificate has it.
constexpr double kSpacerRim_mm = 1.0;
// [mm] Bores of spacers and washers over their pin.
constexpr double kSpacerBore_mm = 0.1;
// [1] An eye is wrapped round its hole and loaded along the arm: it takes this share of the web
// that a hole near a plate's edge needs (common practice; forces judges the strength).
constexpr double kEyeShare = 1.0 / 3.0;
// [mm] Left under a sunk head.
constexpr double kUnderHead_mm = 0.4;

std::string Near(double wanted, bool inch) {
  const Tube *under = nullptr, *over = nullptr;
  for (const Tube& tube : Tubes()) {
    if (tube.outside_mm < wanted && (!under || tube.outside_mm > under->outside_mm)) under = &tube;
    if (tube.outside_mm > wanted && (!over || tube.outside_mm < over->outside_mm)) over = &tube;
  }
  std::string text;
  for (const Tube* tube : {under, over}) {
    if (tube) text += (text.empty() ? "" : " or ") + BenchLength(tube->outside_mm, inch);
  }
  return text;
}

const Tube* FindTube(double outside_mm, bool inch) {
  const Tube* best = nullptr;
  const auto cost = [&](const Tube& tube) {
    return std::abs(tube.outside_mm - outside_mm) + (tube.reamed ? 0.2 : 0.0) +
           (tube.inch != inch ? 0.02 : 0.0);
  };
  for (const Tube& tube : Tubes()) {
    if (std::abs(tube.outside_mm - outside_mm) > kSameTube_mm) continue;
    if (!best || cost(tube) < cost(*best)) best = &tube;
  }
  return best;
}

}  // namespace

std::string Describe(const Source& source) {
  switch (source.standing) {
    case Standing::kStandard:
      return "standard: " + source.where;
    case Standing::kHandbook:
      return "handbook: " + source.where;
    case Standing::kCommonPractice:
      break;
  }
  return "common practice: " + source.where;
}

std::string BenchLength(double mm, bool inch) {
  return inch ? Text(mm / kMmPerInch, 3) + " in" : Text(mm, 2) + " mm";
}

std::optional<Fit> IsoFit(double nominal_mm, const std::string& hole, const std::string& shaft) {
  const auto h = IsoLimits(nominal_mm, hole), s = IsoLimits(nominal_mm, shaft);
  if (!h || !s) return std::nullopt;
  return Fit{h->lower_um - s->upper_um, h->upper_um - s->lower_um};
}

std::optional<Hardware> ChooseHardware(double bushing_mm, double eye_mm, double plate_mm,
                                       double largest_head_mm, const std::string& arm_material,
                                       const std::string& plate_material, bool inch,
                                       std::vector<std::string>* faults) {
  const auto length = [&](double mm) { return BenchLength(mm, inch); };
  const std::size_t before = faults->size();
  const PressFit* arm_fit = FindPressFit(arm_material);
  const PressFit* plate_fit = FindPressFit(plate_material);
  const auto known = [&](const PressFit* fit, const std::string& part, const std::string& name) {
    if (fit) return;
    faults->push_back(part + ": no press fit is known for \"" + name +
                      "\"; brass, aluminium, stainless steel, acrylic, hardwood and birch plywood "
                      "would do");
  };
  known(arm_fit, "arms", arm_material);
  known(plate_fit, "plates", plate_material);
  const Tube* tube = FindTube(bushing_mm, inch);
  if (!tube) {
    faults->push_back("bushing: no tube of " + length(bushing_mm) + " outside is sold; " +
                      Near(bushing_mm, inch) + " would fit");
  }
  if (arm_fit) {
    const double web = (eye_mm - bushing_mm) / 2.0;
    const double needed = kEyeShare * arm_fit->web_per_diameter * bushing_mm;
    if (web < needed - kSamePoint_mm) {
      faults->push_back("eye of the arms: a bushing of " + length(bushing_mm) + " in an eye of " +
                        length(eye_mm) + " leaves a web of " + length(web) + "; " + arm_material +
                        " needs " + length(needed) + ", so an eye of " +
                        length(bushing_mm + 2.0 * needed) + " would fit");
    }
  }
  const WoodScrew* screw = nullptr;
  for (const WoodScrew& s : WoodScrews()) {
    if (s.inch != inch) continue;
    const bool fits = s.head_height_mm <= plate_mm - kUnderHead_mm && s.head_mm <= largest_head_mm;
    if (fits && (!screw || s.diameter_mm > screw->diameter_mm)) screw = &s;
  }
  if (!screw) {
    const auto least = std::find_if(WoodScrews().begin(), WoodScrews().end(),
                                    [&](const WoodScrew& s) { return s.inch == inch; });
    faults->push_back("fixing screws: the smallest head is " + length(least->head_mm) +
                      " wide and sinks " + length(least->head_height_mm) + "; a plate of " +
                      length(plate_mm) + " with room for heads of " + length(largest_head_mm) +
                      " takes none; a plate of " + length(least->head_height_mm + kUnderHead_mm) +
                      " with heads of " + length(least->head_mm) + " would fit");
  }
  if (faults->size() > before) return std::nullopt;

  Hardware h{*tube, *arm_fit, *plate_fit, *screw, 0.0, 0.0, 0.0, 0.0, 0.0, {}};
  h.arm_hole_mm = tube->outside_mm - arm_fit->interference_mm;
  h.plate_hole_mm = tube->pin_mm - plate_fit->interference_mm;
  h.running_mm = tube->inside_mm - tube->pin_mm;
  h.spacer_out_mm = bushing_mm + 2.0 * kSpacerRim_mm;
  h.spacer_bore_mm = tube->pin_mm + kSpacerBore_mm;
  std::string runs = "with " + Text(h.running_mm, 3) + " mm to spare";
  if (tube->reamed) {
    const Fit fit = *IsoFit(tube->pin_mm, "H7", "f7");
    h.running_mm = (fit.least_um + fit.greatest_um) / 2000.0;
    runs = "H7/f7, with " + Text(fit.least_um / 1000.0) + " to " + Text(fit.greatest_um / 1000.0) +
           " mm to spare";
  }
  h.why.push_back("Bushings: " + tube->name + ", because its outside is the " + length(bushing_mm) +
                  " asked for; a pin of " + length(tube->pin_mm) + " runs in it " + runs + " (" +
                  Describe(tube->source) + ").");
  h.why.push_back("Holes for bushings in the arms: " + length(h.arm_hole_mm) + " in " +
                  arm_material + "; " + arm_fit->how + " (" + Describe(arm_fit->source) + ").");
  h.why.push_back("Holes for pins in the plates: " + length(h.plate_hole_mm) + " in " +
                  plate_material + "; " + plate_fit->how + " (" + Describe(plate_fit->source) +
                  ").");
  h.why.push_back("Fixing screws: " + screw->name +
                  " countersunk wood screws, the largest whose head of " + length(screw->head_mm) +
                  " sinks in a plate of " + length(plate_mm) + "; pilot " +
                  length(screw->pilot_soft_mm) + " in soft and " + length(screw->pilot_hard_mm) +
                  " in hard wood (" + Describe(screw->source) + ").");
  return h;
}

}  // namespace lidwright
