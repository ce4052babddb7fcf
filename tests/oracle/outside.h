// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <memory>
#include <vector>

#include "lidwright/geometry/outline.h"
#include "lidwright/geometry/ring.h"
#include "lidwright/linkage/lid_motion.h"
#include "solid/box_truth.h"
#include "swing/loop_oracle.h"

// Gaps of a box and its hinge from outside: is there wood at this point, where does a four-bar put
// it, how far are two points apart. No outline, no station, no tree and no motion of the program
// plays a role. All points looked at belong to what they stand for, so that a distance seen here is
// never below the true least gap: a bound above it is wrong.

namespace lidwright::testing {

/// The lid's four-bar by its loop equation (Freudenstein's in vectors): with K = ground − coupler
/// turned by θ, arm A = K + arm B and so 2 b |K| cos(β − arg K) = a² − b² − |K|²; which of the two
/// β it is, is settled shut.
class FourBarOutside {
 public:
  explicit FourBarOutside(const Pivots& p)
      : a0_(AsComplex(p.case_a)),
        b0_(AsComplex(p.case_b)),
        a_(AsComplex(p.lid_a)),
        b_(AsComplex(p.lid_b)) {
    const Complex k = b0_ - a0_ - (b_ - a_);
    side_ = std::imag(std::conj(k) * (b_ - b0_)) > 0.0 ? 1.0 : -1.0;
  }

  Placing Of(Body body, double theta) const {
    if (body == Body::kCase) return {};
    const Complex turn = std::polar(1.0, theta);
    const Complex k = b0_ - a0_ - (b_ - a_) * turn;
    const double a = std::abs(a_ - a0_), b = std::abs(b_ - b0_), reach = std::abs(k);
    const double cosine = (a * a - b * b - reach * reach) / (2.0 * b * reach);
    const double beta = std::arg(k) + side_ * std::acos(std::clamp(cosine, -1.0, 1.0));
    const Complex arm_b = std::polar(b, beta), arm_a = k + arm_b;
    if (body == Body::kLid) return {turn, a0_ + arm_a - turn * a_};
    const Complex &pivot = body == Body::kArmA ? a0_ : b0_,
                  shut = body == Body::kArmA ? a_ - a0_ : b_ - b0_;
    const Complex now = (body == Body::kArmA ? arm_a : arm_b) / shut;
    return {now / std::abs(now), pivot - now / std::abs(now) * pivot};
  }

 private:
  Complex a0_, b0_, a_, b_;
  double side_;
};

/// Points of something plane in the side view.
class Seen2 {
 public:
  virtual ~Seen2() = default;
  /// Points on its rim, none outside it, `apart` from each other or nearer, within a window.
  virtual std::vector<Vec2> Rim(const Rect2& window, double apart_mm) const = 0;
  virtual bool Holds(const Vec2& p) const = 0;
  virtual Rect2 Around() const = 0;
};

inline Rect2 Window(const Vec2& p, double reach) {
  return {p - Vec2::Constant(reach), p + Vec2::Constant(reach)};
}

/// Lid or case at one z, by the question about a point. The rim is looked for along rows and
/// columns; where wood begins or ends on one is halved down to 1e-9 mm.
class WoodAt : public Seen2 {
 public:
  WoodAt(const BoxTruth& truth, bool lid, double z, const Rect2& around)
      : truth_(truth), lid_(lid), z_(z), around_(around) {}

  bool Holds(const Vec2& p) const override {
    return lid_ ? truth_.LidAt(p.x(), p.y(), z_) : truth_.CaseAt(p.x(), p.y(), z_);
  }
  Rect2 Around() const override { return around_; }
  std::vector<Vec2> Rim(const Rect2& window, double apart) const override {
    std::vector<Vec2> rim;
    const Rect2 in{window.low.cwiseMax(around_.low), window.high.cwiseMin(around_.high)};
    for (const int along : {0, 1}) {
      const int across = 1 - along;
      // Off round numbers, so that no line runs along a face.
      for (double c = in.low[across] + 0.3717 * apart; c < in.high[across]; c += apart) {
        Vec2 p;
        p[across] = c;
        p[along] = in.low[along];
        bool was = Holds(p);
        while (p[along] < in.high[along]) {
          const double last = p[along];
          p[along] = std::min(in.high[along], last + std::max(apart, kScan_mm * apart));
          const bool is = Holds(p);
          if (is != was) rim.push_back(Between(p, along, last, p[along], was));
          was = is;
        }
      }
    }
    return rim;
  }

