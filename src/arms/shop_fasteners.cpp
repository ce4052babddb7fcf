// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/shop_fasteners.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"

namespace lidwright {
namespace {

const Source kDealers{Standing::kCommonPractice, "what most dealers keep; no source"};
const Source kMakers{Standing::kCommonPractice, "makers differ; no source"};
const Source kIsoNut{Standing::kStandard, "ISO 4032, from memory"};
const Source kInchNut{Standing::kStandard, "ASME B18.6.3 machine screw nuts, from memory"};
const Source kSae{Standing::kStandard, "SAE narrow plain washers, from memory"};

std::vector<StockRod> MakeRods() {
  std::vector<StockRod> rods;
  struct Metal {
    const char* material;
    const char* called;
  };
  for (const Metal& metal : {Metal{"mild steel", "steel rod"},
                             {"brass", "brass rod"},
                             {"stainless steel", "stainless rod"}}) {
    for (const double mm : {2.0, 2.5, 3.0, 4.0, 5.0, 6.0}) {
      rods.push_back({Text(mm) + " mm " + metal.called, metal.material, mm, false, kDealers});
    }
    for (const int n : {3, 4, 5, 6, 8}) {
      const double mm = n * kMmPerInch / 32.0;
      rods.push_back(
          {InchFraction(mm) + " in " + metal.called, metal.material, mm, true, kDealers});
    }
  }
  return rods;
}

int RankOf(const std::string& material) {
  return material == "mild steel" ? 0 : material == "brass" ? 1 : 2;
}

// The 3 mm tube with a thin wall: Tubes() has the thick one of that outside.
Tube ThinThree() {
  return {"3 mm brass tube, wall 0.225 mm",
          3.0,
          2.55,
          2.5,
          false,
          false,
          {Standing::kCommonPractice, "metric brass tube with walls of 0.225 mm (READ)"}};
}

std::vector<double> Eighths(const std::vector<double>& eighths) {
  std::vector<double> lengths;
  for (const double e : eighths) lengths.push_back(e / 8.0 * kMmPerInch);
  return lengths;
}

std::vector<double> SoldLengths_mm(const std::string& screw) {
  if (screw == "2 mm") return {6, 8, 10, 12, 16};
  if (screw == "2.5 mm") return {8, 10, 12, 16, 20, 25};
  if (screw == "3 mm") return {10, 12, 16, 20, 25, 30};
  if (screw == "3.5 mm") return {12, 16, 20, 25, 30, 35, 40};
  if (screw == "4 mm") return {16, 20, 25, 30, 35, 40, 50};
  if (screw == "#2") return Eighths({2, 3, 4, 5, 6});
  if (screw == "#4") return Eighths({3, 4, 5, 6, 8});
  if (screw == "#6") return Eighths({3, 4, 5, 6, 8, 10, 12});
  return Eighths({4, 5, 6, 8, 10, 12, 16});  // #8
}

}  // namespace

const std::vector<StockRod>& StockRods() {
  static const std::vector<StockRod> kRods = MakeRods();
  return kRods;
}

std::vector<BushingChoice> BushingsToTry(bool inch) {
  std::vector<Tube> tubes = Tubes();
  tubes.push_back(ThinThree());
  std::vector<BushingChoice> choices;
  for (const StockRod& rod : StockRods()) {
    if (rod.inch != inch) continue;
    for (const Tube& tube : tubes) {
      if (tube.inch == inch && std::abs(tube.pin_mm - rod.diameter_mm) < kSamePoint_mm) {
        choices.push_back({rod, tube});
      }
    }
  }
  std::stable_sort(choices.begin(), choices.end(),
                   [](const BushingChoice& a, const BushingChoice& b) {
                     if (a.rod.diameter_mm != b.rod.diameter_mm) {
                       return a.rod.diameter_mm < b.rod.diameter_mm;
                     }
                     if (a.tube.outside_mm != b.tube.outside_mm) {
                       return a.tube.outside_mm < b.tube.outside_mm;
                     }
                     return RankOf(a.rod.material) < RankOf(b.rod.material);
                   });
  return choices;
}

std::vector<ScrewSold> ScrewsToTry(bool inch) {
  std::vector<ScrewSold> screws;
  for (const WoodScrew& screw : WoodScrews()) {
    if (screw.inch == inch) screws.push_back({screw, SoldLengths_mm(screw.name), kMakers});
  }
  return screws;
}

const std::vector<StockNut>& StockNuts() {
  constexpr double in = kMmPerInch;
  static const std::vector<StockNut> kNuts{
      {"M2", 4.0, 1.6, false, kIsoNut},
      {"M2.5", 5.0, 2.0, false, kIsoNut},
      {"M3", 5.5, 2.4, false, kIsoNut},
      {"M4", 7.0, 3.2, false, kIsoNut},
      {"M5", 8.0, 4.7, false, kIsoNut},
      {"#4-40", in / 4.0, in * 3.0 / 32.0, true, kInchNut},
      {"#6-32", in * 5.0 / 16.0, in * 7.0 / 64.0, true, kInchNut},
      {"#8-32", in * 11.0 / 32.0, in / 8.0, true, kInchNut},
  };
  return kNuts;
}

const StockNut* FindNut(const std::string& thread) {
  for (const StockNut& nut : StockNuts()) {
    if (nut.thread == thread) return &nut;
  }
  return nullptr;
}

const std::vector<StockInsert>& StockInserts() {
  constexpr double in = kMmPerInch;
  static const std::vector<StockInsert> kInserts{
      {"M3", 4.5, 5.5, 6.0, false, kMakers},
      {"M4", 5.5, 7.0, 8.0, false, kMakers},
      {"M5", 7.0, 9.0, 10.0, false, kMakers},
      {"#4-40", in * 3.0 / 16.0, in * 0.236, in / 4.0, true, kMakers},
      {"#6-32", in * 7.0 / 32.0, in * 0.281, in * 3.0 / 8.0, true, kMakers},
      {"#8-32", in / 4.0, in * 0.323, in * 3.0 / 8.0, true, kMakers},
  };
  return kInserts;
}

std::optional<Washer> WasherFor(double pin_mm, bool inch) {
  constexpr double in = kMmPerInch;
  static const std::vector<Washer> kInch{
      {"#2", in * 0.094, in * 0.250, in * 0.020, kSae},
      {"#4", in * 0.125, in * 0.312, in * 0.032, kSae},
      {"#6", in * 0.156, in * 0.375, in * 0.049, kSae},
      {"#8", in * 0.188, in * 0.438, in * 0.049, kSae},
      {"#10", in * 0.219, in * 0.500, in * 0.049, kSae},
      {"1/4 in", in * 0.281, in * 0.625, in * 0.065, kSae},
  };
  // [mm] American washers are named by holes in thousandths: 5/32 in is 0.156 there.
  constexpr double kGoesOver_mm = 0.02;
  std::optional<Washer> best;
  for (const Washer& washer : inch ? kInch : Washers()) {
    if (washer.inside_mm < pin_mm - kGoesOver_mm) continue;
    if (!best || washer.outside_mm < best->outside_mm) best = washer;
  }
  return best;
}

}  // namespace lidwright
