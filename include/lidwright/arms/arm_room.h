// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "lidwright/arms/arm.h"
#include "lidwright/synthesis/lid_task.h"

namespace lidwright {

/// Distances to a set of outlines on a grid, read by bilinear interpolation: within about a tenth
/// of the step where the outlines are smooth, and never used as proof.
class DistanceGrid {
 public:
  /// The least distance over all bags, each negative inside.
  DistanceGrid(const std::vector<EdgeBag>& bags, const Rect2& box, double step_mm);
  /// Points outside the box get the value at its edge plus their distance from the box.
  double At(const Vec2& p) const;

 private:
  Vec2 low_;
  double step_;
  int columns_, rows_;
  std::vector<float> values_;
};

/// What an arm has to stay clear of, as seen from case and lid, for one box.
struct ArmObstacles {
  DistanceGrid in_case, in_lid;
  std::optional<DistanceGrid> end_lip;  ///< the lid along a lip inside the case's ends
};

/// Case, lid, contents and surroundings over the stretch of z where arms may lie.
ArmObstacles MakeArmObstacles(const Job& job, const Solid& solid, const LidTask& task);

/// A disc that an arm must pass: a pin or spacer of the other arm, fixed to case or lid.
struct Disc {
  Body body = Body::kCase;
  Vec2 centre = Vec2::Zero();  ///< shut
  double radius_mm = 0.0;
};

/// The room an arm has over the whole swing, in its own frame (R3): for a point of the arm (given
/// where it is when shut) the least distance to every obstacle at every sampled angle.
class ArmRoom {
 public:
  /// `body` is kArmA or kArmB. Covers the two pivots and `around_mm` beyond them.
  ArmRoom(const ArmObstacles& obstacles, const LidMotion& motion, Body body, double open_rad,
          std::vector<Disc> discs, double around_mm = 90.0);

  /// The same for a part fixed to the lid (a plate that carries a pivot): only what stands with the
  /// case is in its way. `start` is the pivot, shut.
  ArmRoom(const ArmObstacles& obstacles, const LidMotion& motion, const Vec2& start,
          double open_rad, std::vector<Disc> discs, double around_mm = 120.0);

  /// Can a strip with `need_mm` to each side of its middle come from the start to a point that
  /// `there` accepts? Floods the grid.
  bool Reaches(double need_mm, const std::function<bool(const Vec2&)>& there) const;

  double At(const Vec2& p) const;  ///< interpolated between grid points, worked out when asked
  double Exactly(const Vec2& p) const;

  /// Shortest way from case to lid pivot where At ≥ need_mm (A* on the grid, with a mild dislike
  /// of narrow places up to `comfort_mm` more), as grid points with the pivots at the ends.
  /// Empty if there is none.
  std::vector<Vec2> ShortestWay(double need_mm, double comfort_mm) const;

  const Vec2& case_pivot() const { return case_pivot_; }
  const Vec2& lid_pivot() const { return lid_pivot_; }

 private:
  void Lay(double around_mm);  // the grid around start and end
  double Cell(int column, int row) const;

  const ArmObstacles& obstacles_;
  Vec2 case_pivot_, lid_pivot_;
  bool moves_in_lid_ = true;  // false for parts fixed to the lid
  struct Sample {
    Pose X_CArm, X_LArm;
    std::vector<Vec2> discs;  // centres in the arm's frame
  };
  std::vector<Sample> samples_;
  std::vector<Disc> discs_;
  Vec2 low_;
  int columns_ = 0, rows_ = 0;
  mutable std::vector<float> cells_;  // NaN: not worked out yet
};

}  // namespace lidwright
