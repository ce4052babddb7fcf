// SPDX-License-Identifier: Apache-2.0
#include "lidwright/forces/screws.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"

namespace lidwright {
namespace {

// 15 700 lb/in² and the groups' constants in N/mm².
constexpr double kMpaPerPsi = 0.00689475729;
constexpr double kPullOut_mpa = 15700.0 * kMpaPerPsi;
struct Group {
  double from_gravity, constant_mpa;
};
constexpr std::array<Group, 4> kGroups{{{0.62, 4800.0 * kMpaPerPsi},
                                        {0.51, 3960.0 * kMpaPerPsi},
                                        {0.44, 3240.0 * kMpaPerPsi},
                                        {0.0, 2520.0 * kMpaPerPsi}}};
constexpr double kFullThread = 7.0;  // [–] diameters

}  // namespace

double ScrewPullOut_n(double specific_gravity, double diameter_mm, double thread_mm) {
  return kPullOut_mpa * specific_gravity * specific_gravity * diameter_mm * thread_mm;
}

double ScrewSideLoad_n(double specific_gravity, double diameter_mm, double thread_mm) {
  LW_REQUIRE(specific_gravity > 0.0 && diameter_mm > 0.0, "gravity=" << specific_gravity);
  const auto* group = std::find_if(kGroups.begin(), kGroups.end(), [&](const Group& g) {
    return specific_gravity >= g.from_gravity;
  });
  return group->constant_mpa * diameter_mm * diameter_mm *
         std::min(1.0, thread_mm / (kFullThread * diameter_mm));
}

ScrewLoads LoadsOnScrews(const PlateHold& plate, const std::array<Vec2, 2>& pins,
                         const std::array<Vec2, 2>& forces_n) {
  LW_REQUIRE(!plate.screws.empty() && plate.edge.size() >= 3, "screws=" << plate.screws.size());
  const auto count = static_cast<double>(plate.screws.size());
  Vec2 centre = Vec2::Zero();
  for (const Vec2& screw : plate.screws) centre += screw / count;
  Vec2 force = Vec2::Zero(), tilt = Vec2::Zero();
  double twist = 0.0;
  for (std::size_t i = 0; i < 2; ++i) {
    force += forces_n[i];
    tilt += plate.height_mm[i] * forces_n[i];
    twist += Cross(Vec2(pins[i] - centre), forces_n[i]);
  }
  double spread = 0.0;
  for (const Vec2& screw : plate.screws) spread += (screw - centre).squaredNorm();
  ScrewLoads loads;
  for (const Vec2& screw : plate.screws) {
    Vec2 share = force / count;
    if (spread > 0.0) share += twist / spread * Perp(Vec2(screw - centre));
    loads.side_n = std::max(loads.side_n, share.norm());
  }
  const double size = tilt.norm();
  if (size == 0.0) return loads;
  const Vec2 over = tilt / size;
  double edge = -1e300;
  for (const Vec2& p : plate.edge) edge = std::max(edge, p.dot(over));
  double squares = 0.0;
  for (const Vec2& screw : plate.screws) squares += std::pow(edge - screw.dot(over), 2);
  for (const Vec2& screw : plate.screws) {
    loads.pull_n = std::max(loads.pull_n, size * (edge - screw.dot(over)) / squares);
  }
  return loads;
}

}  // namespace lidwright
