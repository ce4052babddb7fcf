// SPDX-License-Identifier: Apache-2.0
#include "lidwright/swing/motion_bounds.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/interval.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

struct IntervalVec {
  Interval x, y;
};

IntervalVec operator-(const IntervalVec& a, const IntervalVec& b) {
  return {a.x - b.x, a.y - b.y};
}
Interval Cross(const IntervalVec& a, const IntervalVec& b) {
  return a.x * b.y - a.y * b.x;
}
Interval Dot(const IntervalVec& a, const IntervalVec& b) {
  return a.x * b.x + a.y * b.y;
}

Interval Meet(const Interval& a, const Interval& b) {
  return {std::max(a.low, b.low), std::min(a.high, b.high)};
}

// How far LidMotion::At may put a lid pivot from where it is. With ε = 2⁻⁵³ and S the sum of the
// four lengths: sine and cosine are good to 2 ε, so R w to 6 ε S, d to 8 ε S and |d|² to 20 ε S
// |d|; a² and b², from lengths good to 2 ε, to 5 ε S². Hence s = (a² − b² + |d|²)/2 is good to 18 ε
// S² and a² |d|² − s² to (25 + 36 + 3) ε S⁴ = 64 ε S⁴, its root, the cross product, to half of that
// over itself. The pivot is (s d + cross z × d) / |d|², with |s| and cross at most a |d|: good to
// (32 ε S⁴ / cross + 18 ε S² + 2 · 8 ε S a + 6 ε S a) / |d|, and S a ≤ S².
double PivotRounding(double a, double b, double spans, double cross, double d) {
  constexpr double kEpsilon = 1.12e-16;
  const double s2 = (a + b + spans) * (a + b + spans);
  return kEpsilon * (32.0 * s2 * s2 / cross + 40.0 * s2) / d;
}

// Length of an acceleration with tangential part `slope` and centripetal part rate².
double Polar(double slope, double rate) {
  return std::hypot(slope, rate * rate);
}

}  // namespace

MotionBounds::MotionBounds(const LidMotion& motion, double from_rad, double to_rad, int depth)
    : motion_(motion), from_(from_rad), to_(to_rad), depth_(depth) {
  LW_REQUIRE(from_rad < to_rad && depth >= 0 && depth <= 16,
             "from=" << from_rad << " to=" << to_rad << " depth=" << depth);
  if (motion.plain()) {
    pieces_.assign(std::size_t{2} << depth_, Rates{});
    return;
  }
  LW_REQUIRE(motion.Range().low_rad < from_rad && to_rad < motion.Range().high_rad,
             "swing outside the motion's range");
  const std::size_t finest = std::size_t{1} << depth_;
  pieces_.resize(2 * finest);
  const double step = (to_ - from_) / static_cast<double>(finest);
  for (std::size_t i = 0; i < finest && ok_; ++i) {
    const double low = from_ + static_cast<double>(i) * step;
    pieces_[finest + i] = Enclose(low - step * kPieceOverlap, low + step * (1.0 + kPieceOverlap));
  }
  for (std::size_t i = finest - 1; i >= 1; --i) {
    pieces_[i] = Larger(pieces_[2 * i], pieces_[2 * i + 1]);
  }
}

MotionBounds::Rates MotionBounds::Larger(const Rates& l, const Rates& r) {
  return {std::max(l.a, r.a),
          std::max(l.b, r.b),
          std::max(l.a_lid, r.a_lid),
          std::max(l.b_lid, r.b_lid),
          std::max(l.a_slope, r.a_slope),
          std::max(l.b_slope, r.b_slope)};
}

// The closed forms of LidMotion::At in intervals. With D = cross(ra, rb):
//   rate_a = −cross(rw, rb) / D,  rate_b = −cross(rw, ra) / D,
//   D' = (rate_b − rate_a) ra·rb, and differentiating the numerators with rw' = z × rw etc.,
//   rate_a' = ((1 − rate_b) rw·rb − rate_a D') / D,  rate_b' = ((1 − rate_a) rw·ra − rate_b D') /
//   D.
MotionBounds::Rates MotionBounds::Enclose(double low, double high) {
  const double a = motion_.a_, b = motion_.b_;
  const Vec2 &ground = motion_.ground_, &coupler = motion_.coupler_;
  const Interval theta(low, high), c = Cos(theta), s = Sin(theta);
  const IntervalVec rw{c * Interval(coupler.x()) - s * Interval(coupler.y()),
                       s * Interval(coupler.x()) + c * Interval(coupler.y())};
  const IntervalVec d = IntervalVec{ground.x(), ground.y()} - rw;
  // |d|² from its closed form, which has θ only once, so the enclosure is tight.
  const double gw = 2.0 * ground.norm() * coupler.norm();
  const double centre = std::atan2(lidwright::Cross(coupler, ground), coupler.dot(ground));
  const Interval u = Interval(ground.squaredNorm() + coupler.squaredNorm()) -
                     Interval(gw) * Cos(theta - Interval(centre));
  const auto cross2 = [&](double v) {
    const double half = (a * a - b * b + v) / 2.0;
    return a * a * v - half * half;
  };
  // Concave in u: least at an end, largest at u = a² + b² or an end.
  double least = std::min(cross2(u.low), cross2(u.high));
  double most = std::max(cross2(u.low), cross2(u.high));
  const double top = a * a + b * b;
  if (u.low <= top && top <= u.high) most = cross2(top);
  const double rounding = kSquaresRounding * (a * a * u.high + top * top);
  least -= rounding;
  most += rounding;
  if (least <= 0.0 || u.low <= 0.0) {
    ok_ = false;
    return {};
  }
  Interval cross(std::sqrt(least) * (1.0 - 1e-15), std::sqrt(most) * (1.0 + 1e-15));
  pivot_rounding_mm_ =
      std::max(pivot_rounding_mm_,
               PivotRounding(a, b, ground.norm() + coupler.norm(), cross.low, std::sqrt(u.low)));
  if (motion_.side_ < 0.0) cross = -cross;
  const Interval along = (Interval(a * a - b * b) + u) / (Interval(2.0) * u);
  const Interval across = cross / u;
  const auto within = [](const Interval& v, double limit) {  // |component| ≤ the arm's length
    return Meet(v, Interval(-limit * (1.0 + kHair), limit * (1.0 + kHair)));
  };
  IntervalVec ra{within(along * d.x - across * d.y, a), within(along * d.y + across * d.x, a)};
  IntervalVec rb = ra - d;
  rb = {within(rb.x, b), within(rb.y, b)};
  const Interval rate_a = -Cross(rw, rb) / cross, rate_b = -Cross(rw, ra) / cross;
  const Interval d_cross = (rate_b - rate_a) * Dot(ra, rb);
  const Interval one(1.0);
  const Interval slope_a = ((one - rate_b) * Dot(rw, rb) - rate_a * d_cross) / cross;
  const Interval slope_b = ((one - rate_a) * Dot(rw, ra) - rate_b * d_cross) / cross;
  return {rate_a.Magnitude(),         rate_b.Magnitude(),  (rate_a - one).Magnitude(),
          (rate_b - one).Magnitude(), slope_a.Magnitude(), slope_b.Magnitude()};
}