 private:
  static constexpr double kScan_mm = 1.5;

  Vec2 Between(Vec2 p, int along, double low, double high, bool wood_low) const {
    while (high - low > 1e-9) {
      const double middle = (low + high) / 2.0;
      p[along] = middle;
      (Holds(p) == wood_low ? low : high) = middle;
    }
    p[along] = wood_low ? low : high;
    return p;
  }

  const BoxTruth& truth_;
  bool lid_;
  double z_;
  Rect2 around_;
};

/// A piece's outline; its arcs by centre and radius.
class PieceOutside : public Seen2 {
 public:
  explicit PieceOutside(const Outline& outline) : outline_(outline) {
    for (const Vec2& p : Walk(0.25)) around_.Add(p);
  }
  bool Holds(const Vec2&) const override { return false; }  // what crosses it is seen at its rim
  Rect2 Around() const override { return around_; }
  std::vector<Vec2> Rim(const Rect2& window, double apart) const override {
    std::vector<Vec2> rim;
    for (const Vec2& p : Walk(apart)) {
      if ((p.array() >= window.low.array()).all() && (p.array() <= window.high.array()).all()) {
        rim.push_back(p);
      }
    }
    return rim;
  }

 private:
  std::vector<Vec2> Walk(double apart) const {
    std::vector<Vec2> points;
    const std::size_t n = outline_.vertices.size();
    for (std::size_t i = 0; i < n; ++i) {
      const Complex a = AsComplex(outline_.vertices[i].point);
      const Complex b = AsComplex(outline_.vertices[(i + 1) % n].point);
      const double bulge = outline_.vertices[i].bulge, sweep = 4.0 * std::atan(bulge);
      const double length =
          std::abs(b - a) * (bulge == 0.0 ? 1.0 : (1.0 + bulge * bulge) * sweep / (4.0 * bulge));
      const int pieces = std::max(1, static_cast<int>(std::ceil(length / apart)));
      // The chord is seen from the centre under the sweep: b − c = (a − c) e^{i sweep}.
      const Complex turn = std::polar(1.0, sweep);
      const Complex centre = bulge == 0.0 ? Complex() : (b - a * turn) / (1.0 - turn);
      for (int k = 0; k < pieces; ++k) {
        const double share = static_cast<double>(k) / pieces;
        points.push_back(AsVec(bulge == 0.0
                                   ? a + share * (b - a)
                                   : centre + (a - centre) * std::polar(1.0, share * sweep)));
      }
    }
    return points;
  }

  const Outline outline_;
  Rect2 around_;
};

/// Many points, asked for the nearest.
class PointCloud {
 public:
  explicit PointCloud(std::vector<Vec2> points) : points_(std::move(points)) {
    Rect2 box;
    for (const Vec2& p : points_) box.Add(p);
    if (points_.empty()) return;
    low_ = box.low;
    const Vec2 size = (box.high - box.low) / kCell_mm;
    columns_ = static_cast<int>(size.x()) + 1;
    rows_ = static_cast<int>(size.y()) + 1;
    cells_.resize(static_cast<std::size_t>(columns_ * rows_));
    for (std::size_t i = 0; i < points_.size(); ++i) {
      const Vec2 at = (points_[i] - low_) / kCell_mm;
      cells_[Index(static_cast<int>(at.x()), static_cast<int>(at.y()))].push_back(i);
    }
  }

