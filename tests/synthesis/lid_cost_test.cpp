// SPDX-License-Identifier: Apache-2.0
// The objective of the search: its derivatives against differences, what it counts against the same
// requirements written out once more with other poses and plain distances.
#include "lidwright/synthesis/lid_cost.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <limits>
#include <optional>

#include "lidwright/geometry/ring.h"
#include "lidwright/synthesis/search.h"
#include "swing/loop_oracle.h"
#include "synthesis/derivative_error.h"
#include "synthesis/lid_models.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

const std::vector<Favour> kFavours{{},
                                   {0.5, 0.3, 1.0, 0.0, 4.0, kUnset},
                                   {0.02, 1.0, 0.5, 2.5, 0.5, -80.0},
                                   {0.0, 0.0, 4.0, 0.8, 0.0, kUnset}};

Favour WithoutReserve() {
  Favour favour;
  favour.extra_gap_mm = 0.0;
  return favour;
}

std::vector<Ring> RingsOf(const EdgeBag& bag) {
  std::vector<Ring> rings;
  for (std::size_t i = 0; i < bag.from.size(); ++i) {
    if (rings.empty() || bag.to[i - 1] != bag.from[i]) rings.push_back({});
    rings.back().push_back(bag.from[i]);
  }
  return rings;
}

double LeastOver(const std::vector<Ring>& rings, const std::vector<Vec2>& points,
                 const Placing& placing) {
  double least = std::numeric_limits<double>::infinity();
  for (const Vec2& p : points) least = std::min(least, SignedDistance(rings, placing(p)));
  return least;
}

// The half sum of squares of what the lid's requirements miss at sampled angles, from the words of
// lid_cost.h: poses by Newton on the loop, plain distances over the same thinned sections.
class Recount {
 public:
  Recount(const LidTask& task, const Pivots& pivots, int angles) : task_(task), pivots_(pivots) {
    LoopOracle oracle(pivots);
    reached_ = oracle.Follow(task.open_rad) >= task.open_rad - 1e-12;
    if (!reached_) return;
    for (const double share : {0.3, 0.65}) {
      Angle(oracle, share * task.gap_from_rad, 0.6 * share * task.gap_mm);
    }
    for (int i = 0; i < angles; ++i) {
      const double share = static_cast<double>(i) / (angles - 1);
      Angle(oracle, task.gap_from_rad + share * (task.open_rad - task.gap_from_rad), task.gap_mm);
    }
    Shut(oracle);
  }

  bool reached() const { return reached_; }
  double sum() const { return sum_; }
  int missed() const { return missed_; }

 private:
  void Over(double value) {
    if (value <= 0.0) return;
    ++missed_;
    sum_ += value * value / 2.0;
  }

  void Angle(const LoopOracle& oracle, double theta, double need) {
    const Placing lid = oracle.Place(Body::kLid, theta), back = lid.Inverse();
    for (const KeySection& section : task_.sections) {
      Over(need - LeastOver(RingsOf(section.case_edges), section.lid_points, lid));
      Over(need - LeastOver(RingsOf(section.lid_edges), section.case_points, back));
    }
    Vec2 low(1e300, 1e300), high(-1e300, -1e300);
    for (const Vec2& p : task_.lid_hull) {
      low = low.cwiseMin(lid(p));
      high = high.cwiseMax(lid(p));
    }
    Over(task_.behind_x_mm - low.x());
    Over(high.y() - task_.above_y_mm);
    Over(task_.bench_y_mm + task_.gap_mm - low.y());
    foremost_ = high.x();
    for (const Vec2& pivot : {pivots_.case_a, pivots_.case_b}) {
      Clear(task_.bay_lid, back(pivot));
    }
    for (const Vec2& pivot : {pivots_.lid_a, pivots_.lid_b}) Clear(task_.bay_case, lid(pivot));
    ArmsApart(oracle, theta);
  }

