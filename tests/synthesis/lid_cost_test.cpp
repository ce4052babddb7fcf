// SPDX-License-Identifier: Apache-2.0
#include "lidwright/synthesis/lid_cost.h"

#include <Eigen/Dense>
#include <catch2/catch.hpp>
#include <random>

#include "design/examples.h"
#include "lidwright/synthesis/search.h"
#include "swing/loop_oracle.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

struct Model {
  Job job;
  Solid solid;
  LidTask task;
  explicit Model(const std::string& name)
      : job(ExampleJob(name)), solid(MakeSolid(job)), task(MakeLidTask(job, solid)) {}
};

// Pivots in the zones whose motion reaches the opening angle.
std::vector<PivotNumbers> MovingPivots(const LidTask& task, int count, unsigned seed) {
  std::mt19937_64 random(seed);
  const auto unit = [&] { return static_cast<double>(random() >> 11) * 0x1.0p-53; };
  std::vector<PivotNumbers> found;
  while (static_cast<int>(found.size()) < count) {
    PivotNumbers x;
    for (std::size_t k = 0; k < 4; ++k) {
      const Zone& zone = k < 2 ? task.ground : task.lid;
      x[2 * k] = zone.low.x() + unit() * (zone.high.x() - zone.low.x());
      x[2 * k + 1] = zone.low.y() + unit() * (zone.high.y() - zone.low.y());
    }
    const auto motion = LidMotion::Make(PivotsOf(x.data()));
    if (motion && motion->Range().high_rad > task.open_rad + 0.05) found.push_back(x);
  }
  return found;
}

}  // namespace

TEST_CASE("distances of an edge bag agree with the plain ones, their gradient with differences") {
  const Model model("sample_chest");
  std::mt19937_64 random(3);
  const auto unit = [&] { return static_cast<double>(random() >> 11) * 0x1.0p-53; };
  const Station& station = model.solid.stations[3];
  const EdgeBag bag(station.lid_rings);
  int smooth = 0;
  for (int i = 0; i < 4000; ++i) {
    const Vec2 p(-40.0 + 300.0 * unit(), -40.0 + 140.0 * unit());
    const EdgeBag::Query query = bag.At(p);
    CHECK(query.distance == Approx(SignedDistance(station.lid_rings, p)).margin(1e-10));
    const double h = 1e-5;
    const Vec2 ex(h, 0.0), ey(0.0, h);
    const Vec2 forward((bag.At(p + ex).distance - query.distance) / h,
                       (bag.At(p + ey).distance - query.distance) / h);
    const Vec2 backward((query.distance - bag.At(p - ex).distance) / h,
                        (query.distance - bag.At(p - ey).distance) / h);
    if ((forward - backward).norm() > 1e-4) continue;  // on a ridge
    ++smooth;
    CHECK((query.away - (forward + backward) / 2.0).norm() < 1e-4);
  }
  CHECK(smooth > 3000);
}

