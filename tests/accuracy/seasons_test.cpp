// SPDX-License-Identifier: Apache-2.0
// Dry and damp wood: the seam by the Wood Handbook's formula, the gap by sections and pins moved by
// hand, the lid's place by Newton and distances by GEOS.
#include <catch2/catch.hpp>
#include <cmath>

#include "arms/hinge_cases.h"
#include "design/least_seen.h"
#include "lidwright/accuracy/seasons.h"
#include "lidwright/job/woods.h"
#include "solid/box_truth.h"

namespace lidwright {
namespace {

// Black cherry, tangential (Wood Handbook, FPL-GTR-190, Table 13-5, READ), from 8 % on. The grain
// of all boards runs along the rim: only heights change.
double CherryStrain(double percent) {
  return 0.00248 * (percent - 8.0);
}

// How a lid turned as when shut has to be shifted for the arms to be as long as they were made.
Vec2 ShiftForArms(const Pivots& made, const Pivots& now) {
  const double made_a = (made.lid_a - made.case_a).squaredNorm();
  const double made_b = (made.lid_b - made.case_b).squaredNorm();
  Vec2 shift(0.0, 0.0);
  for (int round = 0; round < 30; ++round) {
    const Vec2 a = now.lid_a + shift - now.case_a, b = now.lid_b + shift - now.case_b;
    const double miss_a = (made_a - a.squaredNorm()) / 2.0, miss_b = (made_b - b.squaredNorm()) / 2;
    const double determinant = a.x() * b.y() - a.y() * b.x();
    shift.x() += (miss_a * b.y() - miss_b * a.y()) / determinant;
    shift.y() += (miss_b * a.x() - miss_a * b.x()) / determinant;
  }
  return shift;
}

// A box in another moisture, moved by hand.
struct MovedBox {
  Solid solid;
  Pivots pivots;
  Vec2 lid_shift = Vec2::Zero();
};

MovedBox MovedByHand(const Job& job, const Solid& solid, const Pivots& made,
                     const SeasonAnchors& anchors, double percent) {
  MovedBox moved{solid, made};
  const auto raise = [&](Vec2& p, const Vec2& anchor) {
    p.y() += CherryStrain(percent) * (p.y() - anchor.y());
  };
  if (!job.plates.on_case) {
    for (Vec2* pin : {&moved.pivots.case_a, &moved.pivots.case_b}) raise(*pin, anchors.case_at);
  }
  if (!job.plates.on_lid) {
    for (Vec2* pin : {&moved.pivots.lid_a, &moved.pivots.lid_b}) raise(*pin, anchors.lid_at);
  }
  moved.lid_shift = ShiftForArms(made, moved.pivots);
  moved.pivots.lid_a += moved.lid_shift;
  moved.pivots.lid_b += moved.lid_shift;
  for (Station& station : moved.solid.stations) {
    for (Ring& ring : station.case_rings) {
      for (Vec2& p : ring) raise(p, anchors.case_at);
    }
    for (Ring& ring : station.lid_rings) {
      for (Vec2& p : ring) {
        raise(p, anchors.lid_at);
        p += moved.lid_shift;
      }
    }
  }
  return moved;
}

// What stands on a plate is kept at these points, bare wood at its first pin.
SeasonAnchors AnchorsFor(const Job& job, const Pivots& pivots) {
  return {job.plates.on_case ? Vec2(30.0, -40.0) : pivots.case_a,
          job.plates.on_lid ? Vec2(90.0, -10.0) : pivots.lid_a};
}

}  // namespace

TEST_CASE("damp wood moves the rims off their pivots as the Wood Handbook's formula says") {
  const auto& linkage = testing::ExampleLinkages()[0];
  const testing::HingeCase hinge(linkage.job, linkage.pivots);
  const SeasonAnchors anchors{{30.0, -40.0}, {90.0, -10.0}};
  const auto fit =
      FitAt(11.0, hinge.box.job, hinge.box.box, hinge.box.limits, hinge.motion, anchors);
  REQUIRE(fit);
  // The case's rim rises 40 mm above its anchor, the lid's 10 mm above its own.
  const double strain = CherryStrain(11.0);
  CHECK(fit->front_opens_mm == Approx(strain * (10.0 - 40.0)).epsilon(1e-9));
  CHECK(fit->back_opens_mm == Approx(fit->front_opens_mm).epsilon(1e-9));
}

TEST_CASE("at the moisture it was built at a lid keeps the certified gap, elsewhere it does not") {
  const auto& linkage = testing::ExampleLinkages()[0];
  const testing::HingeCase hinge(linkage.job, linkage.pivots);
  const Verdicts lid = CertifyLid(hinge.box.box, hinge.motion, hinge.box.limits);
  const double built = *Find(lid, Requirement::kLidToCase)->found;
  Job job = hinge.box.job;
  for (const bool plates : {true, false}) {
    CAPTURE(plates);
    job.plates.on_case = job.plates.on_lid = plates;
    const SeasonAnchors anchors = AnchorsFor(job, linkage.pivots);
    const auto at = [&](double percent) {
      return FitAt(percent, job, hinge.box.box, hinge.box.limits, hinge.motion, anchors)->gap_mm;
    };
    CHECK(at(8.0) == Approx(built).margin(2.0 * kGapTolerance_mm));
    if (plates) CHECK(std::abs(at(11.0) - built) > 0.02);
  }
}

TEST_CASE("dry and damp a lid clears by what GEOS sees of sections and pins moved by hand") {
  const auto& linkage = testing::ExampleLinkages()[0];
  const testing::HingeCase hinge(linkage.job, linkage.pivots);
  const testing::Geos geos;
  const double reserve = testing::BoundsReserve_mm(hinge.box.solid) + testing::kEyeWithin_mm;
  // [mm] Both the certificate and the eye stop at a tolerance, built and moved.
  const double alike = 2.0 * (kGapTolerance_mm + testing::kEyeWithin_mm);
  struct Row {
    bool on_case, on_lid;
    double percent;
  };
  Job job = hinge.box.job;
  const auto seen_of = [&](const MovedBox& box) {
    return testing::LeastSeen(job, box.solid, box.pivots, geos).ToCase();
  };
  const double built = seen_of({hinge.box.solid, linkage.pivots});
  const Verdicts lid = CertifyLid(hinge.box.box, hinge.motion, hinge.box.limits);
  const double certified = *Find(lid, Requirement::kLidToCase)->found;
  int signs = 0;
  for (const Row& row : {Row{true, true, 11.0}, Row{true, true, 6.0}, Row{false, false, 11.0},
                         Row{false, false, 6.0}, Row{false, true, 11.0}}) {
    CAPTURE(row.on_case, row.on_lid, row.percent);
    job.plates.on_case = row.on_case;
    job.plates.on_lid = row.on_lid;
    const SeasonAnchors anchors = AnchorsFor(job, linkage.pivots);
    const auto fit =
        FitAt(row.percent, job, hinge.box.box, hinge.box.limits, hinge.motion, anchors);
    REQUIRE(fit);
    const MovedBox moved = MovedByHand(job, hinge.box.solid, linkage.pivots, anchors, row.percent);
    const double seen = seen_of(moved);
    CAPTURE(built, seen, certified, fit->gap_mm);
    CHECK(fit->gap_mm <= seen + 1e-6);
    CHECK(seen <= fit->gap_mm + reserve);
    CHECK(std::abs((fit->gap_mm - certified) - (seen - built)) <= alike);
    if (std::abs(seen - built) > alike) {
      ++signs;
      CHECK((fit->gap_mm > certified) == (seen > built));
    }
    const double strain = CherryStrain(row.percent);
    const double rim = strain * (anchors.case_at.y() - anchors.lid_at.y()) + moved.lid_shift.y();
    CHECK(fit->front_opens_mm == Approx(rim).margin(1e-9));
    CHECK(fit->back_opens_mm == Approx(rim).margin(1e-9));
    // On two plates the linkage is the built one, in bare wood another.
    CHECK((moved.lid_shift.norm() > 0.01) == !(row.on_case && row.on_lid));
  }
  CHECK(signs >= 2);
}

TEST_CASE("pins carried beyond the arms' reach leave no lid to certify") {
  const auto& linkage = testing::ExampleLinkages()[0];
  const testing::HingeCase hinge(linkage.job, linkage.pivots);
  Job job = hinge.box.job;
  job.plates.on_case = false;
  // More than any wood: heights grow by ten times themselves. The case's pins are then 347 mm
  // apart, the lid's 57 mm, and the arms reach over 116 mm together.
  const double percent = 8.0 + 10.0 / 0.00248;
  const auto fit = FitAt(percent, job, hinge.box.box, hinge.box.limits, hinge.motion,
                         AnchorsFor(job, linkage.pivots));
  REQUIRE(fit);
  CHECK(fit->gap_mm == 0.0);
  CHECK(std::isnan(fit->front_opens_mm));
  CHECK(std::isnan(fit->back_opens_mm));
}

TEST_CASE("parts of case and lid know whether they cross an end wall") {
  const testing::HingeCase hinge("sample_chest", testing::ExampleLinkages()[0].pivots);
  const double face = testing::BoxTruth(hinge.box.job).Face();
  int ends = 0, between = 0;
  for (const PartKind kind : {PartKind::kCase, PartKind::kLid}) {
    for (const PartTree* tree : hinge.box.box.Shapes(kind)) {
      for (const Part& part : tree->parts()) {
        const bool beyond = part.z_min_mm >= face - 1e-6 || part.z_max_mm <= -face + 1e-6;
        CHECK(part.end_wall == beyond);
        ++(beyond ? ends : between);
      }
    }
  }
  CHECK(ends >= 2);
  CHECK(between >= 2);
}

TEST_CASE("a wood whose movement nobody knows has no seasons") {
  const auto& linkage = testing::ExampleLinkages()[0];
  testing::HingeCase hinge(linkage.job, linkage.pivots);
  Job job = hinge.box.job;
  job.loads.wood = "moon wood";
  CHECK_FALSE(FitAt(6.0, job, hinge.box.box, hinge.box.limits, hinge.motion, {}));
}

TEST_CASE("every wood of a job has seasons, plywood small ones") {
  const auto& linkage = testing::ExampleLinkages()[0];
  const testing::HingeCase hinge(linkage.job, linkage.pivots);
  const SeasonAnchors anchors{{30.0, -40.0}, {90.0, -10.0}};
  Job job = hinge.box.job;
  Limits limits = hinge.box.limits;
  limits.gap_from_rad = limits.open_rad;  // the seam alone
  for (const Wood& wood : Woods()) {
    CAPTURE(wood.name);
    job.loads.wood = wood.name;
    const auto fit = FitAt(11.0, job, hinge.box.box, limits, hinge.motion, anchors);
    REQUIRE(fit);
    CHECK(std::isnan(fit->gap_mm));
    CHECK(fit->front_opens_mm < 0.0);
    // 0.2 per mille of a length per % of moisture, in 3 %; over 30 mm.
    if (wood.name == "birch plywood") {
      CHECK(fit->front_opens_mm == Approx(-0.0002 * 3.0 * 30.0).epsilon(1e-9));
    }
  }
}

}  // namespace lidwright
