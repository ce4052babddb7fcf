// SPDX-License-Identifier: Apache-2.0
#include "form_curves.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"
#include "lidwright/geometry/ring.h"

namespace lidwright {
namespace {

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
