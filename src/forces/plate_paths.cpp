// SPDX-License-Identifier: Apache-2.0
#include "plate_paths.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <queue>

#include "lidwright/base/check.h"
#include "lidwright/geometry/ring.h"

namespace lidwright {
namespace {

constexpr double kLattice_mm = 1.0;  // [mm] several points across the narrowest leg that is cut
constexpr double kStep_mm = 0.5;     // [mm] between points of the way given back
constexpr double kMiddle_mm = 4.0;   // [mm] a step this far from an edge costs twice its length
constexpr double kLeastClear_mm = 0.1;

// The same way with points at most a step apart.
std::vector<Vec2> Filled(const std::vector<Vec2>& way) {
  std::vector<Vec2> filled{way.front()};
  for (std::size_t i = 1; i < way.size(); ++i) {
    const Vec2 a = way[i - 1], b = way[i];
    const int parts = std::max(1, static_cast<int>(std::ceil((b - a).norm() / kStep_mm)));
    for (int k = 1; k <= parts; ++k) {
      filled.push_back(a + static_cast<double>(k) / parts * (b - a));
    }
  }
  return filled;
}

}  // namespace

PlateWays::PlateWays(const PlateBody& plate) {
  LW_REQUIRE(!plate.screws.empty(), "a plate without screws");
  for (const Circle& screw : plate.screws) screws_.push_back(screw.centre);
  const Rect2 bounds = Bounds(plate.outline);
  low_ = bounds.low;
  columns_ = 2 + static_cast<int>((bounds.high.x() - low_.x()) / kLattice_mm);
  rows_ = 2 + static_cast<int>((bounds.high.y() - low_.y()) / kLattice_mm);
  clear_.resize(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_));
  const std::vector<Ring> rings{plate.outline};
  for (std::size_t i = 0; i < clear_.size(); ++i) clear_[i] = -SignedDistance(rings, At(i));
}

Vec2 PlateWays::At(std::size_t i) const {
  const auto column = static_cast<double>(i % static_cast<std::size_t>(columns_));
  const auto row = static_cast<double>(i / static_cast<std::size_t>(columns_));
  return low_ + kLattice_mm * Vec2(column, row);
}

// The inner point nearest to a place, or none.
std::size_t PlateWays::Nearest(const Vec2& p) const {
  std::size_t best = clear_.size();
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < clear_.size(); ++i) {
    if (clear_[i] <= 0.0) continue;
    const double away = (At(i) - p).squaredNorm();
    if (away >= least) continue;
    least = away;
    best = i;
  }
  return best;
}

// For every point, the one before it on its way from `from`, and that way's length.
void PlateWays::WaysFrom(std::size_t from, std::vector<std::size_t>& before,
                         std::vector<double>& length) const {
  const double infinite = std::numeric_limits<double>::infinity();
  before.assign(clear_.size(), clear_.size());
  length.assign(clear_.size(), infinite);
  std::vector<double> cost(clear_.size(), infinite);
  using Entry = std::pair<double, std::size_t>;
  std::priority_queue<Entry, std::vector<Entry>, std::greater<>> open;
  cost[from] = length[from] = 0.0;
  open.push({0.0, from});
  const auto step = [&](std::size_t i, int dx, int dy) {
    const int x = static_cast<int>(i) % columns_ + dx, y = static_cast<int>(i) / columns_ + dy;
    if ((dx == 0 && dy == 0) || x < 0 || y < 0 || x >= columns_ || y >= rows_) return;
    const auto j = static_cast<std::size_t>(y * columns_ + x);
    if (clear_[j] <= 0.0) return;
    const double way = kLattice_mm * std::hypot(dx, dy);
    const double clear = std::max(kLeastClear_mm, std::min(clear_[i], clear_[j]));
    const double next = cost[i] + way * (1.0 + kMiddle_mm / clear);
    if (next >= cost[j]) return;
    cost[j] = next;
    length[j] = length[i] + way;
    before[j] = i;
    open.push({next, j});
  };
  while (!open.empty()) {
    const auto [spent, i] = open.top();
    open.pop();
    if (spent > cost[i]) continue;
    for (int dy = -1; dy <= 1; ++dy) {
      for (int dx = -1; dx <= 1; ++dx) step(i, dx, dy);
    }
  }
}

std::vector<Vec2> PlateWays::ToScrew(const Vec2& from) const {
  const std::size_t start = Nearest(from);
  std::size_t end = clear_.size();
  Vec2 screw = screws_.front();
  std::vector<std::size_t> before;
  std::vector<double> length;
  if (start < clear_.size()) {
    WaysFrom(start, before, length);
    double least = std::numeric_limits<double>::infinity();
    for (const Vec2& one : screws_) {
      const std::size_t at = Nearest(one);
      if (length[at] >= least) continue;
      least = length[at];
      end = at;
      screw = one;
    }
  }
  std::vector<Vec2> way;
  if (end < clear_.size()) {
    for (std::size_t i = end; i != start; i = before[i]) way.push_back(At(i));
    std::reverse(way.begin(), way.end());
    if (!way.empty()) way.pop_back();  // the screw itself comes instead
  }
  way.insert(way.begin(), from);
  way.push_back(screw);
  return Filled(way);
}

}  // namespace lidwright
