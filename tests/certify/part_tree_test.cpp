// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <deque>

#include "certify/verdicts.h"
#include "design/examples.h"
#include "lidwright/synthesis/box_assembly.h"
#include "swing/keeps_all.h"
#include "swing/random_pivots.h"

// One tree of all slabs of a body against a tree for each slab.

namespace lidwright {
namespace {

using namespace testing;

std::deque<PartTree> Apart(const std::vector<const PartTree*>& trees) {
  std::deque<PartTree> apart;
  for (const PartTree* tree : trees) {
    for (const Part& part : tree->parts()) apart.emplace_back(part);
  }
  return apart;
}

std::vector<const PartTree*> Pointers(const std::deque<PartTree>& trees) {
  std::vector<const PartTree*> pointers;
  for (const PartTree& tree : trees) pointers.push_back(&tree);
  return pointers;
}

}  // namespace

TEST_CASE("slabs in one tree keep the gaps that every pair of them keeps") {
  int proven = 0, met = 0, kept = 0, broken = 0;
  for (const char* name : {"sample_chest", "barrel_chest", "lipped_caddy"}) {
    const Job job = ExampleJob(name);
    const Assembly box = BoxAssembly(job, MakeSolid(job));
    const Slabs together(box);
    const std::deque<PartTree> lid = Apart(together.lid_slabs), chest = Apart(together.case_slabs);
    REQUIRE(lid.size() >= 2);
    REQUIRE(together.lid_slabs.size() == 1);
    const std::vector<PartPair> one = PairsBetween(together.lid_slabs, together.case_slabs);
    const std::vector<PartPair> many = PairsBetween(Pointers(lid), Pointers(chest));
    REQUIRE(one.size() == 1);
    REQUIRE(many.size() >= 2);
    Dice dice(931);
    for (int i = 0; i < 160; ++i) {
      const auto motion = LidMotion::Make(BoxPivots(dice));
      if (!motion || motion->Range().high_rad < 0.3) continue;
      const double to = std::min(job.swing.open_rad, 0.9 * motion->Range().high_rad);
      if (to <= job.swing.gap_from_rad) continue;
      CAPTURE(name, i);
      const Swing moving(*motion, job.swing.gap_from_rad, to);
      const GapReport a = LeastGap(moving, one), b = LeastGap(moving, many);
      CHECK(a.end == b.end);
      if (a.proven()) {
        ++proven;
        CHECK(std::abs(*a.bound_mm - *b.bound_mm) <= 2.0 * kGapTolerance_mm);
        CHECK(std::abs(a.nearest->gap_mm - b.nearest->gap_mm) <= 2.0 * kGapTolerance_mm);
      } else {
        ++met;
      }
      const Swing first(*motion, 0.0, job.swing.gap_from_rad);
      const KeepReport c = KeepsClosedGap(first, one, job.swing.gap_mm);
      const KeepReport d = KeepsClosedGap(first, many, job.swing.gap_mm);
      CHECK(c.kept() == d.kept());
      if (c.separation_mm > 0.0 && d.separation_mm > 0.0) {
        CHECK(c.separation_mm == Approx(d.separation_mm).epsilon(1e-9));
      }
      (c.kept() ? kept : broken) += 1;
    }
  }
  CHECK(proven > 3);
  CHECK(met > 3);
  CHECK(kept > 3);
  CHECK(broken > 3);
}

}  // namespace lidwright
