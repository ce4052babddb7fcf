// SPDX-License-Identifier: Apache-2.0
#include <catch2/catch.hpp>
#include <cmath>

#include "certify/verdicts.h"
#include "design/examples.h"
#include "lidwright/accuracy/builds.h"
#include "lidwright/synthesis/box_assembly.h"
#include "lidwright/synthesis/lid_task.h"
#include "swing/loop_oracle.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

const Pivots kPivots{{53.5, -44.5}, {28, -20}, {94.5, -46.5}, {68, 1.5}};

// Where the lid's frame is at θ when the pivots are off but the arms keep their designed lengths:
// Newton on the two lengths, from nothing but them.
Vec2 OriginWithLengths(const Pivots& designed, const Pivots& built, double theta, Vec2 start) {
  const double a = (designed.lid_a - designed.case_a).norm();
  const double b = (designed.lid_b - designed.case_b).norm();
  const Complex turn = std::polar(1.0, theta);
  const auto turned = [&](const Vec2& p) { return AsVec(turn * AsComplex(p)); };
  Vec2 origin = start;
  for (int i = 0; i < 50; ++i) {
    const Vec2 ra = origin + turned(built.lid_a) - built.case_a;
    const Vec2 rb = origin + turned(built.lid_b) - built.case_b;
    const double fa = ra.squaredNorm() - a * a, fb = rb.squaredNorm() - b * b;
    const double det = 4.0 * Cross(ra, rb);
    origin -=
        Vec2((2.0 * rb.y() * fa - 2.0 * ra.y() * fb), (2.0 * ra.x() * fb - 2.0 * rb.x() * fa)) /
        det;
  }
  return origin;
}

}  // namespace

TEST_CASE("the lid's shift per pivot error agrees with differences, in a jig and by measure") {
  const LidMotion motion = *LidMotion::Make(kPivots);
  const PivotNumbers x = NumbersOf(kPivots);
  constexpr double h = 1e-5;
  for (const double theta : {0.0, 0.3, 0.9, 1.6}) {
    const auto jig = LidShift(motion, theta, Fixing::kInJig);
    const auto measure = LidShift(motion, theta, Fixing::kByMeasure);
    const Vec2 at = motion.At(theta).X_CL.origin;
    for (std::size_t k = 0; k < 8; ++k) {
      PivotNumbers high = x, low = x;
      high[k] += h;
      low[k] -= h;
      const auto origin = [&](const PivotNumbers& y) {
        return LidMotion::Make(PivotsOf(y.data()))->At(theta).X_CL.origin;
      };
      CHECK((jig[k] - (origin(high) - origin(low)) / (2 * h)).norm() < 1e-6);
      const auto fixed = [&](const PivotNumbers& y) {
        return OriginWithLengths(kPivots, PivotsOf(y.data()), theta, at);
      };
      CHECK((measure[k] - (fixed(high) - fixed(low)) / (2 * h)).norm() < 1e-6);
    }
  }
  // In a jig the shut lid does not move at all: that is what the jig is for.
  for (const Vec2& s : LidShift(motion, 0.0, Fixing::kInJig)) CHECK(s.norm() < 1e-12);
  // Without it, moving everything together moves the lid along, and nothing else.
  const auto measure = LidShift(motion, 0.0, Fixing::kByMeasure);
  CHECK((measure[0] + measure[2] - Vec2(1, 0) + measure[4] + measure[6] + Vec2(1, 0)).norm() <
        1e-9);
}