  void Shut(const LoopOracle& oracle) {
    Over(foremost_ - task_.access_x_mm);
    // The speed at the contacts by a small turn of the oracle, not by any formula.
    const double h = 1e-5;
    const Placing open = oracle.Place(Body::kLid, h), shut = oracle.Place(Body::kLid, 0.0);
    LoopOracle behind(pivots_);
    behind.Follow(-2.0 * h);
    const Placing under = behind.Place(Body::kLid, -h);
    for (const LidTask::Contact& c : task_.contacts) {
      const Vec2 speed = (open(c.point) - under(c.point)) / (2.0 * h);
      Over(0.3 * (task_.rate_mm - c.normal.dot(speed)));
      CHECK((shut(c.point) - c.point).norm() < 1e-12);
    }
    ArmsApart(oracle, 0.0);
    Over(14.0 - (pivots_.case_a - pivots_.case_b).norm());
    Over(14.0 - (pivots_.lid_a - pivots_.lid_b).norm());
    for (const Vec2& pivot : {pivots_.case_a, pivots_.case_b}) Clear(task_.bay_case, pivot);
    for (const Vec2& pivot : {pivots_.lid_a, pivots_.lid_b}) Clear(task_.bay_lid, pivot);
  }

  void Clear(const std::vector<EdgeBag>& outlines, const Vec2& at) {
    double least = std::numeric_limits<double>::infinity();
    for (const EdgeBag& bag : outlines) least = std::min(least, SignedDistance(RingsOf(bag), at));
    Over(task_.pivot_gap_mm - least);
  }

  void ArmsApart(const LoopOracle& oracle, double theta) {
    Over(60.0 * (0.17 - std::sin(oracle.ArmsAngle(theta))));
  }

  const LidTask& task_;
  Pivots pivots_;
  bool reached_ = false;
  double sum_ = 0.0, foremost_ = 0.0;
  int missed_ = 0;
};

}  // namespace

TEST_CASE("every derivative of the lid's cost agrees with differences where it is smooth") {
  for (const char* name : {"sample_chest", "jewellery_casket", "barrel_chest"}) {
    LidModel model(ExampleJob(name));
    model.task.poses.push_back({0.9, {20.0, 30.0}, {10.0, 5.0}, 2.0});
    for (const Favour& favour : kFavours) {
      const LidCost cost(model.task, favour, 5);
      const auto n = static_cast<std::size_t>(cost.residuals());
      std::vector<double> r(n), jacobian(8 * n), high(n), low(n), higher(n), lower(n);
      long compared = 0, active = 0, entries = 0;
      for (const Pivots& pivots : MovingPivots(model.task, 12, 7)) {
        const PivotNumbers x = NumbersOf(pivots);
        if (!cost.Evaluate(x.data(), r.data(), jacobian.data())) continue;
        for (std::size_t k = 0; k < 8; ++k) {
          const double h = 1e-5;
          const auto moved = [&](double by, std::vector<double>& out) {
            PivotNumbers y = x;
            y[k] += by;
            return cost.Evaluate(y.data(), out.data(), nullptr);
          };
          if (!moved(h, high) || !moved(-h, low) || !moved(2 * h, higher) ||
              !moved(-2 * h, lower)) {
            continue;
          }
          for (std::size_t i = 0; i < n; ++i) {
            ++entries;
            const double near = (high[i] - low[i]) / (2 * h);
            const double far = (higher[i] - lower[i]) / (4 * h);
            const double forward = (high[i] - r[i]) / h, backward = (r[i] - low[i]) / h;
            const double scale = 1.0 + std::abs(near);
            // A kink (another corner becomes the nearest, a requirement becomes met) lies within h.
            if (std::abs(forward - backward) > 1e-3 * scale ||
                std::abs(near - far) > 1e-5 * scale) {
              continue;
            }
            ++compared;
            if (near != 0.0) ++active;
            if (std::abs(jacobian[8 * i + k] - near) > 1e-5 * scale) {
              CAPTURE(name, i, k, jacobian[8 * i + k], near);
              FAIL_CHECK("derivative is off");
            }
          }
        }
      }
      CHECK(compared > 5000);
      CHECK(active > 500);
      CHECK(compared > entries * 99 / 100);  // kinks are rare: hardly anything was passed over
    }
  }
}