  /// The nearest's distance and index if nearer than `enough`, else `enough`.
  double Nearest(const Vec2& p, double enough, std::size_t* which = nullptr) const {
    if (points_.empty()) return enough;
    const Vec2 at = (p - low_) / kCell_mm;
    const int x = static_cast<int>(std::floor(at.x())), y = static_cast<int>(std::floor(at.y()));
    double best2 = enough * enough;
    const int most = static_cast<int>(std::ceil(enough / kCell_mm));
    for (int ring = 0; ring <= most; ++ring) {
      const double least = (ring - 1) * kCell_mm;
      if (ring > 0 && least > 0.0 && least * least >= best2) break;
      for (int j = std::max(0, y - ring); j <= std::min(rows_ - 1, y + ring); ++j) {
        const bool edge = j == y - ring || j == y + ring;
        for (int i = x - ring; i <= x + ring; i += edge ? 1 : std::max(1, 2 * ring)) {
          if (i < 0 || i >= columns_) continue;
          for (const std::size_t k : cells_[Index(i, j)]) {
            const double d2 = (points_[k] - p).squaredNorm();
            if (d2 >= best2) continue;
            best2 = d2;
            if (which != nullptr) *which = k;
          }
        }
      }
    }
    return std::sqrt(best2);
  }
  const std::vector<Vec2>& points() const { return points_; }

 private:
  static constexpr double kCell_mm = 3.0;
  std::size_t Index(int i, int j) const { return static_cast<std::size_t>(j * columns_ + i); }

  std::vector<Vec2> points_;
  Vec2 low_ = Vec2::Zero();
  int columns_ = 0, rows_ = 0;
  std::vector<std::vector<std::size_t>> cells_;
};

/// Something seen with its points at hand.
struct Looked {
  std::shared_ptr<const Seen2> what;
  std::vector<Vec2> rim;
  PointCloud cloud;

