// SPDX-License-Identifier: Apache-2.0
#include "lidwright/cutting/cut_set.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "lidwright/cutting/parts_list.h"
#include "made_up_pieces.h"
#include "real_sets.h"

namespace lidwright {
namespace {

std::vector<HingePiece> Pieces(std::size_t example) {
  return testing::MadeUpPieces(testing::MakeDesign(testing::Examples().at(example)));
}

TEST_CASE("left and right are exact mirror images, to the last bit") {
  std::size_t compared = 0;
  for (std::size_t e = 0; e < testing::Examples().size(); ++e) {
    for (const HingePiece& piece : Pieces(e)) {
      const CutPart left = CutPiece(piece, Hand::kLeft), right = CutPiece(piece, Hand::kRight);
      const auto &u = left.outline.vertices, &v = right.outline.vertices;
      REQUIRE(u.size() == v.size());
      for (std::size_t i = 0; i < u.size(); ++i) {
        const OutlineVertex& w = v[u.size() - 1 - i];
        CHECK(w.point.x() == -u[i].point.x());
        CHECK(w.point.y() == u[i].point.y());
        // The edge from u[i] to the next runs back from the next's image to u[i]'s.
        CHECK(v[(2 * u.size() - 2 - i) % u.size()].bulge == u[i].bulge);
      }
      for (std::size_t i = 0; i < left.holes.size(); ++i) {
        CHECK(right.holes[i].centre.x() == -left.holes[i].centre.x());
        CHECK(right.holes[i].radius_mm == left.holes[i].radius_mm);
      }
      CHECK(SignedArea(right.outline) == Approx(SignedArea(left.outline)).epsilon(1e-12));
      ++compared;
    }
  }
  CHECK(compared >= 60);
}

TEST_CASE("the set has every piece of both ends once, grouped by material and thickness") {
  for (std::size_t e = 0; e < testing::Examples().size(); ++e) {
    const std::vector<HingePiece> pieces = Pieces(e);
    const CutSet set = MakeCutSet(pieces, {});
    std::size_t wanted = 0, found = 0, placed = 0;
    for (const HingePiece& piece : pieces) {
      if (piece.cut_from_sheet) wanted += static_cast<std::size_t>(CountOf(piece));
    }
    for (const CutGroup& group : set.groups) {
      found += group.parts.size();
      placed += group.nest.placements.size();
      for (const NestPart& part : group.parts) {
        CHECK(part.grain.has_value() == (group.material == "birch plywood"));
      }
    }
    CHECK(wanted == 9);  // arms and plates twice, the jig once
    CHECK(found == wanted);
    CHECK(placed == wanted);
    CHECK(set.faults.empty());
  }
}

TEST_CASE("files: each part and each sheet, as DXF and SVG, with paths if asked for") {
  const std::vector<HingePiece> pieces = Pieces(0);
  CutWish wish;
  const CutSet set = MakeCutSet(pieces, wish);
  std::vector<CutFault> faults;
  const auto plain = CutFiles(set, wish, &faults);
  for (const char* name : {"arm_a_left.dxf", "arm_a_left.svg", "arm_a_right.dxf", "arm_b_left.dxf",
                           "case_plate_left.svg", "lid_plate_right.dxf", "closed-position_jig.dxf",
                           "sheet_birch_plywood_3_mm_1.dxf"}) {
    INFO(name);
    CHECK(plain.count(name) == 1);
  }
  wish.paths = true;
  const auto with_paths = CutFiles(set, wish, &faults);
  CHECK(faults.empty());
  CHECK(with_paths.size() == 2 * plain.size());
  wish.cutter_mm = 4.0;  // the lid plate's inside curve has a radius of 1.9
  const auto fat = CutFiles(set, wish, &faults);
  CHECK(fat.count("arm_a_left_path.dxf") == 1);
  CHECK(fat.count("lid_plate_left_path.dxf") == 0);
  REQUIRE(!faults.empty());
  CHECK(faults[0].part == "lid plate, left");
  CHECK(faults[0].needed_mm == 2.0);
}

TEST_CASE("too fat a cutter and too small a sheet are said of the set, each with the part") {
  CutWish wish;
  wish.cutter_mm = 6.0;
  wish.sheet_width_mm = 80.0;
  wish.sheet_height_mm = 60.0;
  const CutSet set = MakeCutSet(Pieces(0), wish);
  std::size_t radius = 0, stock = 0;
  for (const CutFault& fault : set.faults) {
    CHECK(fault.what.find(fault.part) == 0);
    radius += fault.kind == CutFaultKind::kInsideRadius;
    stock += fault.kind == CutFaultKind::kStock;
  }
  CHECK(radius == 1);
  CHECK(stock == 5);  // arm B and the lid plate twice, the jig once
}

TEST_CASE("the parts list counts both ends, and the lengths to saw add up") {
  std::vector<HingePiece> pieces;
  HingePiece arm;
  arm.name = "arm, \"A\"";
  arm.outline = {{{{0, 0}, 0}, {{30, 40}, 0}, {{22, 46}, 0}, {{-8, 6}, 0}}};  // 50 by 10, aslant
  arm.material = "brass";
  arm.z_max_mm = 2.0;
  pieces.push_back(arm);
  pieces.push_back(testing::TurnedPiece("case pin", PieceKind::kPin, Body::kCase, {0, 0}, 3.2, 0, 0,
                                        10, "steel"));
  pieces.push_back(
      testing::TurnedPiece("lid pin", PieceKind::kPin, Body::kLid, {0, 0}, 3.2, 0, 0, 12, "steel"));
  pieces.push_back(testing::TurnedPiece("spacer", PieceKind::kSpacer, Body::kLid, {0, 0}, 7, 3.3, 0,
                                        4, "brass"));
  const std::vector<HardwareLine> buy{{"case pin", 1, 18.0, "3.2 mm steel rod"},
                                      {"glue", 1, kUnset, "a tube"}};
  const PartsList list = MakePartsList(pieces, buy, false);
  CHECK(
      PartsListCsv(list, false) ==
      "list,item,part,count,size,material,remark\r\n"
      "parts,1,\"arm, \"\"A\"\"\",2,\"50 mm by 10 mm, 2 mm thick\",brass,half of them mirrored\r\n"
      "parts,2,pin,2,\"3.2 mm, 18 mm long\",steel,case pin\r\n"
      "parts,3,pin,2,\"3.2 mm, 12 mm long\",steel,lid pin\r\n"
      "parts,4,spacer,2,\"7 mm, bored 3.3 mm, 4 mm long\",brass,spacer\r\n"
      "parts,5,glue,2,a tube,,\r\n"
      "saw,,3.2 mm steel rod,2,18 mm,,case pin\r\n"
      "saw,,3.2 mm steel rod,2,12 mm,,lid pin\r\n"
      "saw,,3.2 mm steel rod,1,68 mm,,\"all of it, with 2 mm lost at each cut\"\r\n"
      "saw,,\"7 mm brass rod or tube, bored 3.3 mm\",2,4 mm,,spacer\r\n"
      "saw,,\"7 mm brass rod or tube, bored 3.3 mm\",1,12 mm,,\"all of it, with 2 mm lost at each "
      "cut\"\r\n");
}

TEST_CASE("a real hinge's lists have every part of both ends, and every pin's length to saw") {
  for (const testing::RealSet& real : testing::RealSets()) {
    INFO(real.name);
    const HingeSet& set = real.set;
    REQUIRE(set.complete);
    const bool inches = real.design.job.inches;
    const CutSet cut = MakeCutSet(set.pieces, CutWishFor(real.design.job));
    const PartsList list = MakePartsList(set.pieces, set.buy, inches, &cut);
    int listed = 0, wanted = 0;
    for (const PartsRow& row : list.parts) {
      CHECK(row.count > 0);
      if (row.part != "stop rod") listed += row.count;
    }
    for (const HingePiece& piece : set.pieces) {
      const bool bare_rod = piece.kind == PieceKind::kStop && piece.holes.empty();
      if (!bare_rod) wanted += CountOf(piece);
    }
    CHECK(listed == wanted);
    // All pins and the stop's rod come from one rod; their lengths are the stack's.
    double rod = 0.0;
    std::size_t rods = 0, pins = 0;
    for (const SawRow& row : list.saw) {
      if (row.stock.find("steel rod") == std::string::npos) continue;
      ++rods;
      rod = row.total_mm;
      for (const SawRow::Cut& one : row.cuts) {
        for (const PivotStack& stack : set.stack->pivots) {
          if (one.for_what.find(stack.pivot) == std::string::npos) continue;
          CHECK(one.length_mm == Approx(stack.pin_length_mm).margin(0.005));
          ++pins;
        }
      }
    }
    CHECK(rods == 1);
    CHECK(pins == 4);
    double needed = 0.0;
    for (const PivotStack& stack : set.stack->pivots) needed += 2.0 * (stack.pin_length_mm + 2.0);
    const StackPlan& plan = *set.stack;
    if (set.stop) {
      needed += 2.0 * (plan.case_face_mm + plan.pin_in_wall_mm - set.stop->span.z_min_mm + 2.0);
    }
    CHECK(rod == Approx(needed).margin(0.05));
    CHECK(list.sheets.size() == cut.groups.size());
  }
}

TEST_CASE("what an inch shop calls its rod, tube and sheet") {
  const testing::RealSet real = testing::RealSets().back();
  REQUIRE(real.design.job.inches);
  const CutSet cut = MakeCutSet(real.set.pieces, CutWishFor(real.design.job));
  const std::string csv =
      PartsListCsv(MakePartsList(real.set.pieces, real.set.buy, true, &cut), true);
  for (const char* name : {"3/32 in steel rod", "1/8 in brass tube, wall 0.014 in",
                           "\"birch plywood, 1/16 in thick\"", "24 in by 12 in", "#2 x 1/2 in"}) {
    INFO(name << "\n" << csv);
    CHECK(csv.find(name) != std::string::npos);
  }
}

TEST_CASE("a real hinge can be cut with its own cutter, not with a fat one or from a scrap") {
  for (const testing::RealSet& real : testing::RealSets()) {
    INFO(real.name);
    CutWish wish = CutWishFor(real.design.job);
    wish.paths = true;
    std::vector<CutFault> faults = MakeCutSet(real.set.pieces, wish).faults;
    CutFiles(MakeCutSet(real.set.pieces, wish), wish, &faults);
    CHECK(faults.empty());
    wish.sheet_width_mm = 40.0;
    wish.sheet_height_mm = 25.0;
    wish.cutter_mm = 200.0;
    std::size_t radius = 0, stock = 0;
    for (const CutFault& fault : MakeCutSet(real.set.pieces, wish).faults) {
      CHECK(fault.what.find(fault.part + ": ") == 0);
      CHECK(fault.what.find(" fits") != std::string::npos);
      radius += fault.kind == CutFaultKind::kInsideRadius;
      stock += fault.kind == CutFaultKind::kStock;
    }
    CHECK(radius >= 1);
    CHECK(stock >= 5);
  }
}

}  // namespace
}  // namespace lidwright
