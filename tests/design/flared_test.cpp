// SPDX-License-Identifier: Apache-2.0
// A whole hinge in a box that narrows below, against the form's words instead of its stations.
#include <catch2/catch.hpp>

#include "certify/verdicts.h"
#include "examples.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/design/make_design.h"
#include "lidwright/drawing/box_drawing.h"
#include "lidwright/report/summary.h"
#include "solid/box_truth.h"

using namespace lidwright;
using namespace lidwright::testing;

TEST_CASE("arms of a flared box clear its leaning ends at every height over the whole swing",
          "[design]") {
  const BoxModel box(ExampleJob("flared_caddy"));
  const BoxTruth truth(box.job);
  // The width at the rim is not there below: a bay that reached to the rim's inner face would run
  // into the end wall near the floor.
  const double at_rim = box.job.case_form.width_mm / 2.0 - box.job.case_form.end_wall_mm;
  REQUIRE(truth.CaseAt(100.0, -90.0, at_rim - 2.0));
  CHECK(box.solid.bay.z_max_mm < at_rim - 8.0);
  const Zone& zone = box.solid.bay.case_zone;
  for (double x = zone.low.x(); x < zone.high.x(); x += 3.0) {
    for (double y = zone.low.y(); y < zone.high.y(); y += 3.0) {
      CHECK_FALSE(truth.CaseAt(x, y, box.solid.bay.z_max_mm - 1e-6));
    }
  }
  const Design design = MakeDesign(box, {});
  REQUIRE_FALSE(design.hinges.empty());
  long asked = 0, beside = 0;
  for (const Hinge& hinge : design.hinges) {
    CHECK(AllMet(hinge.verdicts));
    const LidMotion motion = *LidMotion::Make(hinge.pivots);
    for (const auto& [arm, body] :
         {std::pair(&hinge.arm_a, Body::kArmA), std::pair(&hinge.arm_b, Body::kArmB)}) {
      REQUIRE(*arm);
      const Ring outline = Flatten((*arm)->outline, kChordError_mm);
      for (int i = 0; i <= 40; ++i) {
        const LidState state = motion.At(box.job.swing.open_rad * i / 40);
        const Pose X_CArm = motion.BodyPose(body, state), X_LC = state.X_CL.Inverse();
        for (const Vec2& p : outline) {
          const Vec2 in_case = X_CArm * p, in_lid = X_LC * in_case;
          for (const double z : {(*arm)->z_min_mm, (*arm)->z_max_mm}) {
            asked += 2;
            // The gap asked for, in the section's plane.
            for (const Vec2& d :
                 {Vec2(0, 0), Vec2(0.99, 0), Vec2(-0.99, 0), Vec2(0, 0.99), Vec2(0, -0.99)}) {
              if (truth.CaseAt(in_case.x() + d.x(), in_case.y() + d.y(), z)) ++beside;
              if (truth.LidAt(in_lid.x() + d.x(), in_lid.y() + d.y(), z)) ++beside;
            }
          }
        }
      }
    }
  }
  CHECK(asked > 10000);
  CHECK(beside == 0);
  // What fills the lean is wood, and no metal is thicker than sheets are sold.
  int blocks = 0;
  for (const Hinge& hinge : design.hinges) {
    if (!hinge.parts) continue;
    for (const HingePiece& piece : hinge.parts->pieces) {
      if (!piece.cut_from_sheet) continue;
      const bool wood = piece.material == "hardwood";
      blocks += wood ? 1 : 0;
      CHECK((!wood || piece.drills.empty()));  // screws hold in it
      INFO(piece.name);
      CHECK((wood || piece.z_max_mm - piece.z_min_mm <= 6.5));
    }
  }
  CHECK(blocks >= 2);
  // Trial builds keep their gaps: the lid's block clears the rim by what drilling may take.
  REQUIRE(design.hinges.front().accuracy);
  CHECK(design.hinges.front().accuracy->missed_share < 0.1);
  // And what the bench has to know is said.
  const std::string summary = SummaryText(design);
  CHECK(summary.find("mounting block") != std::string::npos);
  CHECK(summary.find("bevelled by 5.0 deg") != std::string::npos);
  const std::string drawing = BoxDrawingSvg(box.job, box.solid);
  for (const char* words : {"flare, back / front / ends", "cup, back / front / ends",
                            "mounting block, rim / floor", "its bevel"}) {
    INFO(words);
    CHECK(drawing.find(words) != std::string::npos);
  }
}

// Lips all round and collars have tests of their own.
TEST_CASE("examples of a form find a hinge whose clearance is certified", "[design]") {
  for (const char* name : {"saddle_chest", "rebated_box", "carved_casket"}) {
    INFO(name);
    const BoxModel box(ExampleJob(name));
    const Design design = MakeDesign(box, {});
    REQUIRE_FALSE(design.hinges.empty());
    for (const Verdict& v : design.hinges.front().verdicts) {
      INFO(NameOf(v));
      CHECK(v.met());
      if (v.what == Requirement::kLidToCase || v.what == Requirement::kFirstMotion) {
        CHECK_FALSE(v.sampled);
      }
    }
  }
}
