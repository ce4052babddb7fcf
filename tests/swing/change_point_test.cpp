// SPDX-License-Identifier: Apache-2.0
// Where a lid's motion is not determined: change points, against a path followed step by step.
#include <catch2/catch.hpp>
#include <cmath>
#include <complex>
#include <optional>
#include <vector>

#include "lidwright/base/check.h"
#include "lidwright/base/units.h"
#include "lidwright/linkage/lid_motion.h"
#include "loop_oracle.h"
#include "random_pivots.h"

namespace lidwright {
namespace {

using namespace testing;
using Real = long double;
using Point = std::complex<Real>;

/// The loop ga + A e^{iα} + C e^{iθ} = gb + B e^{iβ} followed along its own length in the space
/// (α, β, θ), so that nothing is taken for monotone. Steps shrink with what is left of the loop's
/// rank: where two motions meet they shrink to nothing, and the path ends there.
class PathOracle {
 public:
  struct Place {
    Real a = 0.0L, b = 0.0L, theta = 0.0L;
  };
  enum class End { kWentRound, kTurnedBack, kTwoWays };

  explicit PathOracle(const Pivots& p)
      : ga_(Of(p.case_a)),
        gb_(Of(p.case_b)),
        a_(Of(p.lid_a) - ga_),
        b_(Of(p.lid_b) - gb_),
        c_(Of(p.lid_b) - Of(p.lid_a)),
        miss_(ga_ + a_ + c_ - gb_ - b_),
        size_((std::abs(a_) + std::abs(b_)) * std::abs(c_) + std::abs(a_ * b_)) {}

  /// Follows the lid's opening until θ turns back, has gone half round, or two motions meet.
  End Open() {
    path_ = {Place{}};
    Real last_sense = 0.0L;
    for (long step = 0; step < 200'000; ++step) {
      const Place& at = path_.back();
      const Place way = Tangent(at);
      const Real rank = std::sqrt(way.a * way.a + way.b * way.b + way.theta * way.theta);
      least_rank_ = std::min(least_rank_, rank);
      if (rank < 3e-8L) return End::kTwoWays;  // the root of the pivots' rounding
      Real sense = way.theta < 0.0L ? -1.0L : 1.0L;
      if (last_sense != 0.0L) {
        const Place before = Tangent(path_[path_.size() - 2]);
        // On along the path, whichever way θ goes.
        const Real on = way.a * before.a + way.b * before.b + way.theta * before.theta;
        sense = on * last_sense < 0.0L ? -1.0L : 1.0L;
      }
      if (sense * way.theta < 0.0L) {
        path_.pop_back();  // it lies beyond the turn
        return End::kTurnedBack;
      }
      const Real h = sense * std::min(0.01L, 0.1L * rank) / rank;
      Place next{at.a + h * way.a, at.b + h * way.b, at.theta + h * way.theta};
      Correct(next);
      if (next.theta >= static_cast<Real>(kPi)) return End::kWentRound;
      last_sense = sense;
      path_.push_back(next);
    }
    FAIL("the path has no end");
    return End::kTwoWays;
  }

  const std::vector<Place>& path() const { return path_; }
  Real least_rank() const { return least_rank_; }
  static Point Of(const Vec2& v) { return {v.x(), v.y()}; }