TEST_CASE("without outlines the whole cost is smooth but where a requirement is just met") {
  // Leaves the residuals by dual numbers: first motion, arms' angle, play, lift, lengths, poses,
  // and the limits on one hull point. Fourth-order differences over all entries at once.
  LidModel model(ExampleJob("sample_chest"));
  LidTask& task = model.task;
  for (KeySection& section : task.sections) section.case_points.clear();
  for (KeySection& section : task.sections) section.lid_points.clear();
  task.bay_case.clear();
  task.bay_lid.clear();
  task.lid_hull.resize(1);
  task.above_y_mm = 40.0;
  task.poses.push_back({0.9, {20.0, 30.0}, {10.0, 5.0}, 2.0});
  task.poses.push_back({1.5, {-20.0, 30.0}, {100.0, 5.0}, 0.5});
  int smooth = 0, asked = 0;
  for (const Favour& favour : kFavours) {
    const LidCost cost(task, favour, 4);
    for (const Pivots& pivots : MovingPivots(task, 25, 3)) {
      const PivotNumbers x = NumbersOf(pivots);
      const auto motion = LidMotion::Make(pivots);
      double angle = kPi;
      for (int i = 0; i <= 20; ++i) {
        angle = std::min(angle, motion->ArmsAngle_rad(motion->At(task.open_rad * i / 20)));
      }
      if (angle < 0.05) continue;  // nearly parallel arms: everything changes fast
      ++asked;
      if (WorstDerivativeError(cost.Problem(), {x.begin(), x.end()}) < 1e-6) ++smooth;
    }
  }
  CHECK(asked > 60);
  CHECK(smooth >= asked * 19 / 20);
}

TEST_CASE("what is missed is what the requirements written out once more miss") {
  int compared = 0, wholly_met = 0;
  for (const char* name : {"sample_chest", "sample_chest_tight", "jewellery_casket"}) {
    LidModel model(ExampleJob(name));
    for (const double above : {std::numeric_limits<double>::infinity(), 180.0}) {
      model.task.above_y_mm = above;
      constexpr int kAngles = 7;
      const LidCost cost(model.task, WithoutReserve(), kAngles);
      std::vector<Pivots> all = MovingPivots(model.task, 15, 23);
      SearchOptions options;
      options.seeds = 60'000;
      options.keep = 12;
      for (const Candidate& c : FindLinkages(model.task, options).candidates) {
        all.push_back(c.pivots);
      }
      for (const Pivots& pivots : all) {
        const double missed = cost.Missed(NumbersOf(pivots).data());
        const Recount recount(model.task, pivots, kAngles);
        if (!recount.reached()) continue;
        ++compared;
        CHECK(missed == Approx(recount.sum()).epsilon(1e-5).margin(1e-7));
        CHECK((missed == 0.0) == (recount.missed() == 0));
        if (missed == 0.0) ++wholly_met;
        // The cheap part is a part.
        CHECK(cost.Violation(NumbersOf(pivots).data(), 1e300) <= missed + 1e-9);
      }
    }
  }
  CHECK(compared > 100);
  CHECK(wholly_met > 10);
  CHECK(wholly_met < compared - 50);
}

