// SPDX-License-Identifier: Apache-2.0
#include "lid_strips.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"

namespace lidwright::lid_plate {
namespace {

// [mm] Grid on which strips look for their way, and how far from the pivot.
constexpr double kGrid_mm = 2.0;
constexpr int kFarthest = 90;  // grid steps
constexpr int kColumns = 2 * kFarthest + 1;
constexpr int kPivotCell = kFarthest * kColumns + kFarthest;
// [1] Weight of a step through a place without comfort, over its length.
constexpr double kNarrowDislike = 1.5;
constexpr double kComfort_mm = 3.0;
// [mm] Near the pivot a grid point may lie a little nearer to something than the pivot itself.
constexpr double kAtPivot_mm = 0.75 * kGrid_mm;
// [mm] So far inside the case's faces its rim is looked at.
constexpr double kInside_mm = 1.0;

}  // namespace

Skin::Skin(const Solid& solid) {
  const double wall = EndWallBeside_mm(solid);
  for (const Station& station : solid.stations) {
    if (station.beyond_bay) continue;
    if (station.end_wall && std::abs(station.z_mm - wall) <= 1e-6) {
      end_ = &station.lid_rings;
      case_ = Bounds(station.case_rings);
    }
    if (!station.end_wall && std::abs(station.z_mm - solid.bay.z_max_mm) <= 1e-6) {
      hollow_ = &station.lid_rings;
    }
  }
  LW_REQUIRE(end_ && hollow_, "no stations where the bay ends");
  hollow_box_ = Bounds(*hollow_);
  for (const Ring& ring : *end_) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
      const bool underside = b.x() - a.x() > std::abs(b.y() - a.y());
      all_.push_back({a, b});
      if (!underside) outside_.push_back({a, b});
    }
  }
}

double Skin::SeamAt(double x) const {
  x = std::clamp(x, case_.low.x() + kInside_mm, case_.high.x() - kInside_mm);
  double low = 1e300;
  for (const auto& [a, b] : all_) {
    if ((a.x() > x) == (b.x() > x)) continue;
    low = std::min(low, a.y() + (b.y() - a.y()) * (x - a.x()) / (b.x() - a.x()));
  }
  return low;
}

double Skin::SeamOver(double from, double to) const {
  double high = SeamAt(to);
  for (double x = from; x < to; x += 1.0) high = std::max(high, SeamAt(x));
  return high;
}

double Skin::At(const Vec2& p) const {
  double least2 = std::numeric_limits<double>::infinity();
  for (const auto& [a, b] : outside_) {
    least2 = std::min(least2, (NearestOnSegment(p, a, b) - p).squaredNorm());
  }
  const double least = std::sqrt(least2);
  return Contains(*end_, p) || p.y() < SeamAt(p.x()) ? least : -least;
}

double Skin::Recess(const Outline& outline) const {
  double deepest = 0.0;
  // From one point to another depth grows by no more than their distance.
  Vec2 looked_at = Vec2::Zero();
  double at_most = std::numeric_limits<double>::infinity();
  for (const Vec2& p : Flatten(outline, kChordError_mm)) {
    if (at_most + (p - looked_at).norm() < deepest - kSamePoint_mm) continue;
    looked_at = p;
    at_most = 0.0;
    const bool near = (p.array() >= hollow_box_.low.array()).all() &&
                      (p.array() <= hollow_box_.high.array()).all();
    if (!near || !Contains(*hollow_, p)) continue;
    at_most = -SignedDistance(*hollow_, p);
    deepest = std::max(deepest, at_most);
  }
  return deepest;
}

StripWays::StripWays(const Skin& skin, ArmRoom room, const Vec2& pivot, double gap_mm,
                     double row_mm, double wood_mm)
    : skin_(skin),
      room_(std::move(room)),
      pivot_(pivot),
      gap_(gap_mm),
      row_(row_mm),
      wood_(wood_mm),
      places_(static_cast<std::size_t>(kColumns * kColumns)) {}

Vec2 StripWays::PointOf(int cell) const {
  return pivot_ + kGrid_mm * Vec2(cell % kColumns - kFarthest, cell / kColumns - kFarthest);
}

// Looks only at what it has to, and only once.
bool StripWays::Free(Lie& lie, const Vec2& p, double half_mm) const {
  if (std::isnan(lie.room_mm)) lie.room_mm = room_.At(p);
  if (lie.room_mm < half_mm + gap_) return false;
  if (std::isnan(lie.skin_mm)) {
    lie.skin_mm =
        p.y() > skin_.SeamAt(p.x()) ? skin_.At(p) : std::numeric_limits<double>::infinity();
  }
  return lie.skin_mm >= half_mm + kLidSkin_mm;
}

bool StripWays::Free(const Vec2& p, double half_mm) const {
  Lie lie;
  return Free(lie, p, half_mm);
}

