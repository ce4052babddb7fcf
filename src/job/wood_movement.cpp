// SPDX-License-Identifier: Apache-2.0
#include "lidwright/job/wood_movement.h"

#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/job/wood_grain.h"

namespace lidwright {
namespace {

const std::string kPlywood = "birch plywood";

// Strain of a board in the side view.
Vec2 BoardStrain(GrainRun grain, double across, double stable) {
  switch (grain) {
    case GrainRun::kDepth:
      return {0.0, across};
    case GrainRun::kHeight:
      return {across, 0.0};
    case GrainRun::kWidth:
      return {across, across};
    case GrainRun::kStable:
      break;
  }
  return {stable, stable};
}

}  // namespace

SeasonStrain StrainOf(const Boards& boards, double from_percent, double to_percent) {
  const double stable = MovementAcross_mm(1.0, kStableMovement, from_percent, to_percent);
  if (boards.wood == kPlywood) return {Vec2::Constant(stable), Vec2::Constant(stable)};
  const WoodGrain* wood = FindWoodGrain(boards.wood);
  LW_REQUIRE(wood != nullptr, "wood=" << boards.wood);
  const double coefficient =
      boards.sawn == Sawn::kQuarter ? wood->radial_per_percent : wood->tangential_per_percent;
  const double across = MovementAcross_mm(1.0, coefficient, from_percent, to_percent);
  SeasonStrain strain;
  strain.ends = BoardStrain(boards.ends, across, stable);
  strain.between = {strain.ends.x(), BoardStrain(boards.long_walls, across, stable).y()};
  if (!boards.top_floats) {
    const double top = BoardStrain(boards.top, across, stable).x();
    if (std::abs(top) > std::abs(strain.between.x())) strain.between.x() = top;
  }
  return strain;
}

Ring Swollen(const Ring& ring, const Vec2& strain, const Vec2& anchor) {
  Ring moved;
  moved.reserve(ring.size());
  for (const Vec2& p : ring) moved.push_back(Swollen(p, strain, anchor));
  return moved;
}

double SeamOpens_mm(const Vec2& rim, const Vec2& case_strain, const Vec2& lid_strain,
                    const SeasonAnchors& anchors) {
  const double lid = Swollen(rim, lid_strain, anchors.lid_at).y();
  const double case_rim = Swollen(rim, case_strain, anchors.case_at).y();
  return lid - case_rim;
}

}  // namespace lidwright