 private:
  static Real Cross(const Point& u, const Point& v) { return std::imag(std::conj(u) * v); }
  // What A e^{iα}, −B e^{iβ}, C e^{iθ} leave free: (x, y, z) with x A + y B + z C = 0 for the
  // turned vectors; its length is 0 where all three lie on one line. Divided by areas, so a pure
  // number.
  Place Tangent(const Place& at) const {
    const Point a = a_ * Turn(at.a), b = -b_ * Turn(at.b), c = c_ * Turn(at.theta);
    return {Cross(b, c) / size_, Cross(c, a) / size_, Cross(a, b) / size_};
  }
  // Newton, each step the shortest that mends the loop.
  void Correct(Place& at) const {
    for (int round = 0; round < 50; ++round) {
      const Point a = a_ * Turn(at.a), b = b_ * Turn(at.b), c = c_ * Turn(at.theta);
      const Point miss = ga_ + a + c - gb_ - b - miss_;
      // Columns of the derivative: i a, −i b, i c; the shortest step is Jᵀ (J Jᵀ)⁻¹ (−miss).
      const Point column[3] = {Point(0, 1) * a, Point(0, -1) * b, Point(0, 1) * c};
      Real xx = 0, xy = 0, yy = 0;
      for (const Point& v : column) {
        xx += v.real() * v.real();
        xy += v.real() * v.imag();
        yy += v.imag() * v.imag();
      }
      const Real det = xx * yy - xy * xy;
      if (!(det > 0.0L)) return;
      const Real u = -(yy * miss.real() - xy * miss.imag()) / det;
      const Real v = -(xx * miss.imag() - xy * miss.real()) / det;
      const Real da = column[0].real() * u + column[0].imag() * v;
      const Real db = column[1].real() * u + column[1].imag() * v;
      const Real dc = column[2].real() * u + column[2].imag() * v;
      at = {at.a + da, at.b + db, at.theta + dc};
      if (std::abs(da) + std::abs(db) + std::abs(dc) < 1e-17L) return;
    }
  }
  static Point Turn(Real angle) { return std::polar<Real>(1.0L, angle); }

