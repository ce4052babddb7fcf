// SPDX-License-Identifier: Apache-2.0
// The order in which a hinge goes together. Oracles: GEOS for pieces moved along their lines, the
// box's form as a question about a point for wood.
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "arms/hinge_cases.h"
#include "cutting/geos_shape.h"
#include "lidwright/arms/work_order.h"
#include "lidwright/cutting/work_steps.h"
#include "solid/box_truth.h"

namespace lidwright {
namespace {

using testing::BoxTruth;
using testing::FindPiece;
using testing::GeosShape;
using testing::HingeCase;

constexpr double kFine_mm = 0.002;

Ring RingOf(const HingePiece& piece, const Pose& X_CB) {
  Ring ring = Flatten(piece.outline, kFine_mm);
  for (Vec2& p : ring) p = X_CB * p;
  return ring;
}

// Points along a ring, a millimetre apart.
std::vector<Vec2> Along(const Ring& ring) {
  std::vector<Vec2> points;
  for (std::size_t i = 0; i < ring.size(); ++i) {
    const Vec2 &a = ring[i], b = ring[(i + 1) % ring.size()];
    const int steps = std::max(1, static_cast<int>((b - a).norm()));
    for (int k = 0; k < steps; ++k) points.push_back(a + (b - a) * k / steps);
  }
  return points;
}

// What moves, in the case's frame while the lid stands where it does, and the z that it passes.
struct Swept {
  Ring ring;
  double z_min_mm = 0.0, z_max_mm = 0.0;
};
Swept SweptBy(const AssemblyMove& move, const HingeSet& set, const BodiesAt& bodies) {
  if (move.kind == MoveKind::kAlongPins) {
    const HingePiece& piece = *FindPiece(set, move.what);
    return {RingOf(piece, bodies.Of(piece.body)), piece.z_min_mm - move.along_z_mm, piece.z_max_mm};
  }
  const HingePiece& head = *FindPiece(set, move.what + ", head");
  Swept swept{{}, head.z_min_mm - move.along_z_mm, head.z_min_mm};
  const Vec2 at = bodies.Of(head.body) * Centroid(Flatten(head.outline, kFine_mm));
  for (int i = 0; i < 200; ++i) {
    const double turn = kPi * i / 100.0;
    swept.ring.push_back(at + DriverBlade_mm(set.hardware->screw.diameter_mm) / 2.0 *
                                  Vec2(std::cos(turn), std::sin(turn)));
  }
  return swept;
}

// Pieces that are in place before a move, by the rules of the trade: what lies nearer to the wall
// is put in first.
std::vector<const HingePiece*> Before(const AssemblyMove& move, std::size_t at,
                                      const std::vector<AssemblyMove>& order, const HingeSet& set) {
  std::vector<const HingePiece*> before;
  // Arms that go on again afterwards are off by then.
  const bool off = std::any_of(
      order.begin() + static_cast<std::ptrdiff_t>(at), order.end(), [&](const AssemblyMove& later) {
        return later.step == JigScene::kLidOpen && later.kind == MoveKind::kAlongPins &&
               later.lid_rad == move.lid_rad;
      });
  for (std::size_t i = 0; i < at; ++i) {
    if (off && order[i].step == JigScene::kArmsShut && order[i].what != "lid plate" &&
        order[i].what != "stop") {
      continue;
    }
    if (order[i].kind == MoveKind::kAlongPins && order[i].what != move.what) {
      before.push_back(FindPiece(set, order[i].what));
    }
  }
  return before;
}

}  // namespace

TEST_CASE("every part slides on and every screw is reached, as polygons moved in GEOS say too") {
  std::size_t looked = 0;
  for (const std::size_t which : {0, 3, 6}) {
    const auto& linkage = testing::ExampleLinkages()[which];
    CAPTURE(linkage.job, which);
    const HingeCase hinge(linkage.job, linkage.pivots);
    const HingeSet set = hinge.Make();
    REQUIRE(set.complete);
    REQUIRE(!set.order.empty());
    const BoxTruth truth(hinge.box.job);
    for (std::size_t i = 0; i < set.order.size(); ++i) {
      const AssemblyMove& move = set.order[i];
      CAPTURE(move.what);
      CHECK(move.free);
      if (move.kind == MoveKind::kLowered) continue;
      const BodiesAt bodies =
          move.lid_rad > 0.0 ? BodiesAt(hinge.motion, move.lid_rad) : BodiesAt();
      const Swept swept = SweptBy(move, set, bodies);
      const GeosShape shape(swept.ring);
      for (const HingePiece* piece : Before(move, i, set.order, set)) {
        if (piece->z_max_mm <= swept.z_min_mm || piece->z_min_mm >= swept.z_max_mm) continue;
        const HingePiece* moved = FindPiece(set, move.what);
        const bool same = moved && (moved->body == piece->body || moved->member == piece->member);
        if (same) continue;
        const GeosShape other(RingOf(*piece, bodies.Of(piece->body)));
        CHECK(shape.DistanceTo(other) >= move.room_mm - kFine_mm);
        ++looked;
      }
      const bool lid_on = move.step == JigScene::kLidOpen;
      const Pose X_LC = bodies.Of(Body::kLid).Inverse();
      for (double z = swept.z_min_mm + 0.01; z < swept.z_max_mm; z += 4.0) {
        for (const Vec2& p : Along(swept.ring)) {
          REQUIRE_FALSE(truth.CaseAt(p.x(), p.y(), z));
          const Vec2 q = X_LC * p;
          if (lid_on) REQUIRE_FALSE(truth.LidAt(q.x(), q.y(), z));
        }
      }
    }
  }
  CHECK(looked > 10);
}

TEST_CASE("pins straight in the lid are marked through arms that slide on with the lid shut") {
  const Pivots pivots{{26.5, -87.5}, {18.0, -7.0}, {178.5, 6.0}, {66.5, 28.5}};
  const HingeCase hinge("spice_box", pivots);
  const HingeSet set = hinge.Make();
  CAPTURE(set.verdicts.size());
  REQUIRE(set.complete);
  const BoxTruth truth(hinge.box.job);
  std::vector<std::string> tried;
  for (const AssemblyMove& move : set.order) {
    CAPTURE(move.what);
    CHECK(move.free);
    if (move.what == "stop") CHECK(move.step == JigScene::kJigInCase);
    if (move.step != JigScene::kArmsShut) continue;
    tried.push_back(move.what);
    CHECK(move.lid_rad == 0.0);
    const Swept swept = SweptBy(move, set, BodiesAt());
    for (double z = swept.z_min_mm + 0.01; z < swept.z_max_mm; z += 4.0) {
      for (const Vec2& p : Along(swept.ring)) {
        REQUIRE_FALSE(truth.CaseAt(p.x(), p.y(), z));
        REQUIRE_FALSE(truth.LidAt(p.x(), p.y(), z));
      }
    }
  }
  CHECK(tried == std::vector<std::string>{"arm B", "arm A"});  // B is nearest to the wall
  // Each part is handled at some step of the jig's, the jig only where it is used.
  const std::vector<WorkStep> steps = WorkSteps(hinge.box.job, set);
  const auto at = [&](const std::string& title) {
    return std::find_if(steps.begin(), steps.end(),
                        [&](const WorkStep& step) { return step.title == title; });
  };
  const auto first = at("Set the case's pins"), mark = at("Mark the lid's pins");
  REQUIRE(first < mark);
  REQUIRE(mark + 2 < steps.end());
  CHECK((mark + 1)->title == "Set the lid's pins");
  CHECK((mark + 2)->title == "Put on the arms");
  const auto handled = [](const WorkStep& step, const std::string& name) {
    return std::find(step.pieces.begin(), step.pieces.end(), name) != step.pieces.end();
  };
  for (const HingePiece& piece : set.pieces) {
    if (piece.per_end == 0 || piece.kind == PieceKind::kBushing) continue;
    INFO(piece.name);
    CHECK(std::any_of(first, mark + 3,
                      [&](const WorkStep& step) { return handled(step, piece.name); }));
  }
  CHECK_FALSE(handled(*(mark + 1), "closed-position jig"));
}

TEST_CASE("the lid comes down on its plates without meeting wood, point by point") {
  for (const std::size_t which : {0, 3}) {
    const auto& linkage = testing::ExampleLinkages()[which];
    const HingeCase hinge(linkage.job, linkage.pivots);
    const HingeSet set = hinge.Make();
    const BoxTruth truth(hinge.box.job);
    const auto lowered =
        std::find_if(set.order.begin(), set.order.end(),
                     [](const AssemblyMove& move) { return move.kind == MoveKind::kLowered; });
    REQUIRE(lowered != set.order.end());
    CHECK(lowered->free);
    const double lift = lowered->way.norm();
    const Vec2 up = -lowered->way / lift;
    const Rect2 box = hinge.box.solid.bounds;
    std::size_t wood = 0;
    for (double z = 0.0; z < hinge.box.job.case_form.width_mm / 2.0; z += 23.0) {
      for (double x = box.low.x(); x < box.high.x(); x += 4.0) {
        for (double y = -30.0; y < box.high.y(); y += 4.0) {
          if (!truth.LidAt(x, y, z)) continue;
          ++wood;
          for (double s = 0.2; s < lift; s += 3.0) {
            const Vec2 p = Vec2(x, y) + s * up;
            REQUIRE_FALSE(truth.CaseAt(p.x(), p.y(), z));
          }
        }
      }
    }
    CHECK(wood > 500);
  }
}

TEST_CASE("what stands in the way of a part, a screwdriver or the lid is found and named") {
  const auto& linkage = testing::ExampleLinkages()[0];
  const HingeCase hinge(linkage.job, linkage.pivots);
  const HingeSet whole = hinge.Make();
  REQUIRE(whole.complete);
  // A post on the case, from the wall inwards beyond all pins, comes with the case's pins.
  const auto with_post = [&](const Vec2& at) {
    HingeSet set = whole;
    HingePiece post = *FindPiece(set, "case pin of arm A");
    post.name = "post";
    post.member = Member::kNone;
    post.joined.reset();
    post.outline = AsOutline({at, 1.5});
    post.z_min_mm -= 60.0;
    set.pieces.push_back(post);
    return OrderOfAssembly(hinge.box.arms, hinge.motion, set);
  };
  const auto blocked = [](const std::vector<AssemblyMove>& order, const std::string& what) {
    for (const AssemblyMove& move : order) {
      if (move.what != what) continue;
      if (!move.free) CHECK(move.nearest == "post");
      return !move.free;
    }
    FAIL("no move of " + what);
    return false;
  };
  const Vec2 screw = whole.case_plate->screws[1];
  CHECK(blocked(with_post(screw), "screw 2 of the case plate"));
  CHECK_FALSE(blocked(with_post(screw), "screw 1 of the case plate"));
  const Arm& arm = *hinge.arms.arm_a;
  const Vec2 on_arm =
      (arm.case_hole.centre + 0.1 * (arm.centreline[1].point - arm.case_hole.centre));
  CHECK(blocked(with_post(on_arm), "arm A"));
  // Under the lid's front wall, over the case's: the lid would come down on it.
  const Rect2 box = hinge.box.solid.bounds;
  CHECK(blocked(with_post({box.high.x() - 3.0, 5.0}), "lid"));
  for (const AssemblyMove& move : with_post({box.high.x() + 50.0, -50.0})) {
    CAPTURE(move.what);
    CHECK(move.free);
  }
}

}  // namespace lidwright
