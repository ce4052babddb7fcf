// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/plates.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "arms/hinge_cases.h"
#include "lidwright/geometry/hull.h"
#include "lidwright/geometry/ring.h"
#include "lidwright/job/read_job.h"
#include "swing/geos_distance.h"

using namespace lidwright;
using namespace lidwright::testing;
using Catch::Matchers::WithinAbs;
using Catch::Matchers::WithinRel;

namespace {

// Everything within `half` of the tree's lines, by GEOS.
GEOSGeometry* Buffer(const Geos& geos, const StripTree& tree, double half) {
  std::vector<GEOSGeometry*> lines;
  for (const auto& [a, b] : tree.lines) {
    GEOSCoordSequence* points = GEOSCoordSeq_create_r(geos.context(), 2, 2);
    GEOSCoordSeq_setXY_r(geos.context(), points, 0, tree.points[a].x(), tree.points[a].y());
    GEOSCoordSeq_setXY_r(geos.context(), points, 1, tree.points[b].x(), tree.points[b].y());
    lines.push_back(GEOSGeom_createLineString_r(geos.context(), points));
  }
  GEOSGeometry* all = GEOSGeom_createCollection_r(
      geos.context(), GEOS_MULTILINESTRING, lines.data(), static_cast<unsigned>(lines.size()));
  GEOSGeometry* buffer = GEOSBuffer_r(geos.context(), all, half, 200);
  geos.Drop(all);
  return buffer;
}

double Area(const Geos& geos, GEOSGeometry* geometry) {
  double area = -1.0;
  GEOSArea_r(geos.context(), geometry, &area);
  geos.Drop(geometry);
  return area;
}

}  // namespace

TEST_CASE("a strip plate is all within half its width of its lines, and fillets in its corners") {
  const Geos geos;
  std::mt19937_64 random(7);
  const auto unit = [&] { return static_cast<double>(random() >> 11) * 0x1.0p-53; };
  int made = 0;
  for (int round = 0; round < 300; ++round) {
    // A row with legs of two pieces each, up and down.
    StripTree tree{{{0, 0}, {30 + 20 * unit(), 0}, {90, 0}}, {{0, 1}, {1, 2}}};
    for (const std::size_t foot : {std::size_t{0}, std::size_t{1}, std::size_t{2}}) {
      if (unit() < 0.3) continue;
      const double side = unit() < 0.5 ? -1.0 : 1.0;
      const Vec2 knee = tree.points[foot] + Vec2(20 * unit() - 10, side * (20 + 20 * unit()));
      const Vec2 tip = knee + Vec2(30 * unit() - 15, side * (10 + 20 * unit()));
      tree.points.push_back(knee);
      tree.points.push_back(tip);
      const std::size_t n = tree.points.size();
      tree.lines.push_back({foot, n - 2});
      tree.lines.push_back({n - 2, n - 1});
    }
    const double half = 2.0 + 3.0 * unit(), inside = 1.0 + unit();
    const auto outline = StripOutline(tree, half, inside);
    if (!outline) continue;
    ++made;
    CHECK(SmallestInsideRadius(*outline) >= inside * (1.0 - 1e-9));
    GEOSGeometry* plate = geos.Region({Flatten(*outline, 1e-4)});
    GEOSGeometry* buffer = Buffer(geos, tree, half);
    const double missing = Area(geos, GEOSDifference_r(geos.context(), buffer, plate));
    const double extra = Area(geos, GEOSDifference_r(geos.context(), plate, buffer));
    geos.Drop(plate);
    geos.Drop(buffer);
    CHECK(missing < 0.02);
    // Each fillet adds f² (tan(t/2) − t/2) at a corner turning t: for these, less than 4 f².
    CHECK(extra < 12 * 4.0 * inside * inside);
    const double exact = SignedArea(*outline);
    CHECK(exact > 0.0);
  }
  CHECK(made > 100);
}

TEST_CASE("a straight strip and a right-angled one have the areas of the textbook") {
  const double r = 4.0, f = 1.5;
  const StripTree straight{{{0, 0}, {30, 0}}, {{0, 1}}};
  CHECK_THAT(SignedArea(*StripOutline(straight, r, f)), WithinRel(2 * r * 30 + kPi * r * r, 1e-12));
  // An elbow: two arms to the corner's middle, round ends and outer corner, a square inner corner
  // that overlaps itself, and a fillet of f² (1 − π/4).
  const StripTree elbow{{{0, 0}, {30, 0}, {30, 40}}, {{0, 1}, {1, 2}}};
  const double area =
      2 * r * (30 + 40) + kPi * r * r / 2 * 2 - r * r + kPi * r * r / 4 + f * f * (1 - kPi / 4);
  CHECK_THAT(SignedArea(*StripOutline(elbow, r, f)), WithinRel(area, 1e-12));
}

