// SPDX-License-Identifier: Apache-2.0
#include "size_ladder.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <string>

#include "lidwright/arms/hardware.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"
#include "lidwright/forces/material_data.h"
#include "lidwright/forces/requirements.h"

namespace lidwright {
namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();
// Cut with a fretsaw or a router and stiff enough in the sheets sold. Solid wood is left to those
// who ask for it, as its grain must run along the arm; acrylic cracks at its holes.
const std::array<const char*, 3> kSheetsToTry{"birch plywood", "aluminium", "stainless steel"};
// [mm] A sheet that a job's thickness means.
constexpr double kSameSheet_mm = 0.3;
// [mm] Thicker arms leave no room for two layers and plates in a bay.
constexpr double kThinnest_mm = 1.4, kThickest_mm = 6.5;
// [mm] Of material round a bushing, both sides together: as the job's default.
constexpr double kEyeWalls_mm = 4.0;
// [mm] Of a metal plate round a pin, beyond its diameter to the pin's middle.
constexpr double kRoundPin_mm = 1.0;
// [–] An arm's thickness is in the way of plates and screws, so much more than its width.
constexpr double kThicknessInTheWay = 2.0;

const std::vector<double>& WidthsOf(bool inch) {
  static const std::vector<double> kMetric{8, 10, 12, 14, 16, 20, 25, 30};
  static const std::vector<double> kInch{
      kMmPerInch * 5 / 16, kMmPerInch * 3 / 8, kMmPerInch * 1 / 2, kMmPerInch * 5 / 8,
      kMmPerInch * 3 / 4,  kMmPerInch * 1,     kMmPerInch * 5 / 4};
  return inch ? kInch : kMetric;
}
const std::vector<double>& BushingsOf(bool inch) {
  // Those in which rods run that are sold: of 3, 4, 5 and 6 mm, of 1/8, 5/32, 3/16 and 1/4 in.
  static const std::vector<double> kMetric{3.5, 4.5, 6, 7};
  static const std::vector<double> kInch{kMmPerInch * 5 / 32, kMmPerInch * 3 / 16,
                                         kMmPerInch * 7 / 32, kMmPerInch * 9 / 32};
  return inch ? kInch : kMetric;
}
const std::vector<double>& PlatesOf(bool inch) {
  static const std::vector<double> kMetric{2, 3, 4, 5};
  static const std::vector<double> kInch{kMmPerInch * 3 / 32, kMmPerInch * 1 / 8,
                                         kMmPerInch * 3 / 16};
  return inch ? kInch : kMetric;
}

bool IsMeant(const StockSheet& sheet, double thickness_mm) {
  return std::abs(sheet.nominal_mm - thickness_mm) < kSameSheet_mm;
}
bool SoldAs(const std::string& material, double thickness_mm, bool inch) {
  return std::any_of(StockSheets().begin(), StockSheets().end(), [&](const StockSheet& sheet) {
    return sheet.material == material && sheet.inch == inch && IsMeant(sheet, thickness_mm);
  });
}

}  // namespace

void KeepRoomAtEdges(Job& job) {
  if (!job.arms.open.bay_edge) return;
  job.bay.edge_mm = std::max(job.bay.edge_mm, PinDiameter_mm(job) + kRoundPin_mm);
}

Job StartingSizes(const Job& wanted) {
  Job job = wanted;
  const OpenSizes& open = wanted.arms.open;
  const auto size = [&](double mm, double in) { return wanted.inches ? kMmPerInch * in : mm; };
  if (open.material && (open.thickness || SoldAs("aluminium", job.arms.thickness_mm, job.inches))) {
    job.arms.material = "aluminium";
    if (open.thickness) job.arms.thickness_mm = size(2.0, 1.0 / 16);
  }
  if (open.width) job.arms.width_mm = size(10.0, 3.0 / 8);
  if (open.bushing) job.arms.bushing_mm = size(6.0, 7.0 / 32);
  if (open.eye) {
    job.arms.eye_mm = std::max(job.arms.width_mm, job.arms.bushing_mm + kEyeWalls_mm);
  }
  KeepRoomAtEdges(job);
  if (open.bushing) {
    // In thin walls the screws of thick plates have too little thread.
    for (const double plate : {size(3.0, 1.0 / 8), size(2.0, 3.0 / 32)}) {
      if (std::isnan(wanted.plates.case_mm)) job.plates.case_mm = plate;
      if (std::isnan(wanted.plates.lid_mm)) job.plates.lid_mm = plate;
      if (ScrewsHeldByWalls(job)) break;
    }
  }
  return job;
}

double BulkOf_mm(const Sizes& sizes) {
  return sizes.width_mm + kThicknessInTheWay * sizes.sheet.thickness_mm;
}

