// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/jig.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "arms/hinge_cases.h"
#include "lidwright/geometry/ring.h"
#include "swing/geos_distance.h"

using namespace lidwright;
using namespace lidwright::testing;
using Catch::Matchers::WithinAbs;

namespace {

double Overlap(const Geos& geos, const std::vector<Ring>& p, const std::vector<Ring>& q) {
  GEOSGeometry *a = geos.Region(p), *b = geos.Region(q);
  GEOSGeometry* both = GEOSIntersection_r(geos.context(), a, b);
  double area = -1.0;
  GEOSArea_r(geos.context(), both, &area);
  for (GEOSGeometry* g : {a, b, both}) geos.Drop(g);
  return area;
}

}  // namespace

TEST_CASE("the jig fits in the shut box, lies on the back wall and is level with the rim") {
  const Geos geos;
  int looked = 0;
  for (const NamedPivots& linkage : ExampleLinkages()) {
    const HingeCase hinge(linkage.job, linkage.pivots);
    const HingeSet set = hinge.Make();
    REQUIRE(set.jig);
    const HingePiece& piece = set.jig->piece;
    const Ring ring = Flatten(piece.outline, 0.005);
    REQUIRE_FALSE(FaultOf(ring));
    INFO(linkage.job << " " << linkage.pivots.lid_a.transpose());
    double nearest = 1e300;
    for (int k = 0; k <= 4; ++k) {
      const double z = piece.z_min_mm + (piece.z_max_mm - piece.z_min_mm) * k / 4.0;
      const auto in_case = SectionAt(hinge.box.box.Shapes(PartKind::kCase), z);
      const auto in_lid = SectionAt(hinge.box.box.Shapes(PartKind::kLid), z);
      REQUIRE_FALSE(in_case.empty());
      // Along its back edge it may touch; curved walls are compared every 2 mm.
      CHECK(Overlap(geos, {ring}, in_case) < 0.05);
      CHECK(Overlap(geos, {ring}, in_lid) < 0.05);
      nearest = std::min(nearest, geos.Distance({ring}, in_case));
    }
    CHECK_THAT(nearest, WithinAbs(0.0, 0.01));  // it lies on the wall
    // The level edge, by its points: rim height along the end wall's inner edge.
    double level = 0.0;
    const double rim = RimAtEndWall_mm(hinge.box.solid);
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
      if (std::abs(a.y() - rim) < 1e-9 && std::abs(b.y() - rim) < 1e-9) level += (b - a).norm();
    }
    CHECK(level >= 11.0);
    ++looked;
  }
  CHECK(looked == 9);
}

TEST_CASE("the jig's holes are the four pivots, shut, a snug fit for the pins") {
  for (const NamedPivots& linkage : ExampleLinkages()) {
    const HingeCase hinge(linkage.job, linkage.pivots);
    const HingeSet set = hinge.Make();
    REQUIRE(set.jig);
    const HingePiece& piece = set.jig->piece;
    REQUIRE(piece.holes.size() == 4);
    const std::vector<Vec2> wanted{linkage.pivots.case_a, linkage.pivots.case_b,
                                   linkage.pivots.lid_a, linkage.pivots.lid_b};
    const Ring edge = Flatten(piece.outline, 0.005);
    for (std::size_t i = 0; i < 4; ++i) {
      CHECK(piece.holes[i].centre == wanted[i]);
      CHECK_THAT(2.0 * piece.holes[i].radius_mm - set.hardware->bushing.pin_mm,
                 WithinAbs(0.05, 1e-9));
      CHECK(-SignedDistance({edge}, wanted[i]) - piece.holes[i].radius_mm >= 1.5 - 0.01);
    }
    CHECK(SmallestInsideRadius(piece.outline) >= hinge.box.job.shop.cutter_mm / 2.0 - 1e-9);
    // Every screw of the case plate can be driven with the jig in place.
    for (const Vec2& screw : set.case_plate->screws) {
      const double under = -SignedDistance({edge}, screw);
      double hole = 0.0;
      for (const Circle& drill : piece.drills) {
        if (drill.centre == screw) hole = drill.radius_mm;
      }
      CHECK((under < 0.0 || hole > set.hardware->screw.head_mm / 2.0));
      // No screw's head half under an edge, and a web of 1 mm round each hole.
      if (hole > 0.0) CHECK(under - hole >= 1.0 - 0.01);
      if (hole == 0.0) CHECK(-under >= set.hardware->screw.head_mm / 2.0);
    }
    // The plates' holes are the same places: what the jig sets is what was designed.
    CHECK(FindPiece(set, "case plate")->holes[0].centre == wanted[0]);
    CHECK(FindPiece(set, "lid plate")->holes[1].centre == wanted[3]);
  }
}

TEST_CASE("a jig that no square can set is refused with the number") {
  const NamedPivots linkage = ExampleLinkages()[5];
  const HingeCase hinge(linkage.job, linkage.pivots);
  const HingeSet set = hinge.Make();
  REQUIRE(set.stack);
  Pivots pivots = linkage.pivots;
  pivots.case_a = {26, -20};
  pivots.case_b = {30, -60};
  pivots.lid_a = {26, -4};
  pivots.lid_b = {38, -4};
  std::string fault;
  CHECK_FALSE(MakeJig(hinge.box.job, hinge.box.solid, hinge.box.box, pivots, *set.stack,
                      *set.hardware, std::nullopt, std::nullopt, std::nullopt, &fault));
  CHECK(fault.find("of its edge level with the rim, a square needs 12 mm") != std::string::npos);
}
