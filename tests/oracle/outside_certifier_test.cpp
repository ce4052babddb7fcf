// SPDX-License-Identifier: Apache-2.0
// A few of the boxes that bench/outside_bench.cpp looks at by the hundred.
#include "oracle/outside_certifier.h"

#include <catch2/catch.hpp>

#include "oracle/any_box.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

OutsideCertifier::Options Coarse(unsigned seed) {
  OutsideCertifier::Options options;
  options.angles = 300;
  options.widths = 4;
  options.seed = seed;
  return options;
}

}  // namespace

TEST_CASE("no bound on a box of any form stands above what is seen from outside", "[slow]") {
  int bounds = 0, hinges = 0, close = 0;
  for (const unsigned seed : {2U, 5U, 9U, 14U}) {
    const BoxModel box(AnyBox(seed));
    OutsideCertifier outside(box.job, Coarse(seed));
    for (const Pivots& pivots : PivotsToLookAt(box, 1, 0, 2, seed)) {
      if (!Opens(box, pivots)) continue;
      ++hinges;
      for (const Compared& c : outside.Compare(JudgeHinge(box, pivots, {}, {}))) {
        INFO("box " << seed << ", " << c.what << ": bound " << c.bound << ", seen " << c.seen);
        ++bounds;
        CHECK(c.Over() <= 1e-6);
        if (c.Over() > -0.25) ++close;
      }
    }
  }
  CHECK(hinges >= 4);
  CHECK(bounds >= 20);
  CHECK(2 * close >= bounds);  // an eye that sees nothing near would find no fault either
}

TEST_CASE("from outside a bound is seen to be wrong that was proven for another box", "[slow]") {
  // The certificate of a lid whose dome is 2 mm lower, and of a bench 2 mm lower.
  const Job job = AnyBox(2);
  Job flatter = job;
  flatter.lid.crown_mm -= 2.0;
  flatter.lid.crown_at_ends_mm = std::min(job.lid.crown_at_ends_mm, flatter.lid.crown_mm);
  flatter.case_form.height_mm += 2.0;
  const BoxModel other(flatter);
  OutsideCertifier outside(job, Coarse(2));
  int wrong = 0;
  for (const Pivots& pivots : PivotsToLookAt(other, 1, 0, 0, 2)) {
    REQUIRE(Opens(other, pivots));
    for (const Compared& c : outside.Compare(JudgeHinge(other, pivots, {}, {}))) {
      if (c.Over() > 0.5) ++wrong;
    }
  }
  CHECK(wrong >= 1);
}