TEST_CASE("every derivative of the lid's cost agrees with differences where it is smooth",
          "[slow]") {
  for (const char* name : {"sample_chest", "jewellery_casket"}) {
    Model model(name);
    model.task.poses.push_back({0.9, {20.0, 30.0}, {10.0, 5.0}, 2.0});
    for (const Favour& favour : {Favour{}, Favour{0.5, 0.3, 1.0, 0.0, 4.0, kUnset},
                                 Favour{0.02, 1.0, 0.5, 2.5, 0.5, -80.0}}) {
      const LidCost cost(model.task, favour, 5);
      const auto n = static_cast<std::size_t>(cost.residuals());
      std::vector<double> r(n), jacobian(8 * n), high(n), low(n), higher(n), lower(n);
      long compared = 0, active = 0;
      for (const PivotNumbers& x : MovingPivots(model.task, 12, 7)) {
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
    }
  }
}

TEST_CASE("the play factor is what playing pins really do at the front edge", "[slow]") {
  // Arm lengths changed by ±δ one at a time; the front edge held on a line square to its path by
  // turning the lid; the loop solved by Newton in (θ, x, y) here. Independent of loop.h.
  const Model model("sample_chest");
  int compared = 0;
  for (const PivotNumbers& x : MovingPivots(model.task, 40, 11)) {
    const Pivots p = PivotsOf(x.data());
    const LidMotion motion = *LidMotion::Make(p);
    double worst = 0.0;
    const int steps = static_cast<int>(std::ceil(model.task.open_rad * kDegPerRad));
    for (int i = 0; i <= steps; ++i) {
      const double theta = model.task.open_rad * i / steps;
      const LidState state = motion.At(theta);
      const Vec2 front = state.X_CL * model.task.front_edge;
      const Vec2 path = (front - motion.InstantCentre(state));
      const Vec2 along = Vec2(-path.y(), path.x()).normalized();  // its direction of travel
      // Small motions (t, w): u·(t + w z × (A − f)) = δ for each arm, along·t = 0 at the front.
      double total = 0.0;
      for (const int played : {0, 1}) {
        Eigen::Matrix3d system;
        Eigen::Vector3d right = Eigen::Vector3d::Zero();
        int row = 0;
        for (const auto& [ground, pivot] :
             {std::pair(p.ground_a, state.lid_a), {p.ground_b, state.lid_b}}) {
          const Vec2 u = (pivot - ground).normalized(), arm = pivot - front;
          system.row(row) << u.x(), u.y(), u.x() * -arm.y() + u.y() * arm.x();
          if (row == played) right(row) = 1.0;
          ++row;
        }
        system.row(2) << along.x(), along.y(), 0.0;
        const Eigen::Vector3d small = system.fullPivLu().solve(right);
        total += std::hypot(small(0), small(1));
      }
      worst = std::max(worst, total);
    }
    if (worst > 500.0) continue;  // as good as parallel
    CHECK(WorstPlayFactor(model.task, p) == Approx(worst).epsilon(1e-6));
    ++compared;
  }
  CHECK(compared > 20);
}

TEST_CASE("two lines of force 24 mm apart under a 220 mm lid play about tenfold (R8)") {
  // design.md R8, a figure of a throw-away trial. Arms upright and nearly parallel, 24 mm apart at
  // the back, the front edge 220 mm away.
  Model model("sample_chest");
  model.task.front_edge = {220.0, 0.0};
  model.task.open_rad = 0.02;
  const Pivots p{{0.0, -60.0}, {24.0, -60.0}, {0.0, 0.0}, {25.0, 0.0}};
  const double factor = WorstPlayFactor(model.task, p);
  // One arm's line is 220, the other's 195 from the edge: (220 + 195) / 25 with both pins playing.
  CHECK(factor == Approx((220.0 + 195.0) / 25.0).epsilon(0.1));
  CHECK(220.0 / 24.0 == Approx(9.2).margin(0.1));
}

TEST_CASE("the lift factor is the rise of the mass over the travel of the front edge") {
  const Model model("barrel_chest");
  for (const PivotNumbers& x : MovingPivots(model.task, 20, 5)) {
    const Pivots p = PivotsOf(x.data());
    LoopOracle oracle(p);
    if (oracle.Follow(model.task.open_rad) < model.task.open_rad) continue;
    for (const double theta : {0.2, 0.8, 1.4}) {
      const double h = 1e-5;
      const auto at = [&](double angle, const Vec2& point) {
        const auto turns = oracle.At(angle);
        const Complex la = AsComplex(p.lid_a);
        const Complex now = Placing::About(AsComplex(p.ground_a), turns.a)(la);
        return AsVec(now + std::polar(1.0, angle) * (AsComplex(point) - la));
      };
      const double rise =
          at(theta + h, model.task.mass_centre).y() - at(theta - h, model.task.mass_centre).y();
      const double travel =
          (at(theta + h, model.task.front_edge) - at(theta - h, model.task.front_edge)).norm();
      CHECK(LiftFactor(model.task, p, theta) == Approx(rise / travel).margin(1e-6));
    }
  }
}

TEST_CASE("the search gives the same linkages on any number of threads, others for another seed") {
  Model model("jewellery_casket");
  SearchOptions options;
  options.seeds = 40'000;
  options.keep = 10;
  options.threads = 1;
  const SearchSummary one = FindLinkages(model.task, options);
  REQUIRE(one.candidates.size() == 10);
  for (const int threads : {2, 3}) {
    options.threads = threads;
    const SearchSummary other = FindLinkages(model.task, options);
    REQUIRE(other.candidates.size() == one.candidates.size());
    CHECK(other.moving == one.moving);
    for (std::size_t i = 0; i < one.candidates.size(); ++i) {
      CHECK(NumbersOf(one.candidates[i].pivots) == NumbersOf(other.candidates[i].pivots));
    }
  }
  model.task.seed = 2;
  const SearchSummary second = FindLinkages(model.task, options);
  CHECK(NumbersOf(second.candidates[0].pivots) != NumbersOf(one.candidates[0].pivots));
  // All stay in their zones.
  for (const Candidate& candidate : one.candidates) {
    const Pivots& p = candidate.pivots;
    for (const Vec2& ground : {p.ground_a, p.ground_b}) {
      CHECK((ground.array() >= model.task.ground.low.array() - 1e-9).all());
      CHECK((ground.array() <= model.task.ground.high.array() + 1e-9).all());
    }
  }
}
