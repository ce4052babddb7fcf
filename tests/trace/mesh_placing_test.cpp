// SPDX-License-Identifier: Apache-2.0
// Pairs of meshes that are too large, too small, out of place or no box at all.
#include "lidwright/solid/solid.h"
#include "mesh_jobs.h"

using namespace mesh_jobs;

TEST_CASE("a wrong unit is asked about", "[mesh]") {
  const Chest chest;
  const Mesh box = chest.Body(false, 20), lid = chest.Body(true, 20);
  CHECK(Faults(Made(Scaled(box, 5.0 / 230), Scaled(lid, 5.0 / 230))) ==
        "case.stl: the case would be 5 mm from back to front (did you mean --unit cm (50 mm deep) "
        "or --unit in (127 mm deep) or --unit ft (1524 mm deep)?)\n");
  MeshWish wish = Wish();
  wish.mm_per_unit = 1000;
  CHECK(Faults(Made(Scaled(box, 9.0 / 230), Scaled(lid, 9.0 / 230), wish)) ==
        "case.stl: the case would be 9000 mm from back to front (did you mean --unit cm (90 mm "
        "deep) or --unit in (228.6 mm deep)?)\n");
}

TEST_CASE("a case that is no wider than a board is refused, however thin", "[mesh]") {
  const Chest chest;
  Mesh box = chest.Body(false, 20), lid = chest.Body(true, 20);
  double wide_mm = 0.0;
  for (const Vec3& p : box.points) wide_mm = std::max(wide_mm, 2.0 * p.z());
  for (const double mm : {29.0, 2.0, 1e-3}) {
    Mesh flat_box = box, flat_lid = lid;
    for (Mesh* mesh : {&flat_box, &flat_lid}) {
      for (Vec3& p : mesh->points) p.z() *= mm / wide_mm;
    }
    INFO(mm);
    CHECK(Faults(Made(flat_box, flat_lid)) ==
          "case.stl: the case would be " +
              std::string(mm < 1.0   ? "0"
                          : mm < 9.0 ? "2"
                                     : "29") +
              " mm from end to end (a box is hinged along a long side: is --hinge-side right?)\n");
  }
}

TEST_CASE("a box of 9 m in millimetres is asked about, one that no unit makes a box is not",
          "[mesh]") {
  const Chest chest;
  const Mesh box = chest.Body(false, 20), lid = chest.Body(true, 20);
  CHECK(Faults(Made(Scaled(box, 9000.0 / 230), Scaled(lid, 9000.0 / 230))) ==
        "case.stl: the case would be 9000 mm from back to front (did you mean --unit thou (228.6 "
        "mm deep)?)\n");
  CHECK(Faults(Made(Scaled(box, 1e6), Scaled(lid, 1e6))).find("no usual unit makes a box of it") !=
        std::string::npos);
}

TEST_CASE("files that were swapped, or are one file twice, are asked about", "[mesh]") {
  const Chest chest;
  const Mesh box = chest.Body(false, 20), lid = chest.Body(true, 20);
  CHECK(Faults(Made(lid, box)) ==
        "lid.stl: the lid does not lie above the case with --up z (it lies towards -z: are the two "
        "files the other way round, or did you mean --up -z? The lid must be given shut, in place "
        "on the case)\n");
  CHECK(Faults(Made(box, box)) ==
        "lid.stl: the lid does not lie above the case with --up z (is it the same file twice? The "
        "lid must be given shut, in place on the case)\n");
  // Let into the case, all of it below the rim: no other way up would help.
  CHECK(Faults(Made(box, Moved(Scaled(lid, 0.3), {80, -25, 0}))) ==
        "lid.stl: the lid does not lie above the case with --up z (the lid must be given shut, in "
        "place on the case)\n");
}

TEST_CASE("a lid that meets neither back nor front is refused, one that misses one is said",
          "[mesh]") {
  Chest chest;
  chest.arch = 0;  // the lid slides over the end walls without digging in
  const Mesh box = chest.Body(false, 20), lid = chest.Body(true, 20);
  // Walls of 12: shifted by 27 they are 15 apart at the back.
  CHECK(Faults(Made(box, Moved(lid, {27, 0, 0})))
            .find("the lid does not meet the case's walls between its ends: it comes no nearer "
                  "than 15 mm to the back and ") != std::string::npos);
  const MeshJob overhang = Made(box, Moved(lid, {8, 0, 0}));
  CHECK(Faults(overhang).empty());
  CHECK_FALSE(Says(overhang, "does not meet"));
  // A case whose front is cut down by 40 between its end walls.
  Mesh low = box;
  for (Vec3& p : low.points) {
    if (p.x() > 200 && p.y() > -1 && std::abs(p.z()) < 159) p.y() -= 40;
  }
  const MeshJob made = Made(low, lid);
  CHECK(Faults(made).empty());
  CHECK(Says(made, "the lid does not meet the case's front: it comes no nearer than 40 mm"));
}