TEST_CASE("strips that leave their corners no room or run into each other are refused") {
  const StripTree stub{{{0, 0}, {30, 0}, {60, 0}, {30, 3}}, {{0, 1}, {1, 2}, {1, 3}}};
  CHECK_FALSE(StripOutline(stub, 4.0, 1.5));
  const StripTree hook{{{0, 0}, {40, 0}, {40, 9}, {0, 9}}, {{0, 1}, {1, 2}, {2, 3}}};
  CHECK_FALSE(StripOutline(hook, 5.0, 1.5));
  CHECK(StripOutline(hook, 2.0, 1.5));
}

TEST_CASE("a hull plate's area follows Steiner's formula") {
  const std::vector<Vec2> points{{0, 0}, {40, 5}, {30, 33}, {11, 20}, {20, 12}};
  const double r = 6.0;
  const Ring hull = ConvexHull(points);
  double around = 0.0;
  for (std::size_t i = 0; i < hull.size(); ++i) {
    around += (hull[(i + 1) % hull.size()] - hull[i]).norm();
  }
  CHECK_THAT(SignedArea(*HullOutline(points, r)),
             WithinRel(SignedArea(hull) + around * r + kPi * r * r, 1e-12));
}

TEST_CASE("plates hold their holes with the web that their material needs") {
  const Geos geos;
  int looked = 0;
  for (const NamedPivots& linkage : ExampleLinkages()) {
    const HingeCase hinge(linkage.job, linkage.pivots);
    REQUIRE(hinge.arms.met);
    const HingeSet set = hinge.Make();
    INFO(linkage.job << (set.faults.empty() ? "" : set.faults[0]));
    // A screw's whole head lies in the plate with half a millimetre around it; round a pin there is
    // as much metal as half its diameter (aluminium, hardware's own figure is checked there).
    REQUIRE(set.stack->plate_material == "aluminium");
    const double for_screw = set.hardware->screw.head_mm / 2.0 + 0.5;
    const double for_pin = set.hardware->bushing.pin_mm;
    for (const char* name : {"lid plate", "case plate"}) {
      const HingePiece* plate = FindPiece(set, name);
      REQUIRE(plate);
      const Ring edge = Flatten(plate->outline, 0.001);
      CHECK(plate->holes.size() == (std::string(name) == "lid plate" ? 2 : 3));
      CHECK(plate->drills.size() == (std::string(name) == "lid plate" ? 2 : 3));
      std::vector<Circle> all = plate->holes;
      all.insert(all.end(), plate->drills.begin(), plate->drills.end());
      for (std::size_t i = 0; i < all.size(); ++i) {
        ++looked;
        const double inside = -SignedDistance({edge}, all[i].centre);
        const bool pin = i < plate->holes.size();
        INFO(name << " hole " << i << " inside " << inside);
        CHECK(inside >= (pin ? for_pin : for_screw) - 0.002);
        for (std::size_t j = 0; j < i; ++j) {
          const double web =
              (all[i].centre - all[j].centre).norm() - all[i].radius_mm - all[j].radius_mm;
          CHECK(web > 1.0);
        }
      }
      CHECK(SmallestInsideRadius(plate->outline) >= hinge.box.job.shop.cutter_mm / 2.0 - 1e-9);
    }
    // Hidden: the case plate stays under the rim, the packing over it in the lid.
    const double rim = RimAtEndWall_mm(hinge.box.solid);
    for (const Vec2& p : Flatten(FindPiece(set, "case plate")->outline, 0.01)) CHECK(p.y() < rim);
    for (const Vec2& p : Flatten(FindPiece(set, "packing of the lid plate")->outline, 0.01)) {
      CHECK(p.y() > rim);
    }
  }
  CHECK(looked == 9 * 10);
}

TEST_CASE("room on the case's end wall ends at its rim, however the rim is bowed") {
  long held = 0, low = 0;
  for (const char* name : {"collared_chest", "sample_chest"}) {
    const HingeCase hinge(ExampleJob(name), ExampleLinkages()[0].pivots);
    const CaseRoom room(hinge.box.arms, hinge.swing.linkage());
    const std::vector<Ring>& wall = EndWallBeside(hinge.box.solid).case_rings;
    const double highest = RimAtEndWall_mm(hinge.box.solid);
    for (double x = 0.0; x < hinge.box.job.case_form.depth_mm; x += 3.0) {
      for (double y = -20.0; y < highest; y += 1.0) {
        const double there = room.At({x, y});
        if (there <= 0.0) continue;
        ++held;
        // Every way that far from there is still wood: asked of points alone.
        for (int k = 0; k < 64; ++k) {
          const double turn = 2.0 * kPi * k / 64;
          const Vec2 edge(x + there * std::cos(turn), y + there * std::sin(turn));
          REQUIRE(Contains(wall, edge));
          low += edge.y() > highest - 3.0 ? 1 : 0;
        }
      }
    }
  }
  CHECK(held > 500);
  CHECK(low > 100);
}