TEST_CASE("the tightest gap's slopes agree with the full certified gap of displaced pivots",
          "[slow]") {
  const Job job = ExampleJob("sample_chest");
  const Solid solid = MakeSolid(job);
  const Assembly parts_box = BoxAssembly(job, solid);
  const lidwright::testing::Slabs parts(parts_box);
  BuildOptions options;
  options.builds = 10;
  const Accuracy accuracy =
      AccuracyOf(job, parts_box, LimitsOf(job, solid), *LidMotion::Make(kPivots), options);
  const auto nearest = [&](const PivotNumbers& y) {
    const LidMotion motion = *LidMotion::Make(PivotsOf(y.data()));
    GapOptions fine;
    fine.tolerance_mm = 1e-5;
    return LeastGap(Swing(motion, job.swing.gap_from_rad, job.swing.open_rad),
                    PairsBetween(parts.lid_slabs, parts.case_slabs), fine)
        .nearest->gap_mm;
  };
  const PivotNumbers x = NumbersOf(kPivots);
  for (std::size_t k = 0; k < 8; ++k) {
    PivotNumbers high = x, low = x;
    high[k] += 0.01;
    low[k] -= 0.01;
    CHECK(accuracy.gap_slope[k] == Approx((nearest(high) - nearest(low)) / 0.02).margin(0.01));
  }
}

TEST_CASE("each error's effects agree with differences of the full certified gap and of poses",
          "[slow]") {
  const Job job = ExampleJob("sample_chest");
  const Solid solid = MakeSolid(job);
  const Assembly parts_box = BoxAssembly(job, solid);
  const lidwright::testing::Slabs parts(parts_box);
  const LidMotion motion = *LidMotion::Make(kPivots);
  BuildOptions options;
  options.builds = 10;
  const Accuracy accuracy = AccuracyOf(job, parts_box, LimitsOf(job, solid), motion, options);
  REQUIRE(accuracy.effects.size() == 16);
  const double open = job.swing.open_rad;
  // Pivots as built, and arms' lengths more than designed, for each error: done by hand here.
  struct Built {
    Pivots pivots = kPivots;
    double longer_a = 0.0, longer_b = 0.0;
  };
  const auto build = [](std::size_t error, double by) {
    Built built;
    Pivots& p = built.pivots;
    const std::array<Vec2*, 4> points{&p.case_a, &p.case_b, &p.lid_a, &p.lid_b};
    if (error < 8) {
      (*points[error / 2])[static_cast<Eigen::Index>(error % 2)] += by;
    } else if (error < 14) {
      const bool lid = error >= 11;
      const std::size_t how = (error - 8) % 3;
      Vec2 &a = *points[lid ? 2 : 0], &b = *points[lid ? 3 : 1];
      const Vec2 middle = (a + b) / 2.0;
      for (Vec2* q : {&a, &b}) {
        if (how < 2) {
          (*q)[static_cast<Eigen::Index>(how)] += by;
        } else {
          *q = middle + AsVec(std::polar(1.0, by) * AsComplex(Vec2(*q - middle)));
        }
      }
    } else {
      (error == 14 ? built.longer_a : built.longer_b) = by;
    }
    return built;
  };
  // The lid's frame when shut with the designed lengths (and more).
  const auto origin = [&](const Built& built, double theta) {
    Pivots lengths = kPivots;
    lengths.lid_a += built.longer_a * (kPivots.lid_a - kPivots.case_a).normalized();
    lengths.lid_b += built.longer_b * (kPivots.lid_b - kPivots.case_b).normalized();
    return OriginWithLengths(lengths, built.pivots, theta, motion.At(theta).X_CL.origin);
  };
  const auto nearest = [&](const Pivots& pivots, const Vec2& lid_by) {
    Solid moved = solid;
    for (Station& station : moved.stations) {
      for (Ring& ring : station.lid_rings) {
        for (Vec2& p : ring) p += lid_by;
      }
    }
    const Assembly own_box = BoxAssembly(job, moved);
    const lidwright::testing::Slabs own(own_box);
    const LidMotion there = *LidMotion::Make(pivots);
    GapOptions fine;
    fine.tolerance_mm = 1e-5;
    return LeastGap(Swing(there, job.swing.gap_from_rad, open),
                    PairsBetween(own.lid_slabs, own.case_slabs), fine)
        .nearest->gap_mm;
  };
  for (std::size_t i = 0; i < 16; ++i) {
    const ErrorEffect& effect = accuracy.effects[i];
    INFO(effect.what);
    CHECK(effect.turns == (i == 10 || i == 13));
    const double h = effect.turns ? 2e-4 : 0.01;
    const Built high = build(i, h), low = build(i, -h);
    const double size = effect.turns ? 50.0 : 1.0;  // mm per radian
    // In place: the pivots make a slightly different linkage; a longer arm pushes its lid pivot
    // out.
    const auto in_place = [&](const Built& built) {
      Pivots p = built.pivots;
      p.lid_a += built.longer_a * (p.lid_a - p.case_a).normalized();
      p.lid_b += built.longer_b * (p.lid_b - p.case_b).normalized();
      return p;
    };
    CHECK(effect.gap_in_place ==
          Approx((nearest(in_place(high), Vec2::Zero()) - nearest(in_place(low), Vec2::Zero())) /
                 (2 * h))
              .margin(0.01 * size));
    const auto open_at = [&](const Built& b) {
      return LidMotion::Make(in_place(b))->At(open).X_CL.origin;
    };
    CHECK((effect.front_in_place - (open_at(high) - open_at(low)) / (2 * h)).norm() < 1e-3 * size);
    // Measured: the lid shuts beside its place, all of it, and swings from there.
    const auto seam = [&](const Built& b) { return origin(b, 0.0); };
    CHECK((effect.seam - (seam(high) - seam(low)) / (2 * h)).norm() < 1e-3 * size);
    CHECK((effect.front_measured - (origin(high, open) - origin(low, open)) / (2 * h)).norm() <
          1e-3 * size);
    const auto measured = [&](const Built& b) {
      Pivots p = b.pivots;
      p.lid_a += seam(b);
      p.lid_b += seam(b);
      return nearest(p, seam(b));
    };
    CHECK(effect.gap_measured ==
          Approx((measured(high) - measured(low)) / (2 * h)).margin(0.01 * size));
  }
}

