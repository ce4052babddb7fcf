// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>
#include <complex>
#include <optional>
#include <vector>

#include "lidwright/base/units.h"
#include "lidwright/linkage/lid_motion.h"

namespace lidwright::testing {

using Complex = std::complex<double>;

inline Complex AsComplex(const Vec2& v) {
  return {v.x(), v.y()};
}
inline Vec2 AsVec(const Complex& c) {
  return {c.real(), c.imag()};
}

/// A rigid motion p → turn p + shift in the complex plane.
struct Placing {
  Complex turn = 1.0;
  Complex shift = 0.0;
  Complex operator()(const Complex& p) const { return turn * p + shift; }
  Vec2 operator()(const Vec2& p) const { return AsVec((*this)(AsComplex(p))); }
  Placing Inverse() const { return {std::conj(turn), -std::conj(turn) * shift}; }
  Placing operator*(const Placing& o) const { return {turn * o.turn, turn * o.shift + shift}; }
  static Placing About(const Complex& centre, double angle) {
    const Complex turn = std::polar(1.0, angle);
    return {turn, centre - turn * centre};
  }
};

/// The motion of a lid found the pedestrian way, as an oracle for LidMotion: the two turns α, β of
/// the arms since closed solve the loop equation
///   (gb − ga) + B e^{iβ} − A e^{iα} − C e^{iθ} = 0,  A = la − ga, B = lb − gb, C = lb − la,
/// by Newton, continued from α = β = 0 in small steps of θ. Knows no closed form of the branch.
class LoopOracle {
 public:
  explicit LoopOracle(const Pivots& pivots)
      : ga_(AsComplex(pivots.case_a)),
        gb_(AsComplex(pivots.case_b)),
        a_(AsComplex(pivots.lid_a) - ga_),
        b_(AsComplex(pivots.lid_b) - gb_),
        c_(AsComplex(pivots.lid_b - pivots.lid_a)) {}
  /// A lid on one pivot.
  explicit LoopOracle(const Vec2& pivot) : plain_(true), ga_(AsComplex(pivot)) {}

  struct Turns {
    double a = 0.0, b = 0.0;
  };

  /// Lays down solutions from 0 to `to_rad` (of either sign); returns how far it came before the
  /// arms got so near to parallel that the smallest step failed.
  double Follow(double to_rad, double step_rad = 0.05 * kRadPerDeg) {
    table_ = {{0.0, Turns{}}};
    if (plain_) return to_rad;
    const double sign = to_rad < 0.0 ? -1.0 : 1.0;
    double step = step_rad;
    while (sign * (to_rad - table_.back().theta) > 0.0 && step > 1e-13) {
      double next = table_.back().theta + sign * step;
      if (sign * (next - to_rad) > 0.0) next = to_rad;
      const std::optional<Turns> found = Solve(next, table_.back().turns);
      // The circuit's arms keep their sense: a change of the determinant's sign is another branch.
      if (found && Determinant(*found) * Determinant(Turns{}) > 0.0 &&
          std::abs(found->a - table_.back().turns.a) < 0.1 &&
          std::abs(found->b - table_.back().turns.b) < 0.1) {
        table_.push_back({next, *found});
        step = std::min(step_rad, 2.0 * step);
      } else {
        step *= 0.5;
      }
    }
    return table_.back().theta;
  }

  /// Requires that Follow came at least as far as θ. Newton from the nearest solution laid down.
  Turns At(double theta) const {
    if (plain_) return {theta, theta};
    std::size_t low = 0, high = table_.size() - 1;
    const bool up = table_.back().theta > 0.0;
    while (high - low > 1) {
      const std::size_t middle = (low + high) / 2;
      ((table_[middle].theta <= theta) == up ? low : high) = middle;
    }
    const bool first = std::abs(theta - table_[low].theta) <= std::abs(theta - table_[high].theta);
    const std::optional<Turns> found = Solve(theta, table_[first ? low : high].turns);
    return found ? *found : Turns{kUnset, kUnset};
  }

