// SPDX-License-Identifier: Apache-2.0
#include "lidwright/base/maker_units.h"

#include <catch2/catch.hpp>

#include "lidwright/base/units.h"

namespace lidwright {
namespace {

// 1 N = 0.224809 lbf, 1 N m = 8.85075 lbf in = 0.737562 ft lbf, 1 kg = 2.204623 lb, 1 m/s =
// 3.280840 ft/s, 1 kg/m³ = 0.062428 lb/ft³: tables of units, from memory.
TEST_CASE("a force, torque, weight, speed or blow is said in one unit, the job's", "[base]") {
  CHECK(ForceText(20.0, Bench::kRoom, false) == "20 N");
  CHECK(ForceText(20.0, Bench::kRoom, true) == "4.5 lbf");  // 4.496
  CHECK(ForceText(20.0, Bench::kGap, true) == "4.4 lbf");
  CHECK(ForceText(50.0, Bench::kRoom, true) == "12 lbf");  // 11.24
  CHECK(ForceText(kUnset, Bench::kGap, true) == "-");
  CHECK(TorqueText(1500.0, false) == "1.50 N m");
  CHECK(TorqueText(1500.0, true) == "13.3 lbf in");
  CHECK(MassText(1.0, false) == "1.00 kg");
  CHECK(MassText(1.0, true) == "2.20 lb");
  CHECK(SpeedText(2.0, false) == "2.0 m/s");
  CHECK(SpeedText(2.0, true) == "6.6 ft/s");
  CHECK(EnergyText(2.0, false) == "2.0 J");
  CHECK(EnergyText(2.0, true) == "1.5 ft lbf");
  CHECK(DensityText(560.0, false) == "560 kg/m3");
  CHECK(DensityText(560.0, true) == "35 lb/ft3");
  CHECK(ForceInUnit(100.0, true) == Approx(22.4809).epsilon(1e-5));
  CHECK(ForceInUnit(100.0, false) == 100.0);
}

TEST_CASE("a force is told as a weight to its safe side, under a pound in ounces", "[base]") {
  const double n = 0.63 * kGravity_m_s2;  // 1.389 lb
  CHECK(HeftText(n, Bench::kRoom, false) == "0.63 kg");
  CHECK(HeftText(1.004 * n, Bench::kRoom, false) == "0.64 kg");
  CHECK(HeftText(1.004 * n, Bench::kGap, false) == "0.63 kg");
  CHECK(HeftText(2.0 * n, Bench::kRoom, false) == "1.3 kg");
  CHECK(HeftText(2.0 * n, Bench::kGap, false) == "1.2 kg");
  CHECK(HeftText(n, Bench::kRoom, true) == "1.4 lb");
  CHECK(HeftText(n, Bench::kGap, true) == "1.3 lb");
  const double light = 0.39 * kGravity_m_s2;  // 13.76 oz
  CHECK(HeftText(light, Bench::kRoom, true) == "14 oz");
  CHECK(HeftText(light, Bench::kGap, true) == "13 oz");
  const double pound = 0.999 * kKgPerLb * kGravity_m_s2;
  CHECK(HeftText(pound, Bench::kRoom, true) == "1.0 lb");
  CHECK(HeftText(pound, Bench::kGap, true) == "15 oz");
  CHECK(HeftText(-3.0, Bench::kRoom, true) == "0 oz");
  CHECK(HeftText(-3.0, Bench::kRoom, false) == "0.00 kg");
}

}  // namespace
}  // namespace lidwright
