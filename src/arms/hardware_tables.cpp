// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>

#include "lidwright/arms/hardware.h"
#include "lidwright/base/numbers.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

const Source kInchTube{Standing::kCommonPractice,
                       "brass tube in steps of 1/32 in with walls of 0.014 in, so that the next "
                       "size slides with 0.003 in; the tube's diameter itself may be 0.002 in off"};
const Source kThinTube{Standing::kCommonPractice,
                       "metric brass tube with walls of 0.225 mm, sizes 0.5 mm apart slide with "
                       "0.05 mm; the tube's diameter itself may be 0.05 mm off"};
const Source kThickTube{Standing::kStandard,
                        "ISO 286 H7/f7 for the bore and its pin; the tube's sizes are from memory"};
const Source kMetricScrew{Standing::kCommonPractice,
                          "countersunk wood screws, head and depth from memory of DIN 97"};
const Source kInchScrew{Standing::kCommonPractice,
                        "wood screw sizes and heads from memory; pages on pilots disagree"};
const Source kIsoWasher{Standing::kStandard, "ISO 7089, from memory"};
const Source kIsoScrew{Standing::kStandard,
                       "ISO 261 coarse threads, tap drill = diameter less pitch; clearance ISO 273 "
                       "medium; head ISO 10642 and 2009, from memory"};
const Source kInchMachine{Standing::kHandbook, "unified threads, from memory"};

// Names an inch size that is a multiple of 1/32.
std::string InchName(int thirtyseconds) {
  int over = thirtyseconds, under = 32;
  while (over % 2 == 0 && under > 1) {
    over /= 2;
    under /= 2;
  }
  return std::to_string(over) + "/" + std::to_string(under) + " in";
}

std::vector<Tube> MakeTubes() {
  std::vector<Tube> tubes;
  constexpr double kInchWall_in = 0.014, kThinWall_mm = 0.225;
  for (int n = 3; n <= 21; ++n) {  // 3/32 … 21/32 in; the pin is a rod of the next smaller size
    tubes.push_back({InchName(n) + " brass tube, wall 0.014 in", n * kMmPerInch / 32.0,
                     (n / 32.0 - 2.0 * kInchWall_in) * kMmPerInch, (n - 1) * kMmPerInch / 32.0,
                     true, false, kInchTube});
  }
  for (const double outside : {2.0, 3.5, 4.0, 4.5, 5.0}) {
    if (outside == 2.0) {
      tubes.push_back({"2 mm brass tube, wall 0.225 mm", 2.0, 2.0 - 2.0 * kThinWall_mm, 1.5, false,
                       false, kThinTube});
      continue;
    }
    tubes.push_back({Text(outside) + " mm brass tube, wall 0.225 mm", outside,
                     outside - 2.0 * kThinWall_mm, outside - 0.5, false, false, kThinTube});
  }
  struct Thick {
    double outside, bore;
  };
  for (const Thick t : {Thick{3.0, 2.0}, {6.0, 5.0}, {7.0, 6.0}, {8.0, 6.0}, {10.0, 8.0}}) {
    tubes.push_back({Text(t.outside) + " mm brass tube, bored " + Text(t.bore) + " H7", t.outside,
                     t.bore, t.bore, false, true, kThickTube});
  }
  return tubes;
}

}  // namespace

const std::vector<Tube>& Tubes() {
  static const std::vector<Tube> kTubes = MakeTubes();
  return kTubes;
}

const PressFit* FindPressFit(const std::string& material) {
  static const Source kShop{Standing::kCommonPractice,
                            "what shops drill; no source: try it in scrap first"};
  static const Source kMetal{Standing::kStandard, "ISO 286 H7/p6"};
  static const std::vector<PressFit> kFits{
      {"birch plywood", 0.10, 1.0, "drill {} under, press square, a drop of thin glue", kShop},
      {"hardwood", 0.10, 1.0, "drill {} under, press square, a drop of thin glue", kShop},
      {"brass", 0.01, 0.5, "ream to the measured diameter less {}; retaining compound", kMetal},
      {"aluminium", 0.01, 0.5, "ream to the measured diameter less {}; retaining compound", kMetal},
      {"stainless steel", 0.01, 0.5, "ream to the measured diameter less {}; retaining compound",
       kMetal},
      {"acrylic", -0.05, 1.0, "no press fit, it cracks: drill {} over and glue", kShop},
  };
  const auto it = std::find_if(kFits.begin(), kFits.end(),
                               [&](const PressFit& f) { return f.material == material; });
  return it == kFits.end() ? nullptr : &*it;
}

std::vector<double> SheetSizes_mm(bool inch) {
  if (!inch) return {1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0};
  return {kMmPerInch / 32.0, kMmPerInch / 16.0,       kMmPerInch * 3.0 / 32.0,
          kMmPerInch / 8.0,  kMmPerInch * 3.0 / 16.0, kMmPerInch / 4.0};
}

