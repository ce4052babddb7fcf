// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <catch2/catch.hpp>
#include <limits>

#include "design/examples.h"
#include "lidwright/arms/shop_fasteners.h"
#include "lidwright/arms/shop_sheets.h"
#include "lidwright/design/sized_design.h"
#include "lidwright/job/read_job.h"
#include "lidwright/job/read_pivots.h"
#include "lidwright/report/hinge_json.h"

// Arms' sizes that the job leaves open.

using namespace lidwright;
using namespace lidwright::testing;

namespace {

Job Read(const std::string& text) {
  const JobReading reading = ReadJob(text, "box.json");
  REQUIRE(reading.job);
  return *reading.job;
}

// A big chest of oak, whose lid straps of thin plywood do not bear.
const char* const kBlanketChest =
    R"({"units":"mm","case":{"width":1000,"depth":450,"height":400,"wall":18,"back_bow":12},
        "lid":{"rim":25,"crown":90},"loads":{"wood":"white oak"}})";

DesignOptions Few() {
  DesignOptions options;
  options.explain = false;
  return options;
}

}  // namespace

TEST_CASE("what a job says of its arms is given, what it leaves out is open", "[design]") {
  const Job open = Read(kBlanketChest);
  CHECK((open.arms.open.material && open.arms.open.thickness && open.arms.open.width &&
         open.arms.open.bushing && open.arms.open.eye));
  const Job wide = Read(
      R"({"units":"mm","case":{"width":300,"depth":200,"height":100,"wall":10},
          "lid":{"rim":20,"crown":30},"arms":{"width":12,"material":"brass"}})");
  CHECK_FALSE(wide.arms.open.width);
  CHECK_FALSE(wide.arms.open.material);
  CHECK(wide.arms.open.thickness);
}

TEST_CASE("a heavy lid gets arms that hold in use, of a sheet that is sold", "[design][slow]") {
  const Job job = Read(kBlanketChest);
  const Design thin = MakeDesign(BoxModel(job), Few());
  REQUIRE_FALSE(thin.hinges.empty());
  REQUIRE(HoldsTimes(*thin.hinges[0].forces, false) < 1.0);  // plywood does not do
  CHECK_FALSE(Does(thin.hinges[0]));
  const Design sized = MakeSizedDesign(job, Few());
  REQUIRE_FALSE(sized.hinges.empty());
  CHECK(HoldsTimes(*sized.hinges[0].forces, false) >= 1.0);
  CHECK(DoesInUse(sized.hinges[0]));
  CHECK_FALSE(sized.sizes.empty());
  const ArmWish& arms = sized.job.arms;
  bool sold = false;
  for (const StockSheet& sheet : StockSheets()) {
    sold |=
        !sheet.inch && sheet.material == arms.material && sheet.thickness_mm == arms.thickness_mm;
  }
  CHECK(sold);
  // The hinge file says the sizes, and they are taken when it is judged with the same open job.
  const PivotReading back = ReadPivots(WriteHingeJson(sized), "hinge.json");
  REQUIRE(back.hinge);
  REQUIRE(back.sizes);
  const Job again = SizedFor(job, *back.hinge, back.sizes);
  CHECK(again.arms.material == arms.material);
  CHECK(again.arms.width_mm == Approx(arms.width_mm));
  CHECK(again.arms.thickness_mm == Approx(arms.thickness_mm));
  CHECK(DoesInUse(JudgeHinge(BoxModel(again), *back.hinge)));
}

TEST_CASE("a hinge given by its pivots, with or without arms, is judged with the sizes fit takes",
          "[design][slow]") {
  for (const char* name : {"sample_chest", "ledger_casket"}) {
    INFO(name);
    const Job job = ExampleJob(name);
    const Design design = MakeSizedDesign(job);
    REQUIRE_FALSE(design.hinges.empty());
    const Hinge& hinge = design.hinges[0];
    REQUIRE(Does(hinge));
    const Pivots& p = hinge.pivots;
    GivenHinge given{p.case_a, p.case_b, p.lid_a, p.lid_b, {}, {}};
    const auto check = [&](bool width_too) {
      const Job taken = SizedFor(job, given, {});
      CHECK(taken.arms.material == design.job.arms.material);
      CHECK(taken.arms.thickness_mm == Approx(design.job.arms.thickness_mm));
      CHECK(taken.arms.bushing_mm == Approx(design.job.arms.bushing_mm));
      if (width_too) CHECK(taken.arms.width_mm == Approx(design.job.arms.width_mm));
      const Hinge judged = JudgeHinge(BoxModel(taken), given);
      CHECK(Does(judged) == Does(hinge));
      const std::string told = SizesTaken(job, taken);
      CHECK(told.find(taken.arms.material) != std::string::npos);
      CHECK((told.find(" wide") != std::string::npos) == (width_too && job.arms.open.width));
    };
    check(true);
    given.arm_a = GivenArm{hinge.arm_a->outline, hinge.arm_a->layer, kUnset};
    given.arm_b = GivenArm{hinge.arm_b->outline, hinge.arm_b->layer, kUnset};
    check(false);
    // Holes as drilled, under the tube that is pressed in.
    given.arm_a->hole_mm = given.arm_b->hole_mm = design.job.arms.bushing_mm - 0.1;
    check(false);
  }
  Job fixed = ExampleJob("sample_chest");
  fixed.arms.open = {};
  CHECK(SizesTaken(fixed, fixed).find("arms") == std::string::npos);
}