TEST_CASE("a misplaced lid shuts where the first end of its rim touches") {
  // The rim's ends by Newton on the arms' designed lengths and bisection over the lid's angle.
  const LidMotion motion = *LidMotion::Make(kPivots);
  const PivotNumbers x = NumbersOf(kPivots);
  const double back = -10.0, front = 220.0;
  REQUIRE(motion.InstantCentre(motion.At(0.0)).x() < back);
  const auto shut_shift = LidShift(motion, 0.0, Fixing::kByMeasure);
  int first_back = 0, first_front = 0;
  for (std::size_t k = 0; k < 8; ++k) {
    for (const double error : {-1e-5, 1e-5}) {
      PivotNumbers off = x;
      off[k] += error;
      const Pivots built = PivotsOf(off.data());
      const auto end = [&](double theta, double at) {
        const Vec2 origin = OriginWithLengths(kPivots, built, theta, motion.At(theta).X_CL.origin);
        return Vec2(origin + AsVec(std::polar(1.0, theta) * AsComplex(Vec2(at, 0.0))));
      };
      double low = -0.01, high = 0.01;
      for (int i = 0; i < 80; ++i) {
        const double middle = (low + high) / 2.0;
        (std::min(end(middle, back).y(), end(middle, front).y()) < 0.0 ? low : high) = middle;
      }
      const Vec2 at_back = end(high, back) - Vec2(back, 0.0);
      const Vec2 at_front = end(high, front) - Vec2(front, 0.0);
      ++(at_back.y() < at_front.y() ? first_back : first_front);
      CHECK(SeamMisfit_mm(motion, error * shut_shift[k], back, front) ==
            Approx(std::max(at_back.norm(), at_front.norm())).epsilon(0.01));
    }
  }
  CHECK(first_back > 3);
  CHECK(first_front > 3);
}

