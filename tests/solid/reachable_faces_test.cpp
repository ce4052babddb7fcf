// SPDX-License-Identifier: Apache-2.0
#include "lidwright/solid/reachable_faces.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "design/examples.h"

using namespace lidwright;
using namespace lidwright::testing;
using Catch::Matchers::WithinAbs;

namespace {

// How far a circular edge of this bow stands out at z over its ends (by hand, from the sagitta).
double ArcAt(double width, double bow, double z) {
  const double half = width / 2.0, radius = (half * half + bow * bow) / (2.0 * bow);
  return std::sqrt(radius * radius - z * z) - (radius - bow);
}

}  // namespace

TEST_CASE("a rim that slopes over the wall still shows the wall's inner face") {
  // The back is hollow by 6; both walls are 12 thick.
  const Job job = ExampleJob("saddle_chest");
  REQUIRE(job.case_form.back_bow_mm == -6.0);
  REQUIRE(job.case_form.rim_arch_side_mm != 0.0);
  const Solid solid = MakeSolid(job);
  const double z = job.case_form.width_mm / 2.0 - job.case_form.end_wall_mm;
  const ReachableFaces faces = FacesAtEnd(job, solid);
  CHECK_THAT(faces.back_x_mm, WithinAbs(12.0 + ArcAt(340.0, 6.0, z), 0.05));
  CHECK_THAT(LidFacesAtEnd(job, solid).back_x_mm,
             WithinAbs(job.lid.wall_mm + ArcAt(340.0, 6.0, z), 0.05));
  // Whichever way and however much the rim arches from back to front, on straight backs.
  for (const double arch : {-8.0, -3.0, 3.0, 8.0}) {
    INFO(arch);
    Job other = ExampleJob("spice_box");
    other.case_form.rim_arch_side_mm = arch;
    const Solid box = MakeSolid(other);
    CHECK_THAT(FacesAtEnd(other, box).back_x_mm, WithinAbs(12.0, 0.01));
    CHECK_THAT(LidFacesAtEnd(other, box).back_x_mm, WithinAbs(15.0, 0.01));
  }
}

TEST_CASE("a collar is not taken for the lid's back wall, a lip is") {
  const Job collared = ExampleJob("collared_chest");
  CHECK_THAT(LidFacesAtEnd(collared, MakeSolid(collared)).back_x_mm,
             WithinAbs(collared.lid.wall_mm, 0.05));
  const Job lipped = ExampleJob("rebated_box");
  const ReachableFaces faces = LidFacesAtEnd(lipped, MakeSolid(lipped));
  CHECK_THAT(faces.back_x_mm, WithinAbs(lipped.case_form.back_wall_mm + lipped.lid.lip_play_mm +
                                            lipped.lid.lip_wall_mm,
                                        0.05));
  // A paper lies on the end wall, which ends at the seam where the lip is at the back alone.
  REQUIRE_FALSE(lipped.lid.lip_at_ends);
  CHECK_THAT(faces.rim_y_mm, WithinAbs(lipped.lid.seam_gap_mm, 0.05));
  Job around = lipped;
  around.lid.lip_at_ends = true;
  CHECK_THAT(LidFacesAtEnd(around, MakeSolid(around)).rim_y_mm,
             WithinAbs(-lipped.lid.lip_mm, 0.05));
}
