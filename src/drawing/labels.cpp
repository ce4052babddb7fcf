// SPDX-License-Identifier: Apache-2.0
#include "labels.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "boxes.h"
#include "lidwright/base/units.h"
#include "view.h"

namespace lidwright {
namespace {

constexpr std::array<double, 11> kDistances_mm = {0.0,  1.0,  2.5,  4.5,  7.0, 10.0,
                                                  14.0, 19.0, 26.0, 36.0, 50.0};
constexpr int kDirections = 16;
constexpr double kCostOfTurn_mm = 1.5;  // per radian away from the wanted direction
constexpr double kCostOfInk = 0.8;      // per millimetre of line covered
constexpr double kCostOfHatch = 8.0;    // per millimetre of hatching covered
constexpr double kCostOfLeader_mm = 2.0;
constexpr double kGrid_mm = 3.0;
// [mm] Signs like the one for diameters reach this far beyond the height of a line.
constexpr double kBeyondLine_mm = 0.4;
// Texts on one line stand so many heights of capitals apart; words of one text stand half of one.
constexpr double kApartHeights = 1.2;
// Two texts are on one line if they share this part of the lower one's height.
constexpr double kOneLine = 0.4;

Rect2 BoxAround(const Vec2& middle, const Vec2& size) {
  return {middle - size / 2.0, middle + size / 2.0};
}

Vec2 NearestIn(const Rect2& box, const Vec2& p) {
  return p.cwiseMax(box.low).cwiseMin(box.high);
}

bool CrossesText(const Canvas& canvas, const Vec2& a, const Vec2& b) {
  return std::any_of(canvas.texts().begin(), canvas.texts().end(), [&](const PlacedText& text) {
    const auto [from, to] = SharesWithin(a, b, Grown(text.box, 0.2));
    return from < to;
  });
}

struct Place {
  double cost = 1e300;
  Rect2 box;
};

void Try(const Canvas& canvas, const LabelRule& rule, const Vec2& point, const Rect2& box,
         double extra_cost, Place* best) {
  const double distance = (NearestIn(box, point) - point).norm();
  double cost = distance + extra_cost;
  if (distance >= rule.leader_from_mm) cost += kCostOfLeader_mm;
  if (cost >= best->cost || !Inside(box, rule.area)) return;
  if (!canvas.Free(box, style::kTextClear_mm + kBeyondLine_mm) || ReadsOn(canvas, box)) return;
  if (distance >= rule.leader_from_mm && CrossesText(canvas, NearestIn(box, point), point)) return;
  cost += kCostOfInk * canvas.InkIn(Grown(box, 0.3));
  if (cost >= best->cost) return;
  cost += kCostOfHatch * canvas.HatchIn(Grown(box, 0.3));
  if (cost < best->cost) *best = {cost, box};
}

}  // namespace

bool ReadsOn(const Canvas& canvas, const Rect2& box, bool upright) {
  return std::any_of(canvas.texts().begin(), canvas.texts().end(), [&](const PlacedText& text) {
    const Rect2& other = text.box;
    if (text.upright != upright) return false;
    const int along = upright ? 1 : 0, over = 1 - along;
    const double height = std::min(Size(box)[over], Size(other)[over]);
    const double shared =
        std::min(box.high[over], other.high[over]) - std::max(box.low[over], other.low[over]);
    const double apart =
        std::max(box.low[along] - other.high[along], other.low[along] - box.high[along]);
    return shared > kOneLine * height && apart < kApartHeights * height;
  });
}

bool PlaceLabel(Canvas& canvas, const std::string& text, const Vec2& point, const LabelRule& rule) {
  Lettering lettering;
  lettering.height_mm = rule.height_mm;
  lettering.colour = rule.colour;
  lettering.behind = rule.behind;
  const Rect2 at_origin = canvas.BoxOf(text, Vec2::Zero(), lettering);
  const Vec2 size = Size(at_origin);
  const double wanted = std::atan2(rule.toward.y(), rule.toward.x());

  Place best;
  for (const double further : kDistances_mm) {
    const double distance = rule.clear_mm + further;
    if (distance >= best.cost) break;
    for (int i = 0; i < kDirections; ++i) {
      const double turn = (i % 2 == 0 ? 1 : -1) * ((i + 1) / 2) * 2.0 * kPi / kDirections;
      const Vec2 out(std::cos(wanted + turn), std::sin(wanted + turn));
      // The box touches a circle round the point on its outside.
      const Vec2 push = (1.6 * out).cwiseMax(-1.0).cwiseMin(1.0);
      const Vec2 middle = point + distance * out + push.cwiseProduct(size) / 2.0;
      Try(canvas, rule, point, BoxAround(middle, size), kCostOfTurn_mm * std::abs(turn), &best);
    }
  }
  if (best.cost >= 1e300) {
    for (double y = rule.area.low.y(); y < rule.area.high.y(); y += kGrid_mm) {
      for (double x = rule.area.low.x(); x < rule.area.high.x(); x += kGrid_mm) {
        Try(canvas, rule, point, {Vec2(x, y), Vec2(x, y) + size}, 0.0, &best);
      }
    }
  }
  if (best.cost >= 1e300) return false;
  const Vec2 end = NearestIn(Grown(best.box, 0.5), point);
  if ((end - point).norm() >= rule.leader_from_mm - 0.5) {
    canvas.Draw(PageLine({point, end}), std::nullopt, Pen{style::kThin.width_mm, rule.colour});
  }
  canvas.Write(text, best.box.low - at_origin.low, lettering);
  return true;
}

void DrawAroundTexts(Canvas& canvas, const Vec2& a, const Vec2& b, const Pen& pen) {
  std::vector<std::pair<double, double>> covered;
  for (const PlacedText& text : canvas.texts()) {
    const auto [from, to] = SharesWithin(a, b, Grown(text.box, 0.4));
    if (from < to) covered.push_back({from, to});
  }
  std::sort(covered.begin(), covered.end());
  covered.push_back({1.0, 1.0});
  double at = 0.0;
  Path path;
  for (const auto& [from, to] : covered) {
    if (from > at) path.push_back(PageLine({a + at * (b - a), a + from * (b - a)})[0]);
    at = std::max(at, to);
  }
  if (!path.empty()) canvas.Draw(std::move(path), std::nullopt, pen);
}

}  // namespace lidwright