TEST_CASE("rattle is what the front edge does when the arms' lengths are free") {
  const LidMotion motion = *LidMotion::Make(kPivots);
  const Vec2 front(220.0, 0.0);
  for (const double theta : {0.05, 0.6, 1.2, 1.6}) {
    const LidState state = motion.At(theta);
    const Vec2 out = (state.X_CL * front - motion.InstantCentre(state)).normalized();
    const Vec2 start = state.X_CL * front;
    // Arms longer by h, lid angle such that the edge has not moved along its path: by Newton on the
    // loop and bisection over the angle.
    double sum = 0.0;
    for (const bool b : {false, true}) {
      const double h = 1e-4;
      Pivots longer = kPivots;
      (b ? longer.lid_b : longer.lid_a) +=
          h * (b ? Vec2(kPivots.lid_b - kPivots.case_b) : Vec2(kPivots.lid_a - kPivots.case_a))
                  .normalized();
      const auto edge = [&](double turn) {
        const Vec2 origin = OriginWithLengths(longer, kPivots, turn, motion.At(turn).X_CL.origin);
        return Vec2(origin + AsVec(std::polar(1.0, turn) * AsComplex(front)));
      };
      double low = theta - 0.01, high = theta + 0.01;
      for (int i = 0; i < 80; ++i) {
        const double middle = (low + high) / 2.0;
        (Perp(out).dot(edge(middle) - start) < 0.0 ? low : high) = middle;
      }
      sum += std::abs(out.dot(edge(low) - start)) / h;
    }
    CHECK(EdgePerArmPlay(motion, theta, front) == Approx(sum).epsilon(1e-3));
  }
  const Job job = ExampleJob("sample_chest");
  const Solid solid = MakeSolid(job);
  BuildOptions options;
  options.builds = 10;
  options.front_edge = front;
  options.play_mm = 0.08;
  const Accuracy a =
      AccuracyOf(job, BoxAssembly(job, solid), LimitsOf(job, solid), motion, options);
  CHECK(a.rattle_mm == Approx(2.0 * 0.08 * EdgePerArmPlay(motion, a.rattle_rad, front)));
  for (const double theta : {0.0, 0.4, 0.8, 1.2, 1.6}) {
    CHECK(2.0 * 0.08 * EdgePerArmPlay(motion, theta, front) <= 1.001 * a.rattle_mm);
  }
}

