// SPDX-License-Identifier: Apache-2.0
#include "lidwright/cutting/cutter_path.h"

#include <algorithm>
#include <cmath>

#include "cutting/edges.h"
#include "lidwright/arms/hardware.h"
#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

// To the right of an edge at its start and end: away from the solid.
std::pair<Vec2, Vec2> Outwards(const Edge& edge) {
  const Vec2 right = -Perp(Vec2((edge.to - edge.from).normalized()));
  const double lean = edge.Straight() ? 0.0 : 2.0 * std::atan(edge.bulge);
  return {Pose::Make(-lean, Vec2::Zero()).Turn(right), Pose::Make(lean, Vec2::Zero()).Turn(right)};
}

std::vector<Tab> TabsFor(const Outline& outline, int count, double width_mm) {
  struct Place {
    double at, length;
    bool straight;
  };
  std::vector<Place> places;
  double at = 0.0;
  for (std::size_t i = 0; i < outline.vertices.size(); ++i) {
    const Edge edge = EdgeOf(outline, i);
    const double length = Length(edge);
    // A long edge has room for several, one to each part of it.
    const int parts = std::max(1, static_cast<int>(length / (6.0 * width_mm)));
    for (int k = 0; k < parts; ++k) {
      if (length / parts > 1.2 * width_mm) {
        places.push_back(
            {at + (k + 0.5) * length / parts - width_mm / 2.0, length / parts, edge.Straight()});
      }
    }
    at += length;
  }
  // Straight ones first; of those the one farthest from the tabs so far, all the way round.
  std::vector<Tab> tabs;
  const auto apart = [&](const Place& place) {
    double least = at / 2.0;
    for (const Tab& tab : tabs) {
      const double d = std::abs(tab.at_mm - place.at);
      least = std::min(least, std::min(d, at - d));
    }
    return least + (place.straight ? at / 6.0 : 0.0);
  };
  while (static_cast<int>(tabs.size()) < count && !places.empty()) {
    const auto best = std::max_element(
        places.begin(), places.end(),
        [&](const Place& a, const Place& b) { return apart(a) < apart(b) - kSamePoint_mm; });
    tabs.push_back({best->at, width_mm});
    places.erase(best);
  }
  std::sort(tabs.begin(), tabs.end(), [](const Tab& a, const Tab& b) { return a.at_mm < b.at_mm; });
  return tabs;
}

}  // namespace

std::optional<Outline> OffsetOutward(const Outline& outline, double by_mm) {
  LW_REQUIRE(by_mm >= 0.0 && std::isfinite(by_mm), "by_mm=" << by_mm);
  if (by_mm == 0.0) return outline;
  const double least_slot = 2.0 * by_mm + kShortEdge_mm;  // or the two sides would touch
  if (NarrowestSlot(outline, least_slot).width_mm < least_slot) return std::nullopt;
  const std::size_t n = outline.vertices.size();
  Outline out;
  const auto add = [&](const Vec2& point, double bulge) {
    if (!out.vertices.empty() && (out.vertices.back().point - point).norm() < kShortEdge_mm) {
      out.vertices.back().bulge = bulge;
    } else {
      out.vertices.push_back({point, bulge});
    }
  };
  for (std::size_t i = 0; i < n; ++i) {
    const Edge edge = EdgeOf(outline, i), next = EdgeOf(outline, (i + 1) % n);
    const double turn = Turn_rad(edge, next);
    if (turn < -kSmoothJoint_rad) return std::nullopt;
    if (!edge.Straight() && edge.bulge < 0.0 &&
        ArcOf(edge.from, edge.to, edge.bulge).radius_mm < by_mm - kSamePoint_mm) {
      return std::nullopt;
    }
    const auto [first, last] = Outwards(edge);
    add(edge.from + by_mm * first, edge.Straight() ? 0.0 : edge.bulge);
    if (turn * by_mm > kShortEdge_mm) add(edge.to + by_mm * last, BulgeOf(turn));
  }
  if (out.vertices.size() > 1 &&
      (out.vertices.back().point - out.vertices.front().point).norm() < kShortEdge_mm) {
    out.vertices.pop_back();
  }
  return out;
}

std::optional<CutPart> CutterPath(const CutPart& part, const PathWish& wish, bool inches,
                                  std::vector<CutFault>* faults) {
  const double half = wish.cutter_mm / 2.0;
  const std::vector<CutFault> found = FaultsFor(part, {wish.cutter_mm, 0.0, inches});
  faults->insert(faults->end(), found.begin(), found.end());
  if (!found.empty()) return std::nullopt;
  const std::optional<Outline> outline = OffsetOutward(part.outline, half);
  if (!outline) {  // the cutter just fits, but would run twice on one line
    const NarrowPlace slot = NarrowestSlot(part.outline, wish.cutter_mm + 2.0 * kShortEdge_mm);
    faults->push_back({part.name, CutFaultKind::kSlot, slot.width_mm, wish.cutter_mm, slot.a,
                       part.name + ": a slot is just as wide as the cutter of " +
                           BenchLength(wish.cutter_mm, inches) +
                           ", its two sides would be one path; a thinner cutter fits"});
    return std::nullopt;
  }
  CutPart path{part.name, *outline, {}, {}};
  for (const Circle& hole : part.holes) {
    const Circle inner{hole.centre, hole.radius_mm - half};
    if (2.0 * inner.radius_mm >= wish.thinnest_mm) {
      path.holes.push_back(inner);
    } else {
      path.drill_marks.push_back(hole);
    }
  }
  path.drill_marks.insert(path.drill_marks.end(), part.drill_marks.begin(), part.drill_marks.end());
  path.tabs = TabsFor(*outline, wish.tabs, wish.tab_mm + wish.cutter_mm);
  if (static_cast<int>(path.tabs.size()) < wish.tabs) {
    faults->push_back({part.name, CutFaultKind::kOutline, static_cast<double>(path.tabs.size()),
                       static_cast<double>(wish.tabs), Vec2::Zero(),
                       part.name + ": its edges have room for " + std::to_string(path.tabs.size()) +
                           " of " + std::to_string(wish.tabs) + " tabs of " +
                           BenchLength(wish.tab_mm, inches) + "; narrower tabs would fit"});
    return std::nullopt;
  }
  if (const auto fault = FaultOf(path)) {
    faults->push_back({part.name, CutFaultKind::kOutline, kUnset, kUnset, Vec2::Zero(),
                       part.name + ": the cutter's path cannot be: " + *fault});
    return std::nullopt;
  }
  return path;
}

}  // namespace lidwright
