// SPDX-License-Identifier: Apache-2.0
#include <catch2/catch.hpp>
#include <cmath>

#include "design/examples.h"
#include "lidwright/accuracy/builds.h"
#include "lidwright/synthesis/lid_task.h"
#include "swing/loop_oracle.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

const Pivots kPivots{{53.5, -44.5}, {28, -20}, {94.5, -46.5}, {68, 1.5}};

// Where the lid's frame is at θ when the pivots are off but the arms keep their designed lengths:
// Newton on the two lengths, from nothing but them.
Vec2 OriginWithLengths(const Pivots& designed, const Pivots& built, double theta, Vec2 start) {
  const double a = (designed.lid_a - designed.ground_a).norm();
  const double b = (designed.lid_b - designed.ground_b).norm();
  const Complex turn = std::polar(1.0, theta);
  const auto turned = [&](const Vec2& p) { return AsVec(turn * AsComplex(p)); };
  Vec2 origin = start;
  for (int i = 0; i < 50; ++i) {
    const Vec2 ra = origin + turned(built.lid_a) - built.ground_a;
    const Vec2 rb = origin + turned(built.lid_b) - built.ground_b;
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
  const BoxParts parts = MakeBoxParts(job, solid);
  BuildOptions options;
  options.builds = 10;
  const Accuracy accuracy = AccuracyOf(job, parts, *LidMotion::Make(kPivots), options);
  const auto nearest = [&](const PivotNumbers& y) {
    const LidMotion motion = *LidMotion::Make(PivotsOf(y.data()));
    GapOptions fine;
    fine.tolerance_mm = 1e-5;
    return LeastGap(motion, MotionBounds(motion, job.swing.gap_from_rad, job.swing.open_rad),
                    PairsBetween(parts.lid_slabs, parts.case_slabs), fine)
        .nearest.gap_mm;
  };
  const PivotNumbers x = NumbersOf(kPivots);
  for (std::size_t k = 0; k < 8; ++k) {
    PivotNumbers high = x, low = x;
    high[k] += 0.01;
    low[k] -= 0.01;
    CHECK(accuracy.gap_slope[k] == Approx((nearest(high) - nearest(low)) / 0.02).margin(0.01));
  }
}

TEST_CASE("many builds scatter as the slopes foretell where everything is linear", "[slow]") {
  Job job = ExampleJob("sample_chest");
  job.shop.drill_error_mm = 0.05;
  const Solid solid = MakeSolid(job);
  const BoxParts parts = MakeBoxParts(job, solid);
  const LidMotion motion = *LidMotion::Make(kPivots);
  BuildOptions options;
  options.builds = 4000;
  const Accuracy a = AccuracyOf(job, parts, motion, options);
  // Normal theory: one in twenty lies below the mean less 1.645 standard deviations.
  const double expected = 1.645 * a.gap_spread * 0.05;
  CHECK(a.gap_mm - a.gap_5_percent_mm == Approx(expected).margin(0.15 * expected + 0.08));
  CHECK(a.touching_share == 0.0);
  // The same builds on any number of threads, others from another seed.
  options.builds = 1000;
  options.threads = 1;
  const Accuracy one = AccuracyOf(job, parts, motion, options);
  options.threads = 3;
  CHECK(AccuracyOf(job, parts, motion, options).gap_5_percent_mm == one.gap_5_percent_mm);
  options.seed = 2;
  CHECK(AccuracyOf(job, parts, motion, options).gap_5_percent_mm != one.gap_5_percent_mm);
  // Worse drilling loses more.
  job.shop.drill_error_mm = 0.8;
  const Accuracy rough = AccuracyOf(job, parts, motion, options);
  CHECK(rough.gap_5_percent_mm < one.gap_5_percent_mm);
  CHECK(rough.short_share > one.short_share);
}
