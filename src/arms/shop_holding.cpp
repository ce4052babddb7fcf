// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/shop_holding.h"

#include "lidwright/base/units.h"

namespace lidwright {
namespace {

const Source kNone{Standing::kCommonPractice, "no source: ask the maker"};
const Source kJack{Standing::kCommonPractice, "dealers' lists of jack chain, from memory"};
const Source kSafety{Standing::kHandbook,
                     "a chain maker's page: brass 1/0, working load 35 lb, breaks at 140 lb"};
const Source kDin{Standing::kStandard, "DIN 2093 series A, from memory"};
constexpr double kNPerPound = 4.4482216;
constexpr double kLong_mm = 2000.0;

// [rad/s] 20 turns a minute.
constexpr double kSheetSpeed = 20.0 * 2.0 * kPi / 60.0;

}  // namespace

const std::vector<StockStay>& StockStays() {
  static const std::vector<StockStay> kStays{
      {"6 mm grosgrain ribbon", StayKind::kRibbon, 20.0, 6.0, 30.0, kLong_mm, kNone,
       "1/4 in (6 mm) grosgrain ribbon"},
      {"#18 single jack chain", StayKind::kChain, 5.0 * kNPerPound, 6.0, 30.0, kLong_mm, kJack},
      {"10 mm grosgrain ribbon", StayKind::kRibbon, 35.0, 10.0, 30.0, kLong_mm, kNone,
       "3/8 in (10 mm) grosgrain ribbon"},
      {"#16 single jack chain", StayKind::kChain, 10.0 * kNPerPound, 8.0, 30.0, kLong_mm, kJack},
      {"2 mm waxed linen cord", StayKind::kCord, 50.0, 2.0, 30.0, kLong_mm, kNone,
       "5/64 in (2 mm) waxed linen cord"},
      {"brass folding stay, small", StayKind::kFoldingStay, 50.0, 8.0, 80.0, 150.0, kNone},
      {"15 mm cotton webbing", StayKind::kRibbon, 70.0, 15.0, 40.0, kLong_mm, kNone,
       "9/16 in (15 mm) cotton webbing"},
      {"#14 single jack chain", StayKind::kChain, 16.0 * kNPerPound, 10.0, 40.0, kLong_mm, kJack},
      {"3 mm braided polyester cord", StayKind::kCord, 120.0, 3.0, 40.0, kLong_mm, kNone,
       "1/8 in (3 mm) braided polyester cord"},
      {"brass folding stay, large", StayKind::kFoldingStay, 120.0, 12.0, 150.0, 300.0, kNone},
      {"#12 single jack chain", StayKind::kChain, 29.0 * kNPerPound, 12.0, 40.0, kLong_mm, kJack},
      {"brass safety chain 1/0", StayKind::kChain, 35.0 * kNPerPound, 5.0, 30.0, kLong_mm, kSafety},
      {"steel folding stay", StayKind::kFoldingStay, 250.0, 14.0, 200.0, 400.0, kNone},
  };
  return kStays;
}

std::vector<StockStay> StaysToTry(double load_n, double length_mm) {
  std::vector<StockStay> stays;
  for (const StayKind kind :
       {StayKind::kRibbon, StayKind::kCord, StayKind::kChain, StayKind::kFoldingStay}) {
    for (const StockStay& stay : StockStays()) {
      if (stay.kind != kind || stay.working_n < load_n || stay.least_mm > length_mm ||
          stay.most_mm < length_mm) {
        continue;
      }
      stays.push_back(stay);
      break;
    }
  }
  return stays;
}

const std::vector<StockPad>& StockPads() {
  static const std::vector<StockPad> kPads{
      {"1.5 mm felt", 1.5, 0.6, 0.3, kNone}, {"3 mm felt", 3.0, 0.5, 0.25, kNone},
      {"5 mm felt", 5.0, 0.4, 0.2, kNone},   {"2 mm leather", 2.0, 8.0, 2.0, kNone},
      {"3 mm cork", 3.0, 6.0, 1.5, kNone},   {"3 mm rubber", 3.0, 3.0, 1.0, kNone},
  };
  return kPads;
}

const std::vector<StockDamper>& StockDampers() {
  static const std::vector<StockDamper> kDampers{
      {"rotary damper, 0.02 N·m at 20 turns a minute", 20.0 / kSheetSpeed, 40.0, 15.0, kNone},
      {"rotary damper, 0.1 N·m at 20 turns a minute", 100.0 / kSheetSpeed, 200.0, 20.0, kNone},
      {"rotary damper, 0.5 N·m at 20 turns a minute", 500.0 / kSheetSpeed, 1000.0, 25.0, kNone},
      {"rotary damper, 2 N·m at 20 turns a minute", 2000.0 / kSheetSpeed, 4000.0, 40.0, kNone},
  };
  return kDampers;
}

const std::vector<StockFriction>& StockFrictions() {
  static const std::vector<StockFriction> kFrictions{
      {"nylon washer 8 x 4.2 on a conical spring", 4.2, 8.0, 0.2, 210.0, kDin},
      {"fibre washer 10 x 5.2 on a conical spring", 5.2, 10.0, 0.3, 329.0, kDin},
      {"fibre washer 12.5 x 6.2 on a conical spring", 6.2, 12.5, 0.3, 673.0, kDin},
  };
  return kFrictions;
}

const std::vector<StockTorque>& StockTorques() {
  static const std::vector<StockTorque> kTorques{
      {"torque insert 0.1 N·m", 100.0, 8.0, kNone},  {"torque insert 0.25 N·m", 250.0, 10.0, kNone},
      {"torque insert 0.5 N·m", 500.0, 12.0, kNone}, {"torque insert 1 N·m", 1000.0, 14.0, kNone},
      {"torque insert 2 N·m", 2000.0, 18.0, kNone},  {"torque insert 5 N·m", 5000.0, 25.0, kNone},
  };
  return kTorques;
}

std::vector<double> SpringWires_mm(bool inch) {
  if (!inch) return {0.5, 0.6, 0.8, 1.0, 1.2, 1.5, 1.8, 2.0, 2.5, 3.0};
  std::vector<double> wires;
  for (const double in : {0.020, 0.025, 0.031, 0.039, 0.047, 0.055, 0.063, 0.072, 0.080, 0.094}) {
    wires.push_back(in * kMmPerInch);
  }
  return wires;
}

}  // namespace lidwright