  Looked(std::shared_ptr<const Seen2> seen, double apart_mm)
      : what(std::move(seen)), rim(what->Rim(what->Around(), apart_mm)), cloud(rim) {}
};

/// Two points that are that near at some angle.
struct Near2 {
  double gap = 1e300;
  double theta = 0.0;
  Vec2 on_mover = Vec2::Zero(), on_stander = Vec2::Zero();  ///< each in its own frame
};

/// Over angles from … to, so many of them.
struct Angles {
  double from = 0.0, to = 0.0;
  int steps = 1;
  double At(int k) const { return k == steps ? to : from + (to - from) * k / steps; }
  double Step() const { return (to - from) / steps; }
};

/// Where the mover is in the stander's frame.
using Relative = std::function<Placing(double theta)>;

/// The least over a stretch of angles of `value` at θ, where it falls and rises once.
template <typename Value>
double LeastAngle(double low, double high, const Value& value) {
  constexpr double kGolden = 0.3819660112501051;
  double x = low + kGolden * (high - low), y = high - kGolden * (high - low);
  double fx = value(x), fy = value(y);
  for (int i = 0; i < 24; ++i) {
    if (fx < fy) {
      high = y, y = x, fy = fx;
      x = low + kGolden * (high - low), fx = value(x);
    } else {
      low = x, x = y, fx = fy;
      y = high - kGolden * (high - low), fy = value(y);
    }
  }
  return fx < fy ? x : y;
}

/// Once more round the nearest places with points ten and a hundred times as close.
inline Near2 Closer(const Looked& mover, const Looked& stander, const Relative& relative,
                    const Angles& angles, Near2 near) {
  double around = angles.Step();
  for (const auto& [reach, apart] : {std::pair(1.5, 0.1), {0.2, 0.01}}) {
    std::vector<Vec2> of_mover = mover.what->Rim(Window(near.on_mover, reach), apart);
    std::vector<Vec2> of_stander = stander.what->Rim(Window(near.on_stander, reach), apart);
    of_mover.push_back(near.on_mover);
    of_stander.push_back(near.on_stander);
    const PointCloud cloud(of_stander);
    const auto value = [&](double theta) {
      const Placing placing = relative(theta);
      double least = 1e3;
      for (const Vec2& p : of_mover) least = cloud.Nearest(placing(p), least);
      return least;
    };
    const double theta = LeastAngle(std::max(angles.from, near.theta - around),
                                    std::min(angles.to, near.theta + around), value);
    const Placing placing = relative(theta);
    for (const Vec2& p : of_mover) {
      std::size_t which = 0;
      const double gap = cloud.Nearest(placing(p), near.gap, &which);
      if (gap < near.gap) near = {gap, theta, p, cloud.points()[which]};
    }
    around /= 8.0;
  }
  return near;
}

/// How near two things are seen to come, if nearer than `enough_mm`. Points are looked at again
/// when they can have come near enough to matter: a rigid motion moves none of them more than a
/// corner of what is round them.
inline Near2 NearestSeen(const Looked& mover, const Looked& stander, const Relative& relative,
                         const Angles& angles, double enough_mm = 40.0) {
  Near2 near;
  near.gap = enough_mm;
  std::vector<double> keeps(mover.rim.size(), 0.0);
  const Rect2 box = mover.what->Around();
  const std::array<Vec2, 4> corners{box.low, Vec2(box.high.x(), box.low.y()), box.high,
                                    Vec2(box.low.x(), box.high.y())};
  Placing last = relative(angles.from);
  for (int k = 0; k <= angles.steps; ++k) {
    const double theta = angles.At(k);
    const Placing placing = relative(theta);
    double moved = 0.0;
    for (const Vec2& c : corners) moved = std::max(moved, (placing(c) - last(c)).norm());
    last = placing;
    for (std::size_t i = 0; i < mover.rim.size(); ++i) {
      keeps[i] -= moved;
      if (keeps[i] >= near.gap) continue;
      const Vec2 p = placing(mover.rim[i]);
      std::size_t which = 0;
      // Farther than what matters is wanted roughly, so that the point can rest for a while.
      const double gap = stander.cloud.Nearest(p, near.gap + 8.0, &which);
      keeps[i] = gap;
      if (gap < 2.0 && stander.what->Holds(p)) return {0.0, theta, mover.rim[i], p};
      if (gap < near.gap) near = {gap, theta, mover.rim[i], stander.cloud.points()[which]};
    }
  }
  if (near.gap >= enough_mm) return {};
  return Closer(mover, stander, relative, angles, near);
}

/// The least of n · p − at over all points of a mover: what is left to a wall, a ceiling, a bench.
inline double LeastBefore(const Looked& mover, const Relative& in_case, const Angles& angles,
                          const Vec2& n, double at) {
  Near2 near;
  const auto left = [&](const Placing& placing, const Vec2& p) { return n.dot(placing(p)) - at; };
  for (int k = 0; k <= angles.steps; ++k) {
    const Placing placing = in_case(angles.At(k));
    for (const Vec2& p : mover.rim) {
      if (const double l = left(placing, p); l < near.gap) near = {l, angles.At(k), p, p};
    }
  }
  double around = angles.Step();
  for (const auto& [reach, apart] : {std::pair(1.5, 0.1), {0.2, 0.01}}) {
    std::vector<Vec2> finer = mover.what->Rim(Window(near.on_mover, reach), apart);
    finer.push_back(near.on_mover);
    const double theta = LeastAngle(std::max(angles.from, near.theta - around),
                                    std::min(angles.to, near.theta + around), [&](double t) {
                                      const Placing placing = in_case(t);
                                      double least = 1e300;
                                      for (const Vec2& p : finer) {
                                        least = std::min(least, left(placing, p));
                                      }
                                      return least;
                                    });
    const Placing placing = in_case(theta);
    for (const Vec2& p : finer) {
      if (const double l = left(placing, p); l < near.gap) near = {l, theta, p, p};
    }
    around /= 8.0;
  }
  return near.gap;
}

}  // namespace lidwright::testing
