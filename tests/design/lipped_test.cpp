// SPDX-License-Identifier: Apache-2.0
// A whole hinge under a lid whose lip runs all round: against the form's words and another library.
#include <algorithm>
#include <catch2/catch.hpp>

#include "design/independent_eye.h"
#include "examples.h"
#include "lidwright/arms/hinge_set.h"
#include "lidwright/base/tolerances.h"
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
  const BoxModel box(ExampleJob("lipped_caddy"));
  const BoxTruth truth(box.job);
  const double middle = (truth.TongueFrom() + truth.TongueTo()) / 2.0;
  // The tongue is there, and nothing of it in the bay.
  REQUIRE(truth.LidAt(100.0, -0.5 * box.job.lid.lip_mm, middle));
  REQUIRE_FALSE(truth.LidAt(100.0, -0.5 * box.job.lid.lip_mm, box.solid.bay.z_max_mm - 1e-6));
  const Design design = MakeDesign(box, {});
  REQUIRE_FALSE(design.hinges.empty());
  int packed = 0;
  for (const Hinge& hinge : design.hinges) {
    REQUIRE(hinge.parts);
    CHECK(hinge.parts->complete);
    const LidMotion motion = *LidMotion::Make(hinge.pivots);
    const Met met = AskTruth(truth, motion, box.job.swing.open_rad, hinge.parts->pieces);
    CHECK(met.asked > 100'000);
    CHECK(met.wood == 0);
    for (const HingePiece& piece : hinge.parts->pieces) {
      if (piece.name != "packing of the ground plate") continue;
      ++packed;
      // It fills what lies between the plate and the end wall, behind the whole tongue.
      CHECK(piece.z_min_mm == Approx(truth.TongueFrom()));
      CHECK(piece.z_max_mm == Approx(box.job.box.width_mm / 2.0 - box.job.box.end_wall_mm));
      CHECK(Bounds(Flatten(piece.outline, kChordError_mm)).high.y() <=
            -box.job.lid.lip_mm - box.job.arms.gap_mm + 0.01);
      // And it would be found if it stood higher.
      std::vector<HingePiece> raised{piece};
      for (OutlineVertex& v : raised[0].outline.vertices) v.point.y() += 3.0;
      CHECK(AskTruth(truth, motion, box.job.swing.open_rad, raised).wood > 0);
    }
  }
  CHECK(packed == static_cast<int>(design.hinges.size()));
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
    const auto found = std::find_if(hinge.verdicts.begin(), hinge.verdicts.end(),
                                    [](const Verdict& v) { return v.what == "lid to case"; });
    REQUIRE(found != hinge.verdicts.end());
    CHECK((found->met && found->proven));
    Solid cut = box.solid;  // where there is no case there is no gap to it
    std::erase_if(cut.stations, [](const Station& s) { return s.case_rings.empty(); });
    const Seen seen = LookAt(job, cut, hinge.pivots, hinge.arm_a, hinge.arm_b, geos);
    CHECK(found->found <= seen.lid_to_case + 1e-9);
    CHECK(found->found >= seen.lid_to_case - 0.12 - 0.01);  // both models' errors, and the bound's
    for (const std::string& wrong : Complaints(box, seen, true)) {
      INFO(wrong);
      CHECK(false);
    }
  }
}
