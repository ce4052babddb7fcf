// SPDX-License-Identifier: Apache-2.0
// Dry and damp wood: the seam by the Wood
// Handbook's formula.
#include <catch2/catch.hpp>
#include <cmath>

#include "arms/hinge_cases.h"
#include "lidwright/accuracy/seasons.h"

namespace lidwright {

TEST_CASE("damp wood moves the rims off their pivots as the Wood Handbook's formula says") {
  const auto& linkage = testing::ExampleLinkages()[0];
  const testing::HingeCase hinge(linkage.job, linkage.pivots);
  const SeasonAnchors anchors{{30.0, -40.0}, {90.0, -10.0}};
  const auto fit =
      FitAt(11.0, hinge.box.job, hinge.box.box, hinge.box.limits, hinge.motion, anchors);
  REQUIRE(fit);
  // Black cherry, tangential 0.00248 per % (Wood Handbook, FPL-GTR-190, Table 13-5, READ), 8 to 11
  // %. Ends' grain runs along the rim: heights grow. The case's rim rises 40 mm above its anchor,
  // the lid's 10 mm above its own.
  const double strain = 0.00248 * 3.0;
  CHECK(fit->front_opens_mm == Approx(strain * (10.0 - 40.0)).epsilon(1e-9));
  CHECK(fit->back_opens_mm == Approx(fit->front_opens_mm).epsilon(1e-9));
}

TEST_CASE("at the moisture it was built at a lid keeps the certified gap, elsewhere it does not") {
  const auto& linkage = testing::ExampleLinkages()[0];
  const testing::HingeCase hinge(linkage.job, linkage.pivots);
  const SeasonAnchors anchors{{30.0, -40.0}, {90.0, -10.0}};
  const auto at = [&](double percent) {
    return FitAt(percent, hinge.box.job, hinge.box.box, hinge.box.limits, hinge.motion, anchors)
        ->gap_mm;
  };
  const Verdicts lid = CertifyLid(hinge.box.box, hinge.motion, hinge.box.limits);
  const double built = *Find(lid, Requirement::kLidToCase)->found;
  CHECK(at(8.0) == Approx(built).margin(2.0 * kGapTolerance_mm));
  // No point of lid or case moves by more than the strain times its distance from its anchor, all
  // within 400 mm here.
  for (const double percent : {6.0, 11.0}) {
    const double moves = 2.0 * 0.00248 * std::abs(percent - 8.0) * 400.0;
    CHECK(std::abs(at(percent) - built) < moves);
  }
  CHECK(std::abs(at(11.0) - built) > 0.02);
}

TEST_CASE("a wood whose movement nobody knows has no seasons") {
  const auto& linkage = testing::ExampleLinkages()[0];
  testing::HingeCase hinge(linkage.job, linkage.pivots);
  Job job = hinge.box.job;
  job.loads.wood = "moon wood";
  CHECK_FALSE(FitAt(6.0, job, hinge.box.box, hinge.box.limits, hinge.motion, {}));
}

}  // namespace lidwright