  Point ga_, gb_, a_, b_, c_, miss_;
  Real size_;
  std::vector<Place> path_;
  Real least_rank_ = 1e9L;
};

/// Which lengths balance.
enum class Balance {
  kEqualPairs,     ///< arm A = arm B, coupler = ground
  kArmAAndGround,  ///< … = arm B + coupler
  kArmBAndGround,  ///< … = arm A + coupler
  kArms,           ///< … = coupler + ground
  kNone,
};

/// Pivots of lengths that balance but for `off`, a share of arm B, shut at a random pose.
std::optional<Pivots> Balanced(Dice& dice, Balance balance, Real off) {
  Real a = dice.Uniform(40, 120), w = dice.Uniform(25, 80), g = dice.Uniform(25, 80), b = a;
  switch (balance) {
    case Balance::kEqualPairs:
      g = w;
      break;
    case Balance::kArmAAndGround:
      b = a + g - w;
      break;
    case Balance::kArmBAndGround:
      b = a + w - g;
      break;
    case Balance::kArms:
      g = a;
      w = dice.Uniform(25, 80);
      b = g + w - a;
      break;
    case Balance::kNone:
      b = dice.Uniform(40, 120);
      break;
  }
  b *= 1.0L + off;
  if (b < 15.0L) return std::nullopt;
  // Ground along x; a coupler at a random turn; the arms close the triangle over what is between.
  const Point coupler = std::polar<Real>(w, dice.Uniform(-kPi, kPi)), d = Point(g) - coupler;
  const Real u = std::norm(d), along = (a * a - b * b + u) / 2.0L;
  const Real squared = a * a * u - along * along;
  if (!(squared > 0.05L * a * a * u)) return std::nullopt;  // well away from parallel arms
  const Real across = dice.Whole(0, 1) == 0 ? -std::sqrt(squared) : std::sqrt(squared);
  const Point arm = Point(along, across) * d / u;
  const Point turn = std::polar<Real>(1.0L, dice.Uniform(-kPi, kPi));
  const Point shift(dice.Uniform(-100, 100), dice.Uniform(-100, 100));
  const auto at = [&](const Point& p) {
    const Point moved = turn * p + shift;
    return Vec2(static_cast<double>(moved.real()), static_cast<double>(moved.imag()));
  };
  return Pivots{at(Point(0)), at(Point(g)), at(arm), at(arm + coupler)};
}

constexpr Balance kBalances[] = {Balance::kEqualPairs, Balance::kArmAAndGround,
                                 Balance::kArmBAndGround, Balance::kArms, Balance::kNone};
}  // namespace

TEST_CASE("equal arms on equal plates are followed to where they come parallel, no further") {
  // Antiparallel: |arms| = √5000, |plates| = √1000; parallel when the lid has turned by the angle
  // between the plates, atan(10/30) − atan(−10/30).
  const Pivots pivots{{0, 0}, {30, 10}, {70, 10}, {100, 0}};
  const auto motion = LidMotion::Make(pivots);
  REQUIRE(motion);
  const double change = 2.0 * std::atan(1.0 / 3.0);
  CHECK(change * kDegPerRad == Approx(36.87).margin(0.001));
  CHECK(motion->Range().high_rad < change);
  CHECK(motion->Range().high_rad > change - 1e-4);
  CHECK(motion->Range().high_is_change_point);
  CHECK_THROWS_AS(motion->At(change + 0.01), ContractError);
}

TEST_CASE("no pose of a lid jumps, however nearly its arms and plates balance") {
  Dice dice(431);
  const double offs[] = {0.0,   1e-17, 1e-15, 1e-14, 1e-13, 1e-12, 1e-11,
                         1e-10, 1e-9,  1e-8,  1e-7,  1e-6,  1e-4,  1e-2};
  int ends[2] = {0, 0}, near = 0, beyond = 0;
  for (const Balance balance : kBalances) {
    for (const double off : offs) {
      for (int k = 0; k < 8; ++k) {
        const auto pivots = Balanced(dice, balance, k % 2 == 0 ? off : -off);
        if (!pivots) continue;
        CAPTURE(static_cast<int>(balance), off * 1e12, k);
        const auto motion = LidMotion::Make(*pivots);
        REQUIRE(motion);
        PathOracle oracle(*pivots);
        const bool round = oracle.Open() == PathOracle::End::kWentRound;
        const double last = static_cast<double>(oracle.path().back().theta);
        const double reached = round ? kPi : last;
        const double high = motion->Range().high_rad;
        // Never beyond what can be followed; short of it only where the rank all but vanishes.
        CHECK(high <= reached + 3e-4);  // a step's square
        const bool cut = motion->Range().high_is_change_point;
        ends[cut] += 1;
        if (!cut) CHECK(high >= reached - 0.01);
        if (cut) CHECK(oracle.least_rank() < 1e-3L);
        Real rank_before = 1e9L;
        for (const PathOracle::Place& place : oracle.path()) {
          const double theta = static_cast<double>(place.theta);
          if (theta >= high - 1e-6) break;
          const LidState state = motion->At(theta);
          const auto pose = [&](Body arm) { return motion->BodyPose(arm, state).Angle_rad(); };
          const double sine = std::sin(motion->ArmsAngle_rad(state));
          const double error = 1e-9 + 1e-13 / (sine * sine);
          near += sine < 1e-3;
          beyond += rank_before < 1e-4L && sine > 0.01;
          rank_before = std::min(rank_before, static_cast<Real>(sine));
          if (std::abs(std::remainder(pose(Body::kArmA) - static_cast<double>(place.a), 2 * kPi)) >
                  error ||
              std::abs(std::remainder(pose(Body::kArmB) - static_cast<double>(place.b), 2 * kPi)) >
                  error) {
            CAPTURE(theta, high, sine, error);
            FAIL_CHECK("the pose is not the one that the path leads to");
            break;
          }
        }
      }
    }
  }
  CHECK(ends[1] > 100);  // the guard: both happen, and paths lead past a change just missed
  CHECK(ends[0] > 100);
  CHECK(near > 300);
  CHECK(beyond > 30);
}

TEST_CASE("a motion ends at a change point exactly where lengths balance to the rounding") {
  Dice dice(432);
  int balanced = 0, free = 0;
  for (const Balance balance : kBalances) {
    for (int k = 0; k < 80; ++k) {
      CAPTURE(static_cast<int>(balance), k);
      const auto exact = Balanced(dice, balance, 0.0);
      const auto off = Balanced(dice, balance, 1e-6);
      if (off) {
        const auto motion = LidMotion::Make(*off);
        REQUIRE(motion);
        CHECK_FALSE(motion->Range().high_is_change_point);
        ++free;
      }
      if (!exact || balance == Balance::kNone) continue;
      PathOracle oracle(*exact);
      const auto motion = LidMotion::Make(*exact);
      REQUIRE(motion);
      // Of a real change point the path has two ways on, or turns in the last digits.
      oracle.Open();
      if (oracle.least_rank() > 1e-4L) continue;  // it turns back before it gets there
      CHECK(motion->Range().high_is_change_point);
      ++balanced;
    }
  }
  CHECK(balanced > 80);
  CHECK(free > 120);
}

}  // namespace lidwright