TEST_CASE("many builds scatter as the slopes foretell where everything is linear", "[slow]") {
  Job job = ExampleJob("sample_chest");
  const Solid solid = MakeSolid(job);
  const Assembly parts_box = BoxAssembly(job, solid);
  const lidwright::testing::Slabs parts(parts_box);
  const LidMotion motion = *LidMotion::Make(kPivots);
  BuildOptions options;
  options.builds = 4000;
  // Normal theory: one in twenty lies below the mean less 1.645 standard deviations. Two small
  // errors with the same draws, so that the mean falls out; a percentile of 4000 is known to 2 %.
  job.shop.drill_error_mm = 0.01;
  const Accuracy fine = AccuracyOf(job, parts_box, LimitsOf(job, solid), motion, options);
  job.shop.drill_error_mm = 0.02;
  const Accuracy a = AccuracyOf(job, parts_box, LimitsOf(job, solid), motion, options);
  CHECK(fine.gap_5_percent_mm - a.gap_5_percent_mm ==
        Approx(1.645 * a.gap_spread * 0.01).epsilon(0.07));
  CHECK(a.touching_share == 0.0);
  // The shut lid's place, with errors so small that it is linear in them too (these pivots throw a
  // lid a thousand times as far), is a sum of normal numbers in the plane: its variances along its
  // two principal directions, and from them by integration the distance that one in twenty exceeds.
  constexpr double kTiny_mm = 2e-6;
  Job careful = job;
  careful.shop.drill_error_mm = careful.shop.place_error_mm = kTiny_mm;
  const Accuracy tiny = AccuracyOf(careful, parts_box, LimitsOf(job, solid), motion, options);
  const auto far = [&](bool measured) {
    double xx = 0.0, xy = 0.0, yy = 0.0;
    for (std::size_t i = 0; i < a.effects.size(); ++i) {
      const bool plate = i >= 8 && i < 14;
      if (plate && !measured) continue;
      const double apart = i < 11 ? (kPivots.case_a - kPivots.case_b).norm()
                                  : (kPivots.lid_a - kPivots.lid_b).norm();
      const double deviation = i < 8                ? kTiny_mm
                               : i >= 14            ? std::sqrt(2.0) * kTiny_mm
                               : a.effects[i].turns ? std::sqrt(2.0) * kTiny_mm / apart
                                                    : std::sqrt(0.5) * kTiny_mm;
      const Vec2 s = deviation * a.effects[i].seam;
      xx += s.x() * s.x();
      xy += s.x() * s.y();
      yy += s.y() * s.y();
    }
    const double mean = (xx + yy) / 2.0, rest = std::hypot((xx - yy) / 2.0, xy);
    const double s1 = std::sqrt(mean + rest), s2 = std::sqrt(std::max(1e-20, mean - rest));
    // The distance is that of the rim's worse end, where it comes to rest (SeamMisfit_mm, checked
    // below): the share within r by adding up a fine grid over the plane.
    const double tilt = 0.5 * std::atan2(2.0 * xy, xx - yy);
    std::vector<std::pair<double, double>> sorted;  // distance, share
    constexpr int kGrid = 400;
    for (int k = 0; k < kGrid; ++k) {
      for (int m = 0; m < kGrid; ++m) {
        const double u = 10.0 * ((k + 0.5) / kGrid - 0.5), v = 10.0 * ((m + 0.5) / kGrid - 0.5);
        const Vec2 s(s1 * u * std::cos(tilt) - s2 * v * std::sin(tilt),
                     s1 * u * std::sin(tilt) + s2 * v * std::cos(tilt));
        sorted.emplace_back(
            SeamMisfit_mm(motion, s, -job.case_form.back_bow_mm, job.case_form.depth_mm),
            std::exp(-(u * u + v * v) / 2.0));
      }
    }
    std::sort(sorted.begin(), sorted.end());
    double all = 0.0, sum = 0.0;
    for (const auto& [distance, share] : sorted) all += share;
    for (const auto& [distance, share] : sorted) {
      sum += share;
      if (sum > 0.95 * all) return distance;
    }
    return 0.0;
  };
  CHECK(tiny.seam_jig_mm == Approx(far(false)).epsilon(0.05));
  CHECK(SeamOffToFirstOrder_mm(motion, kTiny_mm, -job.case_form.back_bow_mm,
                               job.case_form.depth_mm) == Approx(far(false)).epsilon(0.01));
  CHECK(tiny.seam_measured_mm == Approx(far(true)).epsilon(0.05));
  CHECK(a.gap_measured_mm < a.gap_5_percent_mm);
  // The same builds on any number of threads, others from another seed.
  job.shop.drill_error_mm = 0.05;
  options.builds = 1000;
  options.threads = 1;
  const Accuracy one = AccuracyOf(job, parts_box, LimitsOf(job, solid), motion, options);
  options.threads = 3;
  CHECK(AccuracyOf(job, parts_box, LimitsOf(job, solid), motion, options).gap_5_percent_mm ==
        one.gap_5_percent_mm);
  options.seed = 2;
  CHECK(AccuracyOf(job, parts_box, LimitsOf(job, solid), motion, options).gap_5_percent_mm !=
        one.gap_5_percent_mm);
  // Worse drilling loses more.
  job.shop.drill_error_mm = 0.8;
  const Accuracy rough = AccuracyOf(job, parts_box, LimitsOf(job, solid), motion, options);
  CHECK(rough.gap_5_percent_mm < one.gap_5_percent_mm);
  CHECK(rough.short_share > one.short_share);
}
