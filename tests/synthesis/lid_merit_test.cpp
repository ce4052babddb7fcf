// SPDX-License-Identifier: Apache-2.0
#include "lidwright/synthesis/lid_merit.h"

#include <ceres/jet.h>

#include <catch2/catch.hpp>
#include <cmath>

#include "lidwright/accuracy/placement.h"
#include "lidwright/forces/lid_mass.h"
#include "swing/loop_oracle.h"
#include "synthesis/lid_models.h"

using namespace lidwright;
using namespace lidwright::testing;

using Jet = ceres::Jet<double, 8>;

TEST_CASE("the misfit is that of the account of placing errors, which solves them one by one") {
  int tried = 0;
  for (const char* name : {"sample_chest", "jewellery_casket"}) {
    const LidModel model(ExampleJob(name));
    LidUse use = LidUseOf(model.job, model.solid);
    const double drill = model.job.shop.drill_error_mm;
    use.off_along_arm_mm = 2.0 * drill;  // by measure
    for (const Pivots& p : MovingPivots(model.task, 40, 23)) {
      const LidMotion motion = *LidMotion::Make(p);
      const double wanted =
          SeamOffToFirstOrder_mm(motion, drill, use.rim_back_mm, use.rim_front_mm);
      const PivotNumbers x = NumbersOf(p);
      CHECK(MisfitOneInTwenty(x.data(), use, 180) == Approx(wanted).epsilon(1e-6));
      CHECK(MisfitOneInTwenty(x.data(), use, 48) == Approx(wanted).epsilon(2e-3));
      ++tried;
    }
  }
  CHECK(tried == 80);
}

TEST_CASE("the misfit's derivatives are those of difference quotients") {
  const LidModel model(ExampleJob("sample_chest"));
  const LidUse use = LidUseOf(model.job, model.solid);
  int smooth = 0, all = 0;
  for (const Pivots& p : MovingPivots(model.task, 30, 29)) {
    const PivotNumbers x = NumbersOf(p);
    std::array<Jet, 8> jets;
    for (int i = 0; i < 8; ++i) {
      jets[static_cast<std::size_t>(i)] = Jet(x[static_cast<std::size_t>(i)], i);
    }
    const Jet misfit = MisfitOneInTwenty(jets.data(), use, 48);
    CHECK(misfit.a == Approx(MisfitOneInTwenty(x.data(), use, 48)).epsilon(1e-9));
    double worst = 0.0, size = 0.0;
    for (std::size_t k = 0; k < 8; ++k) {
      PivotNumbers up = x, down = x;
      up[k] += 1e-5;
      down[k] -= 1e-5;
      const double quotient =
          (MisfitOneInTwenty(up.data(), use, 48) - MisfitOneInTwenty(down.data(), use, 48)) / 2e-5;
      worst = std::max(worst, std::abs(misfit.v[static_cast<Eigen::Index>(k)] - quotient));
      size = std::max(size, std::abs(quotient));
    }
    ++all;
    // A direction on the edge between the rim's two ends has a kink.
    if (worst < 1e-5 * (1.0 + size)) ++smooth;
  }
  CHECK(all == 30);
  CHECK(smooth >= 28);
}

TEST_CASE("a lid's figures are those of other accounts of the same pivots") {
  for (const char* name : {"sample_chest", "barrel_chest", "jewellery_casket"}) {
    INFO(name);
    const LidModel model(ExampleJob(name));
    LidUse use = LidUseOf(model.job, model.solid);
    use.play_mm = 0.07;
    CHECK(use.weight_n ==
          Approx(9.80665 * MassOfLid(model.job, model.solid).mass_kg).epsilon(0.02));
    for (const Pivots& p : MovingPivots(model.task, 10, 31)) {
      const LidFigures f = FiguresOf(model.task, use, p);
      LoopOracle oracle(p);
      if (oracle.Follow(model.task.open_rad) < model.task.open_rad) continue;
      const LidMotion motion = *LidMotion::Make(p);
      double rattle = 0.0, rearmost = 0.0, lowest = 1e300;
      const int steps = static_cast<int>(std::ceil(model.task.open_rad * kDegPerRad));
      for (int i = 0; i <= steps; ++i) {
        const double theta = model.task.open_rad * i / steps;
        rattle = std::max(rattle,
                          2.0 * use.play_mm * EdgePerArmPlay(motion, theta, model.task.front_edge));
        const Placing lid = oracle.Place(Body::kLid, theta);
        for (const Station& s : model.solid.stations) {
          for (const Vec2& q : s.lid_rings[0]) {
            rearmost = std::min(rearmost, lid(q).x());
            lowest = std::min(lowest, lid(q).y());
          }
        }
      }
      CHECK(f.rattle_mm == Approx(rattle).epsilon(1e-5));
      CHECK(f.behind_mm == Approx(-rearmost).margin(1e-6));
      CHECK(f.over_bench_mm == Approx(lowest - model.solid.bench_mm).margin(1e-6));
      CHECK(f.arms_mm ==
            Approx(std::hypot(p.lid_a.x() - p.case_a.x(), p.lid_a.y() - p.case_a.y()) +
                   std::hypot(p.lid_b.x() - p.case_b.x(), p.lid_b.y() - p.case_b.y())));
      CHECK(f.hang_mm == std::max({0.0, -p.lid_a.y(), -p.lid_b.y()}));
    }
  }
}

TEST_CASE("a step of each figure costs one, height over the bench only where there is a bench") {
  LidUse use;
  const LidFigures none{0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 10.0, 1.0};
  CHECK(LidMerit(use, none) == 0.0);
  const auto with = [&](double LidFigures::*figure, double value) {
    LidFigures f = none;
    f.*figure = value;
    return LidMerit(use, f);
  };
  CHECK(with(&LidFigures::rattle_mm, 0.2) == Approx(1.0));
  CHECK(with(&LidFigures::misfit_mm, 0.3) == Approx(1.0));
  CHECK(with(&LidFigures::lift_n, 10.0) == Approx(1.0));
  CHECK(with(&LidFigures::behind_mm, 50.0) == Approx(1.0));
  CHECK(with(&LidFigures::arms_mm, 100.0) == Approx(1.0));
  CHECK(with(&LidFigures::hang_mm, 40.0) == Approx(1.0));
  CHECK(with(&LidFigures::over_bench_mm, 5.0) == Approx(1.0));
  CHECK(with(&LidFigures::over_bench_mm, 25.0) == 0.0);
  CHECK(with(&LidFigures::over_bench_mm, -5.0) == Approx(3.0));
  use.bench = false;
  CHECK(with(&LidFigures::over_bench_mm, -5.0) == 0.0);
}

TEST_CASE("pivots that do not open so far have no figures and no merit") {
  const LidModel model(ExampleJob("sample_chest"));
  const Pivots parallel{{30, -40}, {60, -40}, {50, -10}, {80, -10}};
  const LidFigures f = FiguresOf(model.task, LidUseOf(model.job, model.solid), parallel);
  CHECK(std::isnan(f.rattle_mm));
  CHECK(std::isnan(LidMerit({}, f)));
}
