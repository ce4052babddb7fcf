// SPDX-License-Identifier: Apache-2.0
// A whole hinge under a lid whose lip runs all round: against the form's words and another library.
#include <algorithm>
#include <catch2/catch.hpp>

#include "certify/verdicts.h"
#include "design/independent_eye.h"
#include "examples.h"
#include "lidwright/arms/hinge_set.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"
#include "lidwright/design/make_design.h"
#include "solid/box_truth.h"

using namespace lidwright;
using namespace lidwright::testing;

namespace {

// [mm] Asked for around each piece; sections are off by up to kBlendError_mm.
constexpr double kAround_mm = 0.9;

struct Met {
  long asked = 0;
  int wood = 0;  // places of a piece in wood of another body
};

// Each piece's outline at places over its thickness and over the swing: is there wood that it may
// not be in?
Met AskTruth(const BoxTruth& truth, const LidMotion& motion, double open_rad,
             const std::vector<HingePiece>& pieces) {
  Met met;
  for (const HingePiece& piece : pieces) {
    if (piece.kind == PieceKind::kJig) continue;
    const Ring outline = Flatten(piece.outline, kChordError_mm);
    for (int i = 0; i <= 60; ++i) {
      const LidState state = motion.At(open_rad * i / 60);
      const Pose X_CP = motion.BodyPose(piece.body, state), X_LC = state.X_CL.Inverse();
      for (const Vec2& p : outline) {
        const Vec2 in_case = X_CP * p, in_lid = X_LC * in_case;
        for (const double share : {0.001, 0.2, 0.4, 0.6, 0.8, 0.999}) {
          const double z = piece.z_min_mm + share * (piece.z_max_mm - piece.z_min_mm);
          for (const Vec2& d : {Vec2(0, 0), Vec2(kAround_mm, 0), Vec2(-kAround_mm, 0),
                                Vec2(0, kAround_mm), Vec2(0, -kAround_mm)}) {
            ++met.asked;
            const Vec2 c = in_case + d, l = in_lid + d;
            if (piece.body != Body::kCase && truth.CaseAt(c.x(), c.y(), z)) ++met.wood;
            if (piece.body != Body::kLid && truth.LidAt(l.x(), l.y(), z)) ++met.wood;
          }
        }
      }
    }
  }
  return met;
}

}  // namespace