const std::vector<WoodScrew>& WoodScrews() {
  // Pilots: about 70 % of the root's diameter in soft and 90 % in hard wood, the root taken as 0.7
  // of the outside diameter; inch pilots as on one of the pages read.
  static const std::vector<WoodScrew> kScrews{
      {"2 mm", 2.0, 3.8, 1.2, 1.0, 1.3, 2.2, false, kMetricScrew},
      {"#2", 2.18, 4.37, 1.3, 1.2, 1.5, 2.4, true, kInchScrew},
      {"2.5 mm", 2.5, 4.7, 1.5, 1.2, 1.6, 2.7, false, kMetricScrew},
      {"#4", 2.84, 5.72, 1.7, 1.6, 2.0, 3.0, true, kInchScrew},
      {"3 mm", 3.0, 5.6, 1.65, 1.5, 1.9, 3.3, false, kMetricScrew},
      {"3.5 mm", 3.5, 6.5, 1.9, 1.7, 2.2, 3.8, false, kMetricScrew},
      {"#6", 3.51, 7.09, 2.1, 2.0, 2.4, 3.7, true, kInchScrew},
      {"4 mm", 4.0, 7.5, 2.2, 2.0, 2.5, 4.3, false, kMetricScrew},
      {"#8", 4.17, 8.43, 2.5, 2.4, 2.8, 4.4, true, kInchScrew},
  };
  return kScrews;
}

std::vector<double> WoodScrewLengths_mm(bool inch) {
  if (!inch) return {6.0, 8.0, 10.0, 12.0, 14.0, 16.0, 20.0, 25.0, 30.0};
  std::vector<double> lengths;
  for (const double eighths : {2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0}) {
    lengths.push_back(eighths / 8.0 * kMmPerInch);
  }
  return lengths;
}

const std::vector<MachineScrew>& MachineScrews() {
  static const std::vector<MachineScrew> kScrews{
      {"M2", 2.0, 1.6, 2.4, 3.8, false, kIsoScrew},
      {"M2.5", 2.5, 2.05, 2.9, 4.7, false, kIsoScrew},
      {"M3", 3.0, 2.5, 3.4, 5.5, false, kIsoScrew},
      {"M4", 4.0, 3.3, 4.5, 8.4, false, kIsoScrew},
      {"M5", 5.0, 4.2, 5.5, 9.3, false, kIsoScrew},
      {"#4-40", 2.845, 2.26, 3.26, 5.7, true, kInchMachine},
      {"#6-32", 3.505, 2.71, 3.80, 7.1, true, kInchMachine},
      {"#8-32", 4.166, 3.45, 4.50, 8.4, true, kInchMachine},
  };
  return kScrews;
}

std::vector<double> MachineScrewLengths_mm(bool inch) {
  if (!inch) return {6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0};
  std::vector<double> lengths;
  for (const double eighths : {2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 14.0, 16.0}) {
    lengths.push_back(eighths / 8.0 * kMmPerInch);
  }
  return lengths;
}

const std::vector<Washer>& Washers() {
  static const std::vector<Washer> kWashers{
      {"M2", 2.2, 5.0, 0.3, kIsoWasher},  {"M2.5", 2.7, 6.0, 0.5, kIsoWasher},
      {"M3", 3.2, 7.0, 0.5, kIsoWasher},  {"M3.5", 3.7, 8.0, 0.5, kIsoWasher},
      {"M4", 4.3, 9.0, 0.8, kIsoWasher},  {"M5", 5.3, 10.0, 1.0, kIsoWasher},
      {"M6", 6.4, 12.0, 1.6, kIsoWasher}, {"M8", 8.4, 16.0, 1.6, kIsoWasher},
  };
  return kWashers;
}

std::optional<SizeLimits> IsoLimits(double nominal_mm, const std::string& tolerance_class) {
  // ISO 286-1 and -2, ranges to 3, over 3 to 6, over 6 to 10 mm; copied from secondary pages that
  // agree (one page's −5 for f7 to 3 mm is a misprint: −16 = −6 − IT7).
  struct Class {
    const char* name;
    std::array<SizeLimits, 3> limits;
  };
  static const std::array<Class, 5> kClasses{{
      {"H7", {{{10, 0}, {12, 0}, {15, 0}}}},
      {"h6", {{{0, -6}, {0, -8}, {0, -9}}}},
      {"p6", {{{12, 6}, {20, 12}, {24, 15}}}},
      {"s6", {{{20, 14}, {27, 19}, {32, 23}}}},
      {"f7", {{{-6, -16}, {-10, -22}, {-13, -28}}}},
  }};
  if (!(nominal_mm > 0.0) || nominal_mm > 10.0) return std::nullopt;
  const std::size_t range = nominal_mm <= 3.0 ? 0 : nominal_mm <= 6.0 ? 1 : 2;
  for (const Class& c : kClasses) {
    if (tolerance_class == c.name) return c.limits[range];
  }
  return std::nullopt;
}

}  // namespace lidwright
