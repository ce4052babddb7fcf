// SPDX-License-Identifier: Apache-2.0
#include "places.h"

#include <algorithm>
#include <cmath>

#include "frames.h"

namespace lidwright {
namespace {

// [mm] Between neighbouring samples, and how far they go from the middle along x and y.
constexpr double kPlacesStep_mm = 3.0, kPlacesReach_mm = 24.0;

}  // namespace

std::vector<Vec2> PlacesAround(const Job& job, const Vec2& at) {
  const double step_mm = std::max(kPlacesStep_mm, job.shop.grid_mm);
  const int reach = static_cast<int>(kPlacesReach_mm / step_mm);
  std::vector<Vec2> places;
  for (int i = -reach; i <= reach; ++i) {
    for (int k = -reach; k <= reach; ++k) places.emplace_back(i * step_mm, k * step_mm);
  }
  std::stable_sort(places.begin(), places.end(),
                   [](const Vec2& a, const Vec2& b) { return a.squaredNorm() < b.squaredNorm(); });
  for (Vec2& place : places) place = OnShopGrid(job, at + place);
  return places;
}

bool LidClears(const BoxModel& box, const Pivots& pivots) {
  CertifyOptions options;
  options.all = false;
  return AllMet(CertifyLid(box.box, LidMotion::Make(pivots), box.limits, options));
}

}  // namespace lidwright
