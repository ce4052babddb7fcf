// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/spring_size.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

constexpr double kPerTurn = 10.8;  // [1] 10.18 by theory, more by friction between the coils
constexpr double kFewestTurns = 2.0, kMostTurns = 60.0;
constexpr double kLeastIndex = 4.0, kMostIndex = 16.0;  // [1] D/d that can be wound
constexpr int kSteps = 200;

}  // namespace

double MusicWire_mpa(double wire_mm) {
  LW_REQUIRE(wire_mm >= 0.1 && wire_mm <= 6.5, "wire=" << wire_mm);
  return 2211.0 / std::pow(wire_mm, 0.145);
}

double SpringRate_nmm_rad(double wire_mm, double mean_mm, double turns, double modulus_mpa) {
  LW_REQUIRE(wire_mm > 0.0 && mean_mm > wire_mm && turns > 0.0, "turns=" << turns);
  return std::pow(wire_mm, 4) * modulus_mpa / (kPerTurn * 2.0 * kPi * mean_mm * turns);
}

double SpringStress_mpa(double torque_nmm, double wire_mm, double mean_mm) {
  LW_REQUIRE(wire_mm > 0.0 && mean_mm > wire_mm, "wire=" << wire_mm << " mean=" << mean_mm);
  const double c = mean_mm / wire_mm;
  const double k = (4.0 * c * c - c - 1.0) / (4.0 * c * (c - 1.0));
  return k * 32.0 * std::abs(torque_nmm) / (kPi * std::pow(wire_mm, 3));
}

std::optional<SpringSize> SizeSpring(const SpringWish& wish, const std::vector<double>& wires_mm) {
  LW_REQUIRE(wish.turn_rad > 0.0 && wish.pin_mm > 0.0, "turn=" << wish.turn_rad);
  const double most = std::max(std::abs(wish.shut_nmm), std::abs(wish.open_nmm));
  const double rate = std::abs(wish.open_nmm - wish.shut_nmm) / wish.turn_rad;
  if (wish.shut_nmm * wish.open_nmm < 0.0 || most == 0.0 || rate == 0.0) return std::nullopt;
  for (const double wire : wires_mm) {
    const double allowed = kSpringShare * MusicWire_mpa(wire);
    const double wound = most / rate;
    // From the narrowest coil that clears the pin to the widest there is room for.
    const double widest = std::min(wish.outside_mm - wire, kMostIndex * wire);
    const double least = std::max(kSpringClears * wish.pin_mm + wire, kLeastIndex * wire);
    for (int i = 0; i <= kSteps && least <= widest; ++i) {
      const double mean = least + (widest - least) * i / kSteps;
      const double turns =
          std::pow(wire, 4) * kSpringWire_mpa / (kPerTurn * 2.0 * kPi * mean * rate);
      if (turns < kFewestTurns || turns > kMostTurns) continue;
      // Winding makes more turns of the same wire.
      const double inside = mean * turns / (turns + wound / (2.0 * kPi)) - wire;
      const double length = (turns + wound / (2.0 * kPi) + 1.0) * wire;
      const double stress = SpringStress_mpa(most, wire, mean);
      if (inside < kSpringClears * wish.pin_mm || length > wish.room_mm || stress > allowed)
        continue;
      return SpringSize{wire, mean, turns, rate, wound, most, stress, allowed, inside, length};
    }
  }
  return std::nullopt;
}

}  // namespace lidwright