TEST_CASE("nothing of a hinge meets a lip that runs along the ends, at any angle", "[design]") {
  for (const bool leaning : {false, true}) {
    INFO(leaning);
    Job job = ExampleJob("lipped_caddy");
    if (leaning) {
      job.case_form.end_flare_rad = 5.0 * kRadPerDeg;
      job.case_form.end_cup_mm = 2.0;
      job.case_form.back_flare_rad = 3.0 * kRadPerDeg;
    }
    const BoxModel box(job);
    const BoxTruth truth(job);
    // The tongue is there, and nothing of it in the bay.
    const double middle = (truth.TongueFrom() + truth.TongueTo()) / 2.0;
    REQUIRE(truth.LidAt(100.0, -0.5 * job.lid.lip_mm, middle));
    REQUIRE_FALSE(truth.LidAt(100.0, -0.5 * job.lid.lip_mm, box.solid.bay.z_max_mm - 1e-6));
    DesignOptions first_look;
    first_look.improve = false;
    const Design design = MakeDesign(box, first_look);
    REQUIRE_FALSE(design.hinges.empty());
    REQUIRE(design.hinges.front().parts);
    CHECK(design.hinges.front().parts->complete);
    int packed = 0;
    for (const Hinge& hinge : design.hinges) {
      if (!hinge.parts || !hinge.parts->complete) continue;
      const LidMotion motion = *LidMotion::Make(hinge.pivots);
      const Met met = AskTruth(truth, motion, job.swing.open_rad, hinge.parts->pieces);
      CHECK(met.asked > 100'000);
      CHECK(met.wood == 0);
      for (const HingePiece& piece : hinge.parts->pieces) {
        if (piece.name != (leaning ? "mounting block of the case" : "packing of the case plate")) {
          continue;
        }
        ++packed;
        // It fills what lies between the plate and the end wall, behind the whole tongue.
        CHECK(piece.z_min_mm == Approx(box.solid.bay.z_max_mm));
        CHECK(piece.z_min_mm <= truth.TongueFrom() + 1e-9);
        // A block as a rule reads it, to a tenth.
        CHECK(piece.z_max_mm == Approx(job.case_form.width_mm / 2.0 - job.case_form.end_wall_mm)
                                    .margin(leaning ? 0.051 : 1e-9));
        const double top = Bounds(Flatten(piece.outline, kChordError_mm)).high.y();
        CHECK(top <= -job.lid.lip_mm - job.arms.gap_mm + 0.01);
        // And it would be found if it stood higher.
        std::vector<HingePiece> raised{piece};
        for (OutlineVertex& v : raised[0].outline.vertices) v.point.y() -= top + job.lid.lip_mm;
        CHECK(AskTruth(truth, motion, job.swing.open_rad, raised).wood > 0);
      }
    }
    CHECK(packed > 0);
  }
}

TEST_CASE("a collar all round hangs clear of its hinge, whose bays are as wide as ever",
          "[design]") {
  Job job = ExampleJob("lipped_caddy");
  job.lid.lip_side = "outside";
  const BoxModel box(job);
  const BoxTruth truth(job);
  REQUIRE(truth.LidEnd() == Approx(150.0 + 6.2));
  REQUIRE(truth.LidAt(100.0, -0.5 * job.lid.lip_mm, truth.LidEnd() - 2.0));
  CHECK(box.solid.bay.z_max_mm == Approx(150.0 - 11.0));
  // What stands around the box reaches as far as the lid does.
  for (const PartKind around : {PartKind::kBench, PartKind::kWall}) {
    for (const PartTree* part : box.box.Shapes(around)) {
      CHECK(part->parts()[0].z_max_mm > truth.LidEnd());
    }
  }
  CHECK(box.box.Shapes(PartKind::kLid).back()->parts().back().z_max_mm == Approx(truth.LidEnd()));
  CHECK(box.box.Shapes(PartKind::kCase).back()->parts().back().z_max_mm == Approx(150.0));
  const Design design = MakeDesign(box, {});
  REQUIRE_FALSE(design.hinges.empty());
  const Hinge& hinge = design.hinges.front();
  REQUIRE(hinge.parts);
  CHECK(hinge.parts->complete);
  const Met met =
      AskTruth(truth, *LidMotion::Make(hinge.pivots), job.swing.open_rad, hinge.parts->pieces);
  CHECK(met.asked > 100'000);
  CHECK(met.wood == 0);
}

TEST_CASE("the gap of a lid with a lip all round is the one another library sees", "[design]") {
  const Geos geos;
  for (const bool collar : {false, true}) {
    INFO(collar);
    Job job = ExampleJob(collar ? "collared_chest" : "lipped_caddy");
    job.lid.lip_at_ends = true;
    const BoxModel box(job);
    const Design design = MakeDesign(box, {});
    REQUIRE_FALSE(design.hinges.empty());
    const Hinge& hinge = design.hinges.front();
    const Verdict* found = Find(hinge.verdicts, Requirement::kLidToCase);
    REQUIRE(found);
    CHECK(found->met());
    Solid cut = box.solid;  // where there is no case there is no gap to it
    std::erase_if(cut.stations, [](const Station& s) { return s.case_rings.empty(); });
    const Seen seen = LookAt(job, cut, hinge.pivots, hinge.arm_a, hinge.arm_b, geos);
    CHECK(*found->found <= seen.lid_to_case + 1e-9);
    CHECK(*found->found >= seen.lid_to_case - 0.12 - 0.01);  // both models' errors, and the bound's
    for (const std::string& wrong : Complaints(box, seen, true)) {
      INFO(wrong);
      CHECK(false);
    }
  }
}
