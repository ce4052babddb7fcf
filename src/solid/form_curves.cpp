// SPDX-License-Identifier: Apache-2.0
#include "form_curves.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"
#include "lidwright/geometry/ring.h"

namespace lidwright {
namespace {

// [1] Chords of one curve at most.
constexpr int kMostPieces = 400;
// [1] Halvings of a curve's quarter turn at most: steps far below any chord error.
constexpr int kMostHalvings = 12;

double ExponentOf(const LidMeasures& lid, const std::string& curve) {
  return curve == "superelliptic" ? lid.exponent : 2.0;
}

}  // namespace

double Sink(double radius, double s) {
  const double root = std::sqrt(std::max(0.0, radius * radius - s * s));
  return s * s / (radius + root);
}

double ArcRadius(double half, double rise) {
  return (half * half + rise * rise) / (2.0 * rise);
}

double ArcHeight(double half, double rise, double s) {
  if (rise == 0.0) return 0.0;
  const double sign = rise < 0.0 ? -1.0 : 1.0;
  return sign * (std::abs(rise) - Sink(ArcRadius(half, std::abs(rise)), s));
}

double EllipseHeight(double exponent, double t) {
  const double inside = std::max(0.0, 1.0 - std::pow(std::min(1.0, std::abs(t)), exponent));
  return exponent == 2.0 ? std::sqrt(inside) : std::pow(inside, 1.0 / exponent);
}

double LineHeight(const std::vector<Vec2>& points, double x) {
  if (x <= points.front().x()) return points.front().y();
  for (std::size_t i = 1; i < points.size(); ++i) {
    const Vec2 &a = points[i - 1], &b = points[i];
    if (x <= b.x()) return a.y() + (b.y() - a.y()) * (x - a.x()) / (b.x() - a.x());
  }
  return points.back().y();
}

// Chords of an arc of angle a, equal steps along its own chord, that keep within the chord error:
// they are longest at its ends, step / cos(a/2) where a step near the top is 2 R sin(a/2) / n, so
// n = 2 tan(a/2) over the turn that one chord may span. Even, so that the top gets a vertex.
int ArcPieces(double half, double rise) {
  if (rise == 0.0) return 0;
  const double radius = ArcRadius(half, std::abs(rise));
  const double angle = 2.0 * std::asin(std::min(1.0, half / radius));
  const double turn = 2.0 * std::acos(1.0 - std::min(0.5, kChordError_mm / radius));
  const double pieces = 2.0 * std::tan(std::min(angle, 3.0) / 2.0) / turn + 1.0;
  return 2 * static_cast<int>(std::ceil(std::min<double>(kMostPieces, pieces) / 2.0));
}

RimCurve::RimCurve(double depth_mm, double rise_mm, double from_mm, double to_mm)
    : crest_mm_(depth_mm / 2.0), rise_mm_(rise_mm), from_mm_(from_mm), to_mm_(to_mm) {
  if (rise_mm == 0.0) return;
  LW_REQUIRE(0.0 < from_mm && from_mm < crest_mm_ && crest_mm_ < to_mm && to_mm < depth_mm,
             "from=" << from_mm << " to=" << to_mm << " depth=" << depth_mm);
  // The radius with which arc and tangent together sink by the rise at x = 0; they sink less the
  // larger it is.
  double low = std::max(crest_mm_ - from_mm, to_mm - crest_mm_), high = low;
  const auto sinks = [&](double radius) {
    radius_mm_ = radius;
    return Curve(0.0);
  };
  low *= 1.0 + 1e-6;
  while (sinks(high *= 2.0) > std::abs(rise_mm)) {
  }
  for (int i = 0; i < 100; ++i) {
    const double middle = (low + high) / 2.0;
    (sinks(middle) > std::abs(rise_mm) ? low : high) = middle;
  }
  radius_mm_ = high;
  const double half = (to_mm - from_mm) / 2.0;
  const int pieces = std::max(2, ArcPieces(half, Sink(radius_mm_, half)));
  for (int i = 0; i <= pieces; ++i) points_.push_back(from_mm + (to_mm - from_mm) * i / pieces);
}

// How far it has sunk from its crest, without its sign.
double RimCurve::Curve(double x) const {
  const double at = std::clamp(x, from_mm_, to_mm_) - crest_mm_;
  const double slope = at / std::sqrt(radius_mm_ * radius_mm_ - at * at);
  return Sink(radius_mm_, at) + slope * (x - crest_mm_ - at);
}

double RimCurve::At(double x) const {
  if (rise_mm_ == 0.0) return 0.0;
  double sunk = Curve(x);
  if (x > from_mm_ && x < to_mm_) {  // on a chord
    const auto above = std::upper_bound(points_.begin(), points_.end() - 1, x);
    const double a = *(above - 1), b = *above;
    sunk = Curve(a) + (Curve(b) - Curve(a)) * (x - a) / (b - a);
  }
  return rise_mm_ > 0.0 ? rise_mm_ - sunk : rise_mm_ + sunk;
}

DomeCurve::DomeCurve(const LidMeasures& lid, double half_mm, double rise_mm) : lid_(lid) {
  if (!lid.profile.empty()) {
    const double from = lid.profile.front().x(), to = lid.profile.back().x();
    double highest = 0.0;
    for (const Vec2& p : lid.profile) highest = std::max(highest, p.y());
    for (const Vec2& p : lid.profile) {
      profile_.push_back({2.0 * (p.x() - from) / (to - from) - 1.0, p.y() / highest});
      shares_.push_back(profile_.back().x());
    }
    shares_.back() = profile_.back().x() = 1.0;
    return;
  }
  circular_ = lid.curve_back == "circular" && lid.curve_front == "circular";
  if (circular_) {
    // Pieces of the steepest section so that its chords stay within the chord error: an arc of
    // angle α over x-steps of equal length is cut worst at its ends, where it is steepest.
    int pieces = 8;
    if (rise_mm > 0.0) {
      const double radius = ArcRadius(half_mm, rise_mm);
      const double angle = 2.0 * std::asin(std::min(1.0, half_mm / radius));
      const double step = 2.0 * std::acos(1.0 - std::min(0.5, kChordError_mm / radius));
      pieces = std::max(pieces, 2 * static_cast<int>(std::ceil(angle / step / 2.0)));
    }
    for (int i = 0; i <= pieces; ++i) shares_.push_back(2.0 * i / pieces - 1.0);
    return;
  }
  // Halve the quarter turn φ from the crest to the edge, s = sin φ (to the power 2/n), until the
  // chords fit. Heights shrink with the rise and lengths with the half depth, and so do the errors.
  for (const double side : {-1.0, 1.0}) {
    const double n = ExponentOf(lid, side < 0.0 ? lid.curve_back : lid.curve_front);
    const auto at = [&](double turn) {
      const double t = std::pow(std::sin(turn * kPi / 2.0), 2.0 / n);
      const double s = side * half_mm * std::min(1.0, t);
      return Vec2(s, Height(s, half_mm, rise_mm));
    };
    std::vector<double> turns{0.0, 0.25, 0.5, 0.75, 1.0};
    for (std::size_t i = 0; i + 1 < turns.size();) {
      const double a = turns[i], b = turns[i + 1];
      double worst = 0.0;
      for (const double share : {0.25, 0.5, 0.75}) {
        const Vec2 p = at(a + share * (b - a));
        worst = std::max(worst, (p - NearestOnSegment(p, at(a), at(b))).norm());
      }
      if (worst > 0.9 * kChordError_mm && b - a > std::ldexp(1.0, -kMostHalvings)) {
        turns.insert(turns.begin() + static_cast<std::ptrdiff_t>(i) + 1, (a + b) / 2.0);
      } else {
        ++i;
      }
    }
    for (const double turn : turns) {
      const double share = turn == 1.0 ? side : at(turn).x() / half_mm;
      if (side > 0.0 && turn == 0.0) continue;  // the crest stands there from the back half
      shares_.push_back(share);
    }
    if (side < 0.0) std::reverse(shares_.begin(), shares_.end());
  }
}

double DomeCurve::Across(std::size_t i, double half, double rise) const {
  if (!circular_ || rise <= 0.0) return half * shares_[i];
  const double radius = ArcRadius(half, rise);
  return radius * std::sin(shares_[i] * std::atan2(half, radius - rise));
}

double DomeCurve::Height(double s, double half, double rise) const {
  if (!profile_.empty()) return rise * LineHeight(profile_, s / half);
  const std::string& curve = s < 0.0 ? lid_.curve_back : lid_.curve_front;
  if (curve == "circular") return ArcHeight(half, rise, s);
  return rise * EllipseHeight(ExponentOf(lid_, curve), s / half);
}

}  // namespace lidwright