TEST_CASE("each requirement alone makes a linkage that met everything miss") {
  LidModel model(ExampleJob("sample_chest"));
  SearchOptions options;
  options.seeds = 60'000;
  options.keep = 12;
  const auto missed_by = [](const LidTask& task, const Pivots& pivots) {
    return LidCost(task, WithoutReserve(), 9).Missed(NumbersOf(pivots).data());
  };
  std::optional<Pivots> good;
  for (const Candidate& c : FindLinkages(model.task, options).candidates) {
    if (!good && missed_by(model.task, c.pivots) == 0.0) good = c.pivots;
  }
  REQUIRE(good);
  const auto missed = [&](const LidTask& task) { return missed_by(task, *good); };
  const auto spoilt = [&](const std::function<void(LidTask&)>& spoil) {
    LidTask task = model.task;
    spoil(task);
    return missed(task);
  };
  CHECK(spoilt([](LidTask& t) { t.gap_mm = 40.0; }) > 0.0);
  CHECK(spoilt([](LidTask& t) { t.behind_x_mm = -20.0; }) > 0.0);
  CHECK(spoilt([](LidTask& t) { t.above_y_mm = 60.0; }) > 0.0);
  CHECK(spoilt([](LidTask& t) { t.bench_y_mm = 0.0; }) > 0.0);
  CHECK(spoilt([](LidTask& t) { t.access_x_mm = -90.0; }) > 0.0);
  CHECK(spoilt([](LidTask& t) { t.pivot_gap_mm = 60.0; }) > 0.0);
  CHECK(spoilt([](LidTask& t) { t.rate_mm = 1e4; }) > 0.0);
  CHECK(spoilt([](LidTask& t) { t.contacts[0].point.x() = -1e4; }) > 0.0);
  // Wishes do not count as missed.
  CHECK(spoilt([](LidTask& t) {
          t.poses.push_back({1.0, {500.0, 500.0}, {0.0, 0.0}, 0.1});
        }) == 0.0);
}

TEST_CASE("pinned pivots are held by the bounds, the others by their zones") {
  LidModel model(ExampleJob("sample_chest"));
  model.task.pinned.case_b = Vec2(40.25, -30.75);
  model.task.pinned.lid_a = Vec2(70.0, 10.0);
  const LidCost cost(model.task, {}, 5);
  const LeastSquaresProblem problem = cost.Problem();
  CHECK(problem.parameters == 8);
  CHECK(problem.residuals == cost.residuals());
  for (const auto& [k, pin] : {std::pair(1, Vec2(40.25, -30.75)), {2, Vec2(70.0, 10.0)}}) {
    for (const int axis : {0, 1}) {
      const auto i = static_cast<std::size_t>(2 * k + axis);
      CHECK(problem.low[i] == pin[axis]);
      CHECK(problem.high[i] == pin[axis]);
    }
  }
  CHECK(problem.low[0] == model.task.case_zone.low.x());
  CHECK(problem.high[7] == model.task.lid_zone.high.y());
  for (const Pivots& start : MovingPivots(model.task, 5, 31)) {
    Pivots pinned = start;
    pinned.case_b = Vec2(40.25, -30.75);
    pinned.lid_a = Vec2(70.0, 10.0);
    const Candidate refined = Refine(model.task, pinned, {}, 5);
    CHECK(refined.pivots.case_b == Vec2(40.25, -30.75));
    CHECK(refined.pivots.lid_a == Vec2(70.0, 10.0));
  }
}

TEST_CASE("a pose that the lid already passes through costs nothing, one beside it its distance") {
  LidModel model(ExampleJob("sample_chest"));
  const Pivots pivots = MovingPivots(model.task, 1, 41)[0];
  LoopOracle oracle(pivots);
  REQUIRE(oracle.Follow(model.task.open_rad) == model.task.open_rad);
  const Vec2 point(30.0, 12.0);
  const Vec2 at = oracle.Place(Body::kLid, 0.7)(point);
  const auto half_squares = [&](const LidTask& task) {
    const LidCost cost(task, {}, 5);
    std::vector<double> r(static_cast<std::size_t>(cost.residuals()));
    REQUIRE(cost.Evaluate(NumbersOf(pivots).data(), r.data(), nullptr));
    double sum = 0.0;
    for (const double value : r) sum += value * value / 2.0;
    return sum;
  };
  const double without = half_squares(model.task);
  LidTask through = model.task;
  through.poses.push_back({0.7, at, point, 0.5});
  CHECK(half_squares(through) == Approx(without).epsilon(1e-12));
  LidTask beside = model.task;
  beside.poses.push_back({0.7, at + Vec2(3.0, -4.0), point, 0.5});
  CHECK(half_squares(beside) - without == Approx(5.0 * 5.0 / 0.25 / 2.0).epsilon(1e-9));
}