TEST_CASE("a lid that is not where a shut lid is, is refused with what is wrong", "[mesh]") {
  const Chest chest;
  const Mesh box = chest.Body(false, 20), lid = chest.Body(true, 20);
  CHECK(Faults(Made(box, Moved(lid, {0, 20, 0}))) ==
        "lid.stl: the lid floats at least 12 mm above the case (give the lid shut, or set it down "
        "with a negative --lift)\n");
  CHECK(Faults(Made(box, Moved(lid, {0, 7, 0}))).find("the lid floats: it comes no nearer") !=
        std::string::npos);
  CHECK(
      Faults(Made(box, Moved(lid, {0, -0.2, 0}))).find("lid and case overlap by 0.2 mm near x =") !=
      std::string::npos);
  CHECK(Faults(Made(box, Moved(lid, {300, 0, 0}))) ==
        "lid.stl: the lid does not lie over the case: front to back its middle is 300 mm away from "
        "the case's (export both in place, the lid shut)\n");
  CHECK(Faults(Made(box, Moved(lid, {0, 0, 40}))).find("the lid ends 40 mm before the case's") !=
        std::string::npos);
  CHECK(Faults(Made(lid, box)).find("the lid does not lie above the case with --up z") !=
        std::string::npos);
  MeshWish wish = Wish();
  wish.up = MeshAxis::kX;
  CHECK(Faults(Made(box, lid, wish)).find("did you mean --up z?") != std::string::npos);

  wish = Wish();
  wish.lift_lid_mm = -2.5;
  const MeshJob lowered = Made(box, Moved(lid, {0, 2.5, 0}), wish);
  REQUIRE(Faults(lowered).empty());
  CHECK(lowered.job->lid.seam_gap_mm == 0.0);
}

TEST_CASE("a seam gap is kept, and a lid that only just overlaps is raised and said", "[mesh]") {
  const Chest chest;
  const Mesh box = chest.Body(false, 20), lid = chest.Body(true, 20);
  const MeshJob gap = Made(box, Moved(lid, {0, 0.75, 0}));
  REQUIRE(Faults(gap).empty());
  CHECK(gap.job->lid.seam_gap_mm == Approx(0.75).margin(0.0011));
  CHECK(Says(gap, "clear of the case"));
  const MeshJob raised = Made(box, Moved(lid, {0, -0.03, 0}));
  REQUIRE(Faults(raised).empty());
  CHECK(Says(raised, "the lid is raised by 0.05"));
  CHECK(raised.error_mm >= 0.05 + 0.005);
  CHECK(FaultsOf(*raised.job, MakeSolid(*raised.job)).empty());
}

TEST_CASE("a lid a little shorter than the case is taken as going on, and said", "[mesh]") {
  Chest chest, shorter;
  chest.bow = chest.arch = shorter.bow = shorter.arch = 0;
  shorter.width = 338;
  const MeshJob made = Made(chest.Body(false, 20), shorter.Body(true, 20));
  REQUIRE(Faults(made).empty());
  CHECK(Says(made, "the lid ends 1 mm before the case does and is taken as going on to its end"));
  CHECK(made.job->stations.front().z_mm == -170);
  for (const auto& s : made.job->stations) CHECK(s.lid_rings.size() == 1);
}

TEST_CASE("what is no box is refused with what it lacks", "[mesh]") {
  Chest chest;
  Mesh block;
  mesh_maker::AddBody(
      block, {{-170, mesh_maker::Box(0, -120, 220, 0)}, {170, mesh_maker::Box(0, -120, 220, 0)}});
  chest.bow = chest.arch = 0;
  const Mesh lid = chest.Body(true, 20);
  CHECK(Faults(Made(block, lid)) ==
        "case.stl: the case has no room inside (give the hollow case, not its outer form)\n");
  // Boards that overlap instead of being joined.
  Mesh boards;
  mesh_maker::AddBody(
      boards, {{-170, mesh_maker::Box(0, -120, 12, 0)}, {170, mesh_maker::Box(0, -120, 12, 0)}});
  mesh_maker::AddBody(boards, {{-170, mesh_maker::Box(-5, -110, 220, -98)},
                               {170, mesh_maker::Box(-5, -110, 220, -98)}});
  CHECK(Faults(Made(boards, lid))
            .find("bodies that overlap or touch must be joined into one before exporting") !=
        std::string::npos);
}