namespace {

// [–] Least strength over load over what is wanted, of all that hangs on one size.
double Borne(const HingeForces& forces, bool leaning, HangsOn size) {
  double least = kInfinite;
  for (const Strength& s : forces.strengths) {
    if (s.leaning == leaning && s.hangs_on == size) least = std::min(least, s.Factor() / s.wanted);
  }
  return least;
}

// What a strap bears over what is wanted of its material, up to a factor that all straps share:
// bent in its plane, and buckling out of it.
struct StrapBears {
  double bent, buckling;
};
StrapBears BearsAs(const std::string& material, double thickness_mm, double width_mm,
                   Situation situation) {
  const MaterialData* data = FindMaterial(material);
  const Stressed stressed = data->brittle ? Stressed::kPlywood : Stressed::kMetal;
  const double wanted = WantedFor(situation, stressed).factor;
  return {data->tension_mpa * thickness_mm * width_mm * width_mm / wanted,
          data->modulus_mpa * std::pow(thickness_mm, 3.0) * width_mm / wanted};
}

// The smallest of `sold` that bears `wanted` if the one at hand bears `borne`, strength going with
// that power of the size; else the largest.
double Enough(const std::vector<double>& sold, double at_hand, double borne, double power) {
  for (const double size : sold) {
    if (borne * std::pow(size / at_hand, power) >= 1.0) return size;
  }
  return sold.back();
}

// [1] Strength goes with these powers of a pin's diameter and of a plate's thickness.
constexpr double kPinPower = 3.0, kSeatPower = 2.0, kScrewPower = 1.5;

double PinIn_mm(Job job, double bushing_mm) {
  job.arms.bushing_mm = bushing_mm;
  return PinDiameter_mm(job);
}

}  // namespace

SizeLadder::SizeLadder(const Job& job, const PlateWish& wanted, const HingeForces& forces,
                       bool leaning)
    : job_(job), wanted_(wanted) {
  const auto borne = [&](HangsOn size) {
    const double in_use = Borne(forces, false, size);
    return leaning ? std::min(in_use, Borne(forces, true, size)) : in_use;
  };
  const double pins = borne(HangsOn::kPin), seats = borne(HangsOn::kSeat);
  const double screws = borne(HangsOn::kScrew);
  const OpenSizes& open = job.arms.open;
  double bushing = job.arms.bushing_mm;
  const double pin_at_hand = PinIn_mm(job, bushing);
  const auto pins_with = [&](double bushing_mm) {
    return pins * std::pow(PinIn_mm(job, bushing_mm) / pin_at_hand, kPinPower);
  };
  if (open.bushing) {
    const std::vector<double>& sold = BushingsOf(job.inches);
    const auto enough =
        std::find_if(sold.begin(), sold.end(), [&](double size) { return pins_with(size) >= 1.0; });
    bushing = enough != sold.end() ? *enough : sold.back();
  }
  const double at_hand =
      std::isnan(job.plates.case_mm) ? PlatesOf(job.inches)[0] : job.plates.case_mm;
  // The heads of larger screws sink in thicker plates.
  const double plate = std::max(Enough(PlatesOf(job.inches), at_hand, seats, kSeatPower),
                                Enough(PlatesOf(job.inches), at_hand, screws, kScrewPower));
  bears_ = std::min(pins_with(bushing), seats * std::pow(plate / at_hand, kSeatPower));
  for (const StockSheet& sheet : StockSheets()) {
    if (sheet.inch != job.inches || !Wanted(sheet)) continue;
    for (const double width : WidthsOf(job.inches)) {
      if (!open.width && width != WidthsOf(job.inches)[0]) break;
      Sizes sizes{sheet, open.width ? width : job.arms.width_mm, bushing, plate, 0.0, 0.0, 0.0};
      const auto foretold = [&](Situation situation) {
        const bool leant = situation == Situation::kLeaning;
        const StrapBears there =
            BearsAs(sheet.material, Thickness(sheet), sizes.width_mm, situation);
        const StrapBears here =
            BearsAs(job.arms.material, job.arms.thickness_mm, job.arms.width_mm, situation);
        return std::min(Borne(forces, leant, HangsOn::kStrap) * there.bent / here.bent,
                        Borne(forces, leant, HangsOn::kStiffness) * there.buckling / here.buckling);
      };
      sizes.in_use = foretold(Situation::kInUse);
      sizes.leaned = foretold(Situation::kLeaning);
      sizes.weight_kg_m = WeightOf_kg_m2(sheet) * sizes.width_mm / 1000.0;
      steps_.push_back(sizes);
    }
  }
  std::stable_sort(steps_.begin(), steps_.end(), [](const Sizes& a, const Sizes& b) {
    return a.weight_kg_m != b.weight_kg_m ? a.weight_kg_m < b.weight_kg_m
                                          : WorkOf(a.sheet.material) < WorkOf(b.sheet.material);
  });
}

Job SizeLadder::With(const Sizes& sizes) const {
  Job job = job_;
  ArmWish& arms = job.arms;
  arms.material = sizes.sheet.material;
  arms.thickness_mm = Thickness(sizes.sheet);
  arms.width_mm = sizes.width_mm;
  arms.bushing_mm = sizes.bushing_mm;
  if (arms.open.eye) arms.eye_mm = std::max(arms.width_mm, arms.bushing_mm + kEyeWalls_mm);
  if (std::isnan(wanted_.case_mm)) job.plates.case_mm = sizes.plate_mm;
  if (std::isnan(wanted_.lid_mm)) job.plates.lid_mm = sizes.plate_mm;
  KeepRoomAtEdges(job);
  return job;
}

double SizeLadder::Thickness(const StockSheet& sheet) const {
  return job_.arms.open.thickness ? sheet.thickness_mm : job_.arms.thickness_mm;
}

bool SizeLadder::Wanted(const StockSheet& sheet) const {
  const OpenSizes& open = job_.arms.open;
  if (open.material) {
    if (std::none_of(kSheetsToTry.begin(), kSheetsToTry.end(),
                     [&](const char* name) { return sheet.material == name; })) {
      return false;
    }
  } else if (sheet.material != job_.arms.material) {
    return false;
  }
  if (!open.thickness) return IsMeant(sheet, job_.arms.thickness_mm);
  return sheet.thickness_mm >= kThinnest_mm && sheet.thickness_mm <= kThickest_mm;
}

}  // namespace lidwright