TEST_CASE("a cutter too fat for a plate's corners finds another plate or says why") {
  Job job = ExampleJob("sample_chest");
  const NamedPivots linkage = ExampleLinkages()[0];
  const HingeCase usual(job, linkage.pivots);
  Job wide = job;
  wide.shop.cutter_mm = 8.0;
  const HingeCase hinge(wide, linkage.pivots);
  // The arms do not care in this test: those of the usual cutter are taken.
  const HingeSet set =
      MakeHingeSet(hinge.box.arms, hinge.swing, *usual.arms.arm_a, *usual.arms.arm_b);
  if (set.lid_plate) {
    CHECK(SmallestInsideRadius(set.lid_plate->outline) >= 4.0 - 1e-9);
  } else {
    REQUIRE(Mentions(set.faults, "lid plate: "));
  }
}

TEST_CASE("a lid plate holds both its pins and its screws, however long its row is to be") {
  // A big chest's: its strips bend where the row goes over to the second pin.
  const auto reading = ReadJob(
      R"({"units":"mm","case":{"width":1000,"depth":450,"height":400,"wall":18,"back_bow":12},
      "lid":{"rim":25,"crown":90},"arms":{"material":"aluminium","thickness":2,"width":10,
      "bushing":5,"eye":10},"plates":{"case_thickness":3,"lid_thickness":3}})",
      "chest.json");
  REQUIRE(reading.job);
  const HingeCase chest(*reading.job, {{25.5, -63.5}, {32.5, -6.0}, {117.5, -66.5}, {91.0, 2.0}});
  // Crossings of a line from the point to the right, counted.
  const auto inside = [](const Ring& ring, const Vec2& p) {
    bool odd = false;
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 &a = ring[i], b = ring[(i + 1) % ring.size()];
      if ((a.y() > p.y()) == (b.y() > p.y())) continue;
      if (a.x() + (b.x() - a.x()) * (p.y() - a.y()) / (b.y() - a.y()) > p.x()) odd = !odd;
    }
    return odd;
  };
  int made = 0;
  for (const double row : {20.0, 35.0, 50.0, 62.0, 80.0}) {
    HingeSetOptions options;
    options.lid_row_mm = row;
    const HingeSet set = chest.Make(options);
    if (!set.lid_plate) continue;
    ++made;
    CAPTURE(row);
    const Plate& plate = *set.lid_plate;
    CHECK((plate.screws[1] - plate.screws[0]).norm() >= row - 1e-9);
    const Ring edge = Flatten(plate.outline, 0.01);
    const Pivots& pivots = chest.motion.pivots();
    for (const Vec2& at : {pivots.lid_a, pivots.lid_b, plate.screws[0], plate.screws[1]}) {
      for (int i = 0; i < 24; ++i) {
        const Vec2 way(std::cos(kPi * i / 12.0), std::sin(kPi * i / 12.0));
        CHECK(inside(edge, at + (plate.half_mm - 0.05) * way));
      }
    }
  }
  CHECK(made >= 3);
}

TEST_CASE("a lid plate that finds no way says how wide a strip would") {
  const NamedPivots linkage = ExampleLinkages()[0];
  const HingeCase hinge(linkage.job, linkage.pivots);
  PlateNeeds needs = NeedsOf(hinge.box.job, *hinge.Make().hardware);
  const auto yes = [](const Plate&) { return true; };
  std::string fault;
  REQUIRE(ShapeLidPlate(hinge.box.arms, hinge.motion, needs, {}, yes, &fault));
  needs.pin_edge_mm = 20.0;
  CHECK_FALSE(ShapeLidPlate(hinge.box.arms, hinge.motion, needs, {}, yes, &fault));
  CHECK(
      fault.find("lid plate: no strip of 40 mm, which its pin and screws need, comes from the lid "
                 "pivot of arm ") == 0);
  const std::size_t at = fault.rfind("; ");
  REQUIRE(at != std::string::npos);
  const double fits = std::stod(fault.substr(at + 2));
  CHECK(fits < 40.0);
  CHECK(fits >= 7.0);  // plates of this width are made
  needs.pin_edge_mm = 3.5;
  const auto no = [](const Plate&) { return false; };
  CHECK_FALSE(ShapeLidPlate(hinge.box.arms, hinge.motion, needs, {}, no, &fault));
  CHECK(fault.find("but no plate for both") != std::string::npos);
  CHECK_FALSE(
      ShapeCasePlate(hinge.box.arms, hinge.motion, needs, {{13.0, -30.0}}, {}, yes, &fault));
  CHECK(fault.find("case plate: the stop at (13, -30) has ") == 0);
}