  Placing Place(Body body, double theta) const { return Place(body, theta, At(theta)); }
  Placing Place(Body body, double theta, const Turns& turns) const {
    if (plain_) return body == Body::kLid ? Placing::About(ga_, theta) : Placing{};
    switch (body) {
      case Body::kArmA:
        return Placing::About(ga_, turns.a);
      case Body::kArmB:
        return Placing::About(gb_, turns.b);
      case Body::kLid: {
        const Complex turn = std::polar(1.0, theta);
        return {turn, ga_ + a_ * std::polar(1.0, turns.a) - turn * (ga_ + a_)};
      }
      default:
        return {};
    }
  }
  /// dα/dθ and dβ/dθ, from the loop equation differentiated: B e^{iβ} β' − A e^{iα} α' = C e^{iθ}.
  Turns Rates(double theta) const {
    if (plain_) return {1.0, 1.0};
    const Turns t = At(theta);
    const Complex a = a_ * std::polar(1.0, t.a), b = b_ * std::polar(1.0, t.b);
    const Complex c = c_ * std::polar(1.0, theta);
    const double determinant = std::imag(std::conj(b) * a);
    return {-std::imag(std::conj(b) * c) / determinant, -std::imag(std::conj(a) * c) / determinant};
  }
  /// d/dθ of the point of `body` that is at `p` when closed, there.
  Vec2 ClosedVelocity(Body body, const Vec2& p) const {
    const Complex i(0.0, 1.0), at = AsComplex(p);
    if (plain_) return body == Body::kLid ? AsVec(i * (at - ga_)) : Vec2(0, 0);
    const Turns rates = Rates(0.0);
    switch (body) {
      case Body::kArmA:
        return AsVec(i * rates.a * (at - ga_));
      case Body::kArmB:
        return AsVec(i * rates.b * (at - gb_));
      case Body::kLid:
        return AsVec(i * (at - ga_ - a_) + i * rates.a * a_);
      default:
        return {0, 0};
    }
  }
  /// `body` seen from `frame`.
  Placing Place(Body body, Body frame, double theta) const {
    const Turns turns = At(theta);
    return Place(frame, theta, turns).Inverse() * Place(body, theta, turns);
  }

  /// Sine of the angle from arm A to arm B, times both lengths.
  double Determinant(const Turns& t) const {
    return std::imag(std::conj(a_ * std::polar(1.0, t.a)) * b_ * std::polar(1.0, t.b));
  }
  /// Sine of the angle between an arm and the coupler.
  double ArmOnCoupler(Body arm, double theta) const {
    const Turns t = At(theta);
    const Complex line = arm == Body::kArmA ? a_ * std::polar(1.0, t.a) : b_ * std::polar(1.0, t.b);
    return std::imag(std::conj(line) * c_ * std::polar(1.0, theta)) / std::abs(line * c_);
  }
  double ArmsAngle(double theta) const {
    return std::asin(std::min(1.0, std::abs(Determinant(At(theta))) / std::abs(a_ * b_)));
  }

  /// Can the loop be closed at θ? ≥ 0 if so: the product of the two triangle inequalities between
  /// the arms' lengths and the distance of their ends, sixteen times the squared triangle area.
  double Closable(double theta) const {
    const double d2 = std::norm(gb_ - ga_ - c_ * std::polar(1.0, theta));
    const double sum = std::abs(a_) + std::abs(b_), difference = std::abs(a_) - std::abs(b_);
    return (sum * sum - d2) * (d2 - difference * difference);
  }

 private:
  std::optional<Turns> Solve(double theta, Turns t) const {
    const Complex rest = gb_ - ga_ - c_ * std::polar(1.0, theta);
    double last = 1.0;
    for (int round = 0; round < 40; ++round) {
      const Complex a = a_ * std::polar(1.0, t.a), b = b_ * std::polar(1.0, t.b);
      const Complex miss = rest + b - a;
      const double determinant = std::imag(std::conj(b) * a);
      if (determinant == 0.0) return std::nullopt;
      // −i a dα + i b dβ = −miss, solved for its two real unknowns.
      const double da = -std::real(std::conj(b) * miss) / determinant;
      const double db = -std::real(std::conj(a) * miss) / determinant;
      if (!(std::abs(da) < 1.0 && std::abs(db) < 1.0)) return std::nullopt;
      t.a += da;
      t.b += db;
      const double change = std::abs(da) + std::abs(db);
      if (change < 1e-15 || (change < 1e-9 && change >= 0.5 * last)) return t;
      last = change;
    }
    return last < 1e-9 ? std::optional<Turns>(t) : std::nullopt;
  }

  struct Entry {
    double theta;
    Turns turns;
  };
  bool plain_ = false;
  Complex ga_, gb_, a_, b_, c_;
  std::vector<Entry> table_{{0.0, Turns{}}};
};

}  // namespace lidwright::testing
