// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/screw_holds.h"

#include <algorithm>

#include "lidwright/base/check.h"
#include "lidwright/forces/dowels.h"

namespace lidwright {
namespace {

constexpr double kPull_mpa = 2850.0 * 0.00689475729;
constexpr double kEndGrain = 0.5;
constexpr double kFullThread = 6.0;  // [–] diameters

}  // namespace

ScrewHold ScrewHoldOf(const ScrewSeat& seat) {
  LW_REQUIRE(seat.gravity > 0.0 && seat.diameter_mm > 0.0 && seat.thread_mm > 0.0 &&
                 seat.plate_mm > 0.0 && seat.plate_bearing_mpa > 0.0,
             "diameter=" << seat.diameter_mm << " thread=" << seat.thread_mm);
  LW_REQUIRE(seat.share >= 0.0 && seat.share <= 1.0, "share=" << seat.share);
  ScrewHold hold;
  hold.pull_n = seat.share * (seat.end_grain ? kEndGrain : 1.0) * kPull_mpa * seat.gravity *
                seat.gravity * seat.diameter_mm * seat.thread_mm;
  const double root = kScrewRoot * seat.diameter_mm;
  const Dowel screw{root, ScrewYield_mpa(seat.diameter_mm, seat.brass)};
  const DowelLoad load = DowelLoadOf(
      screw, {seat.plate_bearing_mpa, seat.plate_mm},
      {DowelBearing_mpa(seat.gravity, seat.diameter_mm, seat.grain_rad), seat.thread_mm},
      seat.packing_mm);
  hold.side_n = seat.share * load.allowed_n *
                std::min(1.0, seat.thread_mm / (kFullThread * seat.diameter_mm));
  return hold;
}

double ScrewUse(const ScrewHold& hold, double pull_n, double side_n) {
  if (pull_n <= 0.0 && side_n <= 0.0) return 0.0;
  return std::max(0.0, pull_n) / hold.pull_n + std::max(0.0, side_n) / hold.side_n;
}

}  // namespace lidwright