double MotionBounds::Rounding_mm(Body body) const {
  // Turning a point that is r from the origin adds 4 ε r and moving it ε as much again.
  constexpr double kTurning_mm = 1e-15 * kFarthestPoint_mm;
  switch (body) {
    case Body::kCase:
    case Body::kBrought:
      return 0.0;
    case Body::kLid:
      return pivot_rounding_mm_ + kTurning_mm;
    case Body::kArmA:
    case Body::kArmB: {
      if (motion_.plain()) return 0.0;  // there are none
      // An arm's heading is that of its pivots, of which one is off.
      const double arm = body == Body::kArmA ? motion_.a_ : motion_.b_;
      return pivot_rounding_mm_ * (1.0 + kFarthestPoint_mm / arm) + kTurning_mm;
    }
  }
  return 0.0;
}

AccelerationBound MotionBounds::Acceleration(Body body, Body frame, double low_rad,
                                             double high_rad) const {
  LW_REQUIRE(body != frame && low_rad < high_rad, "low=" << low_rad << " high=" << high_rad);
  const double total = to_ - from_;
  int level = 0;  // the deepest with pieces as long as what is asked for
  while (level < depth_ &&
         std::ldexp(total, -(level + 1)) >= (high_rad - low_rad) * (1.0 - kPieceOverlap)) {
    ++level;
  }
  const double step = std::ldexp(total, -level);
  const double last = std::ldexp(1.0, level) - 1.0;
  const double first_piece =
      std::clamp(std::floor((low_rad - from_) / step + kPieceOverlap / 2.0), 0.0, last);
  const double last_piece = std::clamp(
      std::ceil((high_rad - from_) / step - kPieceOverlap / 2.0) - 1.0, first_piece, last);
  const std::size_t base = std::size_t{1} << level;
  Rates r = pieces_[base + static_cast<std::size_t>(first_piece)];
  for (double piece = first_piece + 1.0; piece <= last_piece; piece += 1.0) {
    r = Larger(r, pieces_[base + static_cast<std::size_t>(piece)]);
  }
  const Pivots& p = motion_.pivots_;
  const double arm = motion_.a_;
  const double pivot_speed = arm * r.a;
  const double pivot_acceleration = arm * Polar(r.a_slope, r.a);
  const bool lid_in_case = body == Body::kLid && frame == Body::kCase;
  const bool case_in_lid = body == Body::kCase && frame == Body::kLid;
  if (lid_in_case) return {pivot_acceleration, 1.0, p.lid_a};
  if (case_in_lid) {
    // q = R(−θ)(p − A): q'' = R(−θ)(−A'' + 2 z × A' − (p − A)), and |p − A| ≤ |p − A0| + a.
    return {pivot_acceleration + 2.0 * pivot_speed + arm, 1.0, p.case_a};
  }
  const bool has_a = body == Body::kArmA || frame == Body::kArmA;
  const bool has_b = body == Body::kArmB || frame == Body::kArmB;
  if (has_a && has_b) {
    // One arm seen from the other, which turns at rate w with slope w': q'' = R(…)(p'' − 2 w z × p'
    // − w' z × s − w² s) with s = p − (the frame's pivot), |s| ≤ |p − own pivot| + |ground|.
    const bool b_moves = body == Body::kArmB;
    const double own = b_moves ? r.b : r.a, own_slope = b_moves ? r.b_slope : r.a_slope;
    const double rate = b_moves ? r.a : r.b, slope = b_moves ? r.a_slope : r.b_slope;
    const double turning = slope + rate * rate;
    return {turning * motion_.ground_.norm(), Polar(own_slope, own) + 2.0 * rate * own + turning,
            b_moves ? p.case_b : p.case_a};
  }
  // An arm against case or lid turns about the pivot they share, whichever is looked from.
  const bool lid = body == Body::kLid || frame == Body::kLid;
  const double slope = has_a ? r.a_slope : r.b_slope;
  const double rate = has_a ? (lid ? r.a_lid : r.a) : (lid ? r.b_lid : r.b);
  const Vec2 centre = has_a ? (lid ? p.lid_a : p.case_a) : (lid ? p.lid_b : p.case_b);
  return {0.0, Polar(slope, rate), centre};
}

}  // namespace lidwright
