// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/wood_movement.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/job/wood_grain.h"
#include "lidwright/job/woods.h"

using namespace lidwright;
using Catch::Matchers::WithinAbs;

TEST_CASE("every solid wood that a job may name has its grain's figures, plywood has none") {
  int woods = 0;
  for (const Wood& wood : Woods()) {
    const WoodGrain* grain = FindWoodGrain(wood.name);
    INFO(wood.name);
    if (wood.name == "birch plywood") {
      CHECK(grain == nullptr);
      continue;
    }
    REQUIRE(grain != nullptr);
    ++woods;
    // The Wood Handbook's ranges of across over along (ch. 5, from memory): tension and bending
    // 0.04 to 0.10, compression 0.03 to 0.40; tangential movement is the larger in every species.
    CHECK(grain->tension_across_mpa / wood.bending_mpa > 0.04);
    CHECK(grain->tension_across_mpa / wood.bending_mpa < 0.10);
    CHECK(grain->compression_across_mpa / wood.compression_mpa > 0.03);
    CHECK(grain->compression_across_mpa / wood.compression_mpa < 0.40);
    CHECK(grain->tangential_per_percent > grain->radial_per_percent);
    // MOE and MOR go together: their ratio is 90 to 160 in every hardwood of Table 5-3a.
    CHECK(grain->modulus_mpa / wood.bending_mpa > 90.0);
    CHECK(grain->modulus_mpa / wood.bending_mpa < 160.0);
  }
  CHECK(woods == 9);
  CHECK(WoodGrains().size() == 9);
}

TEST_CASE("coefficients of movement are those of the Wood Handbook's table 13-5") {
  // READ (a page that reproduces FPL-GTR-190, Table 13-5), tangential then radial.
  struct Row {
    const char* name;
    double tangential, radial;
  };
  for (const Row& row : {Row{"white ash", 0.00274, 0.00169},
                         {"yellow birch", 0.00338, 0.00256},
                         {"black cherry", 0.00248, 0.00126},
                         {"hard maple", 0.00353, 0.00165},
                         {"red oak", 0.00369, 0.00158},
                         {"white oak", 0.00365, 0.00180},
                         {"black walnut", 0.00274, 0.00190}}) {
    CHECK(FindWoodGrain(row.name)->tangential_per_percent == row.tangential);
    CHECK(FindWoodGrain(row.name)->radial_per_percent == row.radial);
  }
}

TEST_CASE("movement of a board is the handbook's and a page's worked one") {
  // 220 mm of flat-sawn cherry over 5 %: 2.7 mm.
  CHECK_THAT(MovementAcross_mm(220.0, FindWoodGrain("black cherry")->tangential_per_percent, 6, 11),
             WithinAbs(2.7, 0.05));
  // READ (a floor layer's page): mesquite 0.00129, 5 in, from 6 to 9 %: 0.019 in.
  CHECK_THAT(MovementAcross_mm(5.0, 0.00129, 6.0, 9.0), WithinAbs(0.019, 0.0005));
}

TEST_CASE("boards move across their grain and not along it") {
  const double c = FindWoodGrain("white oak")->tangential_per_percent * 3.0;
  Boards boards;
  boards.wood = "white oak";
  SeasonStrain strain = StrainOf(boards, 8.0, 11.0);
  CHECK(strain.ends.x() == 0.0);  // the box gets no deeper …
  CHECK_THAT(strain.ends.y(), WithinAbs(c, 1e-15));
  CHECK_THAT(strain.between.y(), WithinAbs(c, 1e-15));
  boards.ends = GrainRun::kHeight;  // … but with upright boards it does, and the walls go along
  strain = StrainOf(boards, 8.0, 11.0);
  CHECK_THAT(strain.ends.x(), WithinAbs(c, 1e-15));
  CHECK(strain.ends.y() == 0.0);
  CHECK_THAT(strain.between.x(), WithinAbs(c, 1e-15));
  // A glued top of another grain pushes the walls apart between ends that do not move.
  boards.ends = GrainRun::kDepth;
  boards.top_floats = false;
  CHECK_THAT(StrainOf(boards, 8.0, 11.0).between.x(), WithinAbs(c, 1e-15));
  CHECK(StrainOf(boards, 8.0, 11.0).ends.x() == 0.0);
  // Drying is the same backwards; quarter-sawn boards move by the radial coefficient.
  CHECK(StrainOf(boards, 8.0, 6.0).ends.y() < 0.0);
  boards.sawn = Sawn::kQuarter;
  CHECK_THAT(StrainOf(boards, 8.0, 11.0).ends.y(), WithinAbs(0.0018 * 3.0, 1e-15));
  // One piece with its grain side to side moves both ways in the side view.
  boards.ends = boards.long_walls = GrainRun::kWidth;
  CHECK(StrainOf(boards, 8.0, 11.0).ends.x() == StrainOf(boards, 8.0, 11.0).ends.y());
  // Plywood hardly moves.
  boards.wood = "birch plywood";
  CHECK(std::abs(StrainOf(boards, 6.0, 11.0).ends.y()) < 0.0015);
  boards.wood = "cheese";
  CHECK_THROWS_AS(StrainOf(boards, 6.0, 11.0), ContractError);
}

TEST_CASE("a seam whose case plate hangs low bears harder when damp and opens when dry") {
  // Plate's screws 40 mm under the rim, the lid plate's 8 mm over it, both of flat-sawn cherry: the
  // rim of the case rises by 40 C ΔM, the lid's goes down by 8 C ΔM.
  const Boards cherry;
  const SeasonAnchors anchors{{60.0, -40.0}, {80.0, 8.0}};
  const double c = 0.00248;
  for (const double damp : {11.0, 6.0}) {
    const SeasonStrain strain = StrainOf(cherry, 8.0, damp);
    const double opens = SeamOpens_mm({200.0, 0.0}, strain.ends, strain.ends, anchors);
    CHECK_THAT(opens, WithinAbs(-48.0 * c * (damp - 8.0), 1e-12));
  }
  // The field as a whole: lengths across grow by the strain whatever the anchor, areas with them.
  const Ring board{{0, 0}, {200, 0}, {200, 100}, {0, 100}};
  const Ring moved = Swollen(board, {0.0, 0.01}, {17.0, 23.0});
  CHECK_THAT((moved[3] - moved[0]).norm(), WithinAbs(101.0, 1e-12));
  CHECK_THAT((moved[1] - moved[0]).norm(), WithinAbs(200.0, 1e-12));
  CHECK(Swollen(Vec2(17.0, 23.0), Vec2(0.1, 0.1), Vec2(17.0, 23.0)) == Vec2(17.0, 23.0));
}
