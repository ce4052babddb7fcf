// SPDX-License-Identifier: Apache-2.0
// Pins straight in the wood, against the form's words instead of its stations.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "certify/verdicts.h"
#include "examples.h"
#include "lidwright/arms/hardware.h"
#include "lidwright/design/make_design.h"
#include "report/verdict_words.h"
#include "solid/box_truth.h"

using namespace lidwright;
using namespace lidwright::testing;
using Catch::Matchers::WithinAbs;

namespace {

// Points asked for on circles round a centre, from the centre out to `radius`.
std::vector<Vec2> Around(const Vec2& centre, double radius) {
  std::vector<Vec2> points{centre};
  for (const double r : {radius / 2.0, radius}) {
    for (int i = 0; i < 72; ++i) {
      const double angle = 2.0 * kPi * i / 72;
      points.push_back(centre + r * Vec2(std::cos(angle), std::sin(angle)));
    }
  }
  return points;
}

}  // namespace

TEST_CASE("a box without plates has its pins in wood all round, and arms that clear", "[design]") {
  const BoxModel box(ExampleJob("spice_box"));
  const BoxTruth truth(box.job);
  const Design design = MakeDesign(box, {});
  REQUIRE_FALSE(design.hinges.empty());
  for (const Hinge& hinge : design.hinges) {
    REQUIRE(hinge.parts);
    const HingeSet& set = *hinge.parts;
    INFO(hinge.character);
    if (&hinge == &design.hinges.front()) CHECK(set.complete);
    REQUIRE(set.stack);
    REQUIRE(set.hardware);
    CHECK(set.hardware->bushing.pin_mm == 3.0);  // as the job has it
    CHECK_THAT(set.hardware->running_mm, WithinAbs(0.1, 1e-12));
    CHECK(set.hardware->washer_out_mm == 7.0);
    const double pin = set.hardware->bushing.pin_mm, half = box.job.case_form.width_mm / 2.0;
    long asked = 0, outside = 0;
    for (const PivotStack& stack : set.stack->pivots) {
      const bool lid = stack.body == Body::kLid;
      const double wall = lid ? box.job.lid.wall_mm : box.job.case_form.end_wall_mm;
      const double face = half - wall;
      // Deep enough to hold, and not through.
      CHECK(stack.pin.z_max_mm - face >= 2.0 * pin);
      CHECK(stack.pin.z_max_mm <= half - 2.0);
      for (const double z : {face + 0.01, (face + stack.pin.z_max_mm) / 2.0, stack.pin.z_max_mm}) {
        for (const Vec2& p : Around(stack.centre, 2.0 * pin - 0.01)) {
          ++asked;
          if (!(lid ? truth.LidAt(p.x(), p.y(), z) : truth.CaseAt(p.x(), p.y(), z))) ++outside;
        }
      }
      // The arm runs free of the wall.
      CHECK(stack.rows[1].z_max_mm == face);
    }
    CHECK(asked == 4 * 3 * 145);
    CHECK(outside == 0);
    // Nothing that a plate would bring.
    for (const HingePiece& piece : set.pieces) {
      INFO(piece.name);
      CHECK(piece.kind != PieceKind::kCasePlate);
      CHECK(piece.kind != PieceKind::kLidPlate);
      CHECK(piece.kind != PieceKind::kScrew);
    }
    int holes = 0;
    for (const WoodWork& work : set.bench_work) {
      if (!(work.hole.radius_mm > 0.0)) continue;
      ++holes;
      CHECK_THAT(2.0 * work.hole.radius_mm, WithinAbs(pin - 0.1, 1e-9));  // to be held by the wood
    }
    CHECK(holes == (set.stop ? 5 : 4));
  }
  // The pins of a plateless hinge reach less far and bend less: no plate's room is kept.
  Job plated = box.job;
  plated.plates = PlateWish();
  const BoxModel other(plated);
  CHECK_THAT(SpanOf(box.job, box.solid, 0).z_max_mm - SpanOf(plated, other.solid, 0).z_max_mm,
             WithinAbs(6.0, 1e-9));
}

TEST_CASE("pivots that the wood could not hold are not offered", "[design]") {
  // Given by hand: one lid pin too near to the seam.
  const BoxModel box(ExampleJob("spice_box"));
  const double near = 4.0;
  const Hinge hinge =
      CertifyHinge(box, {{23, -21.5}, {40, -21.5}, {55.5, near}, {91.5, 8}}, {}, {});
  const Verdict* it = Find(hinge.verdicts, Requirement::kPinInWood, Member::kLidPinA);
  REQUIRE(it);
  CHECK_FALSE(it->met());
  CHECK_THAT(it->found.value(), WithinAbs(near, 1e-6));
  CHECK(*it->required == 6.0);
  CHECK(NameOf(*it) == "lid pin of arm A straight in the lid's end wall");
  CHECK(RemarkOf(*it, false) ==
        "it would sit 4 mm from the wood's edge, a pin of 3 mm needs 6 mm of wood around it; a "
        "plate would fit");
  // A lid whose band is too low for any has no room, and says so.
  Job low = box.job;
  low.lid.rim_mm = 8.0;
  low.lid.crown_mm = low.lid.crown_at_ends_mm = 12.0;
  const Problems faults = FaultsOf(low, MakeSolid(low));
  REQUIRE(faults.size() == 1);
  CHECK(faults[0].rule.find("there is no room for the lid's pivots: under the lid") == 0);
  CHECK(faults[0].hint.find("pins straight in the wood need it around them") == 0);
}

TEST_CASE("a box whose lid holds no pins says that plates would do", "[design][slow]") {
  // Its remedies are tried with lids so low that no pivot has room at all.
  Job job = ExampleJob("sample_chest");
  job.plates.on_case = job.plates.on_lid = false;
  const Design design = MakeDesign(BoxModel(job), {});
  CHECK(design.hinges.empty());
  CHECK(design.search.rounds < 8);  // every lid misses by 9 mm: more rounds would be in vain
  REQUIRE(design.none);
  const auto& remedies = design.none->remedies;
  CHECK(remedies.size() <= 3);
  const auto plates = std::find_if(remedies.begin(), remedies.end(), [](const Remedy& remedy) {
    return remedy.words == "plates instead of pins straight in the wood";
  });
  REQUIRE(plates != remedies.end());
  REQUIRE(plates->changes.size() == 2);
  CHECK(plates->changes[0].key == "plates.on_case");
  CHECK(plates->changes[1].key == "plates.on_lid");
  CHECK(plates->changes[0].text == "true");
  CHECK(plates->changes[1].text == "true");
}