TEST_CASE("sizes left open bear somebody who leans on the lid, in metric and in inches",
          "[design][slow]") {
  for (const char* box :
       {R"({"units":"mm","case":{"width":340,"depth":220,"height":120,"wall":12,"back_bow":10},
            "lid":{"rim":14,"crown":38}})",
        R"({"units":"in","case":{"width":11,"depth":8,"height":4.25,"wall":0.5,"back_bow":0.375},
            "lid":{"rim":"3/4","crown":"1-1/4"}})"}) {
    INFO(box);
    const Design design = MakeSizedDesign(Read(box), Few());
    REQUIRE_FALSE(design.hinges.empty());
    CHECK(Does(design.hinges[0]));
    CHECK(HoldsTimes(*design.hinges[0].forces, true) >= 1.0);
    const Verdict* leaned = nullptr;
    const Verdicts all = RequirementsOf(design.hinges[0]);
    for (const Verdict& v : all) {
      if (v.what == Requirement::kHoldsLeaned) leaned = &v;
    }
    REQUIRE(leaned);
    CHECK(*leaned->found >= *leaned->required);
  }
}

TEST_CASE("a stay that the maker fits takes what leans on the lid, and a post is not asked for",
          "[design]") {
  Job job = Read(kBlanketChest);
  job.arms.open = {};
  DesignOptions options = Few();
  options.improve = false;
  const Design design = MakeDesign(BoxModel(job), options);
  REQUIRE_FALSE(design.hinges.empty());
  const auto asked = [](const Hinge& hinge) {
    const Verdicts all = RequirementsOf(hinge);
    return std::any_of(all.begin(), all.end(),
                       [](const Verdict& v) { return v.what == Requirement::kHoldsLeaned; });
  };
  CHECK(asked(design.hinges[0]));
  job.loads.stay = true;
  const Hinge held = JudgeHinge(BoxModel(job), design.hinges[0].pivots, {}, {});
  REQUIRE(held.parts);
  CHECK_FALSE(asked(held));
  CHECK(HoldsTimes(*held.forces, true) == std::numeric_limits<double>::infinity());
}

TEST_CASE("sizes that the job gives are kept, whatever they bear", "[design][slow]") {
  Job job = Read(kBlanketChest);
  job.arms.open = {};
  const Design kept = MakeSizedDesign(job, Few());
  REQUIRE_FALSE(kept.hinges.empty());
  CHECK(kept.job.arms.thickness_mm == 3.0);
  CHECK(kept.job.arms.material == "birch plywood");
  CHECK(kept.sizes.empty());
  CHECK_FALSE(Does(kept.hinges[0]));
}

// Boxes that a maker brought, whose first sizes or stop do not do: a chest whose lid is leaned on,
// a sewing box, a ring box of thin boards in which no long screwdriver lies across, a lid with a
// lip.
TEST_CASE("ordinary boxes get a hinge that does all that is required", "[design][slow]") {
  const char* const boxes[] = {
      R"({"units":"mm","case":{"width":380,"depth":250,"height":140,"wall":12,"back_bow":20},
          "lid":{"rim":12,"crown":50},"swing":{"open_deg":100}})",
      R"({"units":"mm","case":{"width":360,"depth":260,"height":160,"wall":10,"back_bow":8,
          "rim_arch":5},"lid":{"rim":18,"crown":30}})",
      R"({"units":"in","case":{"width":6,"depth":4.5,"height":2.75,"wall":0.25,"back_bow":0.125},
          "lid":{"rim":"3/8","crown":"1/2"}})",
      R"({"units": "mm", "case": {"width": 340, "depth": 240, "height": 120, "wall": 12, "back_bow": 8}, "lid": {"rim": 20, "crown": 35, "lip": 5}})"};
  for (const char* box : boxes) {
    const Job job = Read(box);
    CAPTURE(box);
    const Design design = MakeSizedDesign(job, Few());
    REQUIRE_FALSE(design.hinges.empty());
    CHECK(Does(design.hinges[0]));
    const HingeSet& set = *design.hinges[0].parts;
    REQUIRE(set.complete);
    // Pins run on rods that shops sell.
    const double pin = set.hardware->bushing.pin_mm;
    CHECK(std::any_of(StockRods().begin(), StockRods().end(), [&](const StockRod& rod) {
      return rod.inch == job.inches && std::abs(rod.diameter_mm - pin) < 1e-9;
    }));
    // A driver lies between this end's screws and the other end's hinge.
    double inner = 1e300;
    for (const HingePiece& piece : set.pieces) inner = std::min(inner, piece.z_min_mm);
    for (const AssemblyMove& move : set.order) {
      if (move.kind != MoveKind::kTool) continue;
      CHECK(move.along_z_mm == (2.0 * inner < kDriver_mm ? kShortDriver_mm : kDriver_mm));
    }
  }
}

// Its first straps do, on a hinge of merit 13.2; heavier ones bear what clears with less of all
// else (9.4).
TEST_CASE("arms heavier than do are taken for a clearly better hinge", "[design][slow]") {
  const Job job = Read(R"({"units":"mm","case":{"width":500,"depth":300,"height":220,"wall":14,
      "back_bow":6},"lid":{"rim":16,"crown":70,"crown_at_ends":70}})");
  const Design design = MakeSizedDesign(job, Few());
  REQUIRE_FALSE(design.hinges.empty());
  CHECK(Does(design.hinges[0]));
  CHECK(design.hinges[0].merit.Total() < 11.0);
  // Straps of 2 x 10 mm are what every job begins with.
  CHECK(design.job.arms.thickness_mm * design.job.arms.width_mm > 20.0);
}