bool StripWays::FreeCell(int cell, double half_mm) {
  return Free(places_[static_cast<std::size_t>(cell)].lie, PointOf(cell), half_mm);
}

bool StripWays::RowFree(double x, double half_mm) {
  const auto [entry, fresh] = on_row_.try_emplace(x);
  Lie& lie = entry->second;
  if (fresh && row_ - skin_.SeamAt(x) < wood_ - kSamePoint_mm) {
    lie.room_mm = -std::numeric_limits<double>::infinity();
  }
  return Free(lie, {x, row_}, half_mm);
}

void StripWays::Begin(double half_mm) {
  if (half_mm == half_) return;
  half_ = half_mm;
  for (const int cell : touched_) {
    Place& place = places_[static_cast<std::size_t>(cell)];
    place.cost_mm = std::numeric_limits<double>::infinity();
    place.from = -1;
  }
  touched_.clear();
  settled_.clear();
  front_ = {};
  if (!FreeCell(kPivotCell, half_mm - kAtPivot_mm)) return;
  places_[kPivotCell].cost_mm = 0.0;
  touched_.push_back(kPivotCell);
  front_.push({0.0, kPivotCell});
}

// One more place whose shortest way is known (Dijkstra); false when all are.
bool StripWays::Settle() {
  if (!settled_.empty()) Spread(settled_.back());
  while (!front_.empty()) {
    const Open now = front_.top();
    front_.pop();
    if (now.cost_mm > places_[static_cast<std::size_t>(now.cell)].cost_mm) continue;
    settled_.push_back(now.cell);
    return true;
  }
  return false;
}

void StripWays::Spread(int cell) {
  const int column = cell % kColumns, row = cell / kColumns;
  const double so_far = places_[static_cast<std::size_t>(cell)].cost_mm;
  for (int c = std::max(0, column - 1); c <= std::min(column + 1, kColumns - 1); ++c) {
    for (int r = std::max(0, row - 1); r <= std::min(row + 1, kColumns - 1); ++r) {
      const int next = r * kColumns + c;
      Place& place = places_[static_cast<std::size_t>(next)];
      if (place.cost_mm <= so_far || !FreeCell(next, half_)) continue;
      const double spare = place.lie.room_mm - half_ - gap_;
      const double dislike = 1.0 + kNarrowDislike * std::clamp(1.0 - spare / kComfort_mm, 0.0, 1.0);
      const double step = c == column || r == row ? 1.0 : std::sqrt(2.0);
      const double cost = so_far + kGrid_mm * step * dislike;
      if (place.cost_mm <= cost) continue;
      if (place.from < 0) touched_.push_back(next);
      place.cost_mm = cost;
      place.from = cell;
      front_.push({cost, next});
    }
  }
}

std::vector<Vec2> StripWays::Leg(double half_mm, const std::vector<Vec2>& strip) {
  const auto foot = [&](int cell) -> std::optional<Vec2> {
    const Vec2 p = PointOf(cell);
    for (std::size_t i = 0; i + 1 < strip.size(); ++i) {
      const Vec2 q = NearestOnSegment(p, strip[i], strip[i + 1]);
      if ((q - p).norm() <= kGrid_mm) return q;
    }
    if (std::abs(p.y() - row_) <= kGrid_mm && RowFree(p.x(), half_mm)) return Vec2(p.x(), row_);
    return std::nullopt;
  };
  Begin(half_mm);
  for (std::size_t i = 0; i < settled_.size() || Settle(); ++i) {
    const std::optional<Vec2> end = foot(settled_[i]);
    if (!end) continue;
    std::vector<Vec2> way{*end};
    for (int at = settled_[i]; at != kPivotCell; at = places_[static_cast<std::size_t>(at)].from) {
      way.push_back(PointOf(at));
    }
    way.push_back(pivot_);
    return Taut(std::move(way), half_mm);
  }
  return {};
}

std::vector<Vec2> StripWays::Taut(std::vector<Vec2> way, double half_mm) const {
  std::reverse(way.begin(), way.end());  // now from the pivot to the row
  const auto sees = [&](const Vec2& a, const Vec2& b) {
    const int pieces = std::max(1, static_cast<int>(std::ceil((b - a).norm())));
    for (int i = 0; i <= pieces; ++i) {
      if (!Free(a + (b - a) * i / pieces, half_mm - kRoomSlack_mm)) return false;
    }
    return true;
  };
  std::vector<Vec2> taut{way.front()};
  for (std::size_t at = 0; at + 1 < way.size();) {
    std::size_t next = way.size() - 1;
    while (next > at + 1 && !sees(way[at], way[next])) --next;
    taut.push_back(way[next]);
    at = next;
  }
  return taut;
}

}  // namespace lidwright::lid_plate
