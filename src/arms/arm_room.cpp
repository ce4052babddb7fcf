// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/arm_room.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <queue>

#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"

namespace lidwright {
namespace {

constexpr double kGrid_mm = 2.5;      // distance grids
constexpr double kRoomGrid_mm = 2.0;  // the arm's room
constexpr double kAngleStep_rad = 2.5 * kRadPerDeg;
// Weight of a step through a place with no comfort at all, over its length.
constexpr double kNarrowDislike = 1.5;

}  // namespace

DistanceGrid::DistanceGrid(const std::vector<EdgeBag>& bags, const Rect2& box, double step_mm)
    : low_(box.low), step_(step_mm) {
  LW_REQUIRE(!bags.empty() && step_mm > 0.0, "bags=" << bags.size() << " step=" << step_mm);
  const Vec2 size = (box.high - box.low) / step_mm;
  columns_ = static_cast<int>(std::ceil(size.x())) + 1;
  rows_ = static_cast<int>(std::ceil(size.y())) + 1;
  values_.reserve(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_));
  for (int row = 0; row < rows_; ++row) {
    for (int column = 0; column < columns_; ++column) {
      const Vec2 p = low_ + step_ * Vec2(column, row);
      double least = std::numeric_limits<double>::infinity();
      for (const EdgeBag& bag : bags) least = std::min(least, bag.At(p).distance);
      values_.push_back(static_cast<float>(least));
    }
  }
}

double DistanceGrid::At(const Vec2& p) const {
  const double u = (p.x() - low_.x()) / step_, v = (p.y() - low_.y()) / step_;
  const double cu = std::clamp(u, 0.0, columns_ - 1.001), cv = std::clamp(v, 0.0, rows_ - 1.001);
  const int i = static_cast<int>(cu), j = static_cast<int>(cv);
  const double s = cu - i, t = cv - j;
  const float* at = values_.data() + static_cast<std::ptrdiff_t>(j) * columns_ + i;
  const double value = (1.0 - t) * ((1.0 - s) * at[0] + s * at[1]) +
                       t * ((1.0 - s) * at[columns_] + s * at[columns_ + 1]);
  if (cu == u && cv == v) return value;
  return value + step_ * std::hypot(u - cu, v - cv);
}

ArmObstacles MakeArmObstacles(const Job& job, const Solid& solid, const LidTask& task) {
  std::vector<EdgeBag> in_case = task.bay_case;
  for (const Contents& contents : job.contents) {
    if (InBay(contents, solid.bay)) in_case.emplace_back(contents.rings);
  }
  const double far = 1000.0;
  const auto block = [&](double x0, double y0, double x1, double y1) {
    in_case.emplace_back(std::vector<Ring>{{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}});
  };
  if (std::isfinite(job.room.behind_mm)) {
    block(-job.room.behind_mm - far, -far, -job.room.behind_mm, far);
  }
  if (job.room.bench_below) block(-far, solid.bench_mm - far, far, solid.bench_mm);
  if (std::isfinite(job.room.above_mm))
    block(-far, job.room.above_mm, far, job.room.above_mm + far);
  const auto grown = [](Rect2 box, double by) {
    box.low -= Vec2::Constant(by);
    box.high += Vec2::Constant(by);
    return box;
  };
  Rect2 lid_box;
  for (const EdgeBag& bag : task.bay_lid) {
    lid_box.Add(bag.box.low);
    lid_box.Add(bag.box.high);
  }
  ArmObstacles obstacles{DistanceGrid(in_case, grown(solid.bounds, 100.0), kGrid_mm),
                         DistanceGrid(task.bay_lid, grown(lid_box, 130.0), kGrid_mm),
                         {}};
  if (!task.end_lip.empty()) {
    obstacles.end_lip.emplace(task.end_lip, grown(lid_box, 130.0), kGrid_mm);
  }
  return obstacles;
}

ArmRoom::ArmRoom(const ArmObstacles& obstacles, const LidMotion& motion, Body body, double open_rad,
                 std::vector<Disc> discs, double around_mm)
    : obstacles_(obstacles), discs_(std::move(discs)) {
  LW_REQUIRE(body == Body::kArmA || body == Body::kArmB, "not an arm");
  const Pivots& pivots = motion.pivots();
  case_pivot_ = body == Body::kArmA ? pivots.case_a : pivots.case_b;
  lid_pivot_ = body == Body::kArmA ? pivots.lid_a : pivots.lid_b;
  const int steps = std::max(2, static_cast<int>(std::ceil(open_rad / kAngleStep_rad)));
  for (int i = 0; i <= steps; ++i) {
    const LidState state = motion.At(open_rad * i / steps);
    Sample sample;
    sample.X_CArm = motion.BodyPose(body, state);
    sample.X_LArm = state.X_CL.Inverse() * sample.X_CArm;
    const Pose X_ArmC = sample.X_CArm.Inverse();
    for (const Disc& disc : discs_) {
      sample.discs.push_back(X_ArmC *
                             (disc.body == Body::kLid ? state.X_CL * disc.centre : disc.centre));
    }
    samples_.push_back(std::move(sample));
  }
  Lay(around_mm);
}

ArmRoom::ArmRoom(const ArmObstacles& obstacles, const LidMotion& motion, const Vec2& start,
                 double open_rad, std::vector<Disc> discs, double around_mm)
    : obstacles_(obstacles),
      case_pivot_(start),
      lid_pivot_(start),
      moves_in_lid_(false),
      discs_(std::move(discs)) {
  const int steps = std::max(2, static_cast<int>(std::ceil(open_rad / kAngleStep_rad)));
  for (int i = 0; i <= steps; ++i) {
    const LidState state = motion.At(open_rad * i / steps);
    Sample sample;
    sample.X_CArm = state.X_CL;
    for (const Disc& disc : discs_) {
      LW_REQUIRE(disc.body == Body::kCase, "a disc on the lid cannot be in the lid's way");
      sample.discs.push_back(state.X_CL.Inverse() * disc.centre);
    }
    samples_.push_back(std::move(sample));
  }
  Lay(around_mm);
}

void ArmRoom::Lay(double around_mm) {
  const Vec2 margin = Vec2::Constant(around_mm);
  low_ = case_pivot_.cwiseMin(lid_pivot_) - margin;
  const Vec2 size = (case_pivot_.cwiseMax(lid_pivot_) + margin - low_) / kRoomGrid_mm;
  columns_ = static_cast<int>(std::ceil(size.x())) + 1;
  rows_ = static_cast<int>(std::ceil(size.y())) + 1;
  cells_.assign(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_),
                std::numeric_limits<float>::quiet_NaN());
}

bool ArmRoom::Reaches(double need_mm, const std::function<bool(const Vec2&)>& there) const {
  if (Exactly(case_pivot_) < need_mm) return false;
  const Vec2 at = (case_pivot_ - low_) / kRoomGrid_mm;
  std::vector<char> seen(cells_.size(), 0);
  std::vector<std::pair<int, int>> front;
  // The pivot's own grid points may lie a little nearer to something than the pivot.
  const auto visit = [&](int column, int row, double need) {
    if (column < 0 || row < 0 || column >= columns_ || row >= rows_) return;
    char& mark = seen[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
                      static_cast<std::size_t>(column)];
    if (mark || Cell(column, row) < need) return;
    mark = 1;
    front.push_back({column, row});
  };
  for (const int dc : {0, 1}) {
    for (const int dr : {0, 1}) {
      visit(static_cast<int>(at.x()) + dc, static_cast<int>(at.y()) + dr,
            need_mm - 0.75 * kRoomGrid_mm);
    }
  }
  while (!front.empty()) {
    const auto [column, row] = front.back();
    front.pop_back();
    if (there(low_ + kRoomGrid_mm * Vec2(column, row))) return true;
    visit(column + 1, row, need_mm);
    visit(column - 1, row, need_mm);
    visit(column, row + 1, need_mm);
    visit(column, row - 1, need_mm);
  }
  return false;
}

double ArmRoom::Exactly(const Vec2& p) const {
  double least = std::numeric_limits<double>::infinity();
  for (const Sample& sample : samples_) {
    least = std::min(least, obstacles_.in_case.At(sample.X_CArm * p));
    if (moves_in_lid_) least = std::min(least, obstacles_.in_lid.At(sample.X_LArm * p));
    for (std::size_t d = 0; d < discs_.size(); ++d) {
      const double away2 = (p - sample.discs[d]).squaredNorm();
      const double matters = least + discs_[d].radius_mm + kSamePoint_mm;
      if (matters > 0.0 && away2 > matters * matters) continue;
      least = std::min(least, std::sqrt(away2) - discs_[d].radius_mm);
    }
    if (least < -2.0 * kRoomGrid_mm) break;  // deep inside: how deep does not matter
  }
  return least;
}

double ArmRoom::Cell(int column, int row) const {
  float& cell = cells_[static_cast<std::size_t>(row) * static_cast<std::size_t>(columns_) +
                       static_cast<std::size_t>(column)];
  if (std::isnan(cell)) {
    cell = static_cast<float>(Exactly(low_ + kRoomGrid_mm * Vec2(column, row)));
  }
  return cell;
}

double ArmRoom::At(const Vec2& p) const {
  const double u = (p.x() - low_.x()) / kRoomGrid_mm, v = (p.y() - low_.y()) / kRoomGrid_mm;
  const int i = static_cast<int>(std::floor(u)), j = static_cast<int>(std::floor(v));
  if (i < 0 || j < 0 || i + 1 >= columns_ || j + 1 >= rows_) {
    return -std::numeric_limits<double>::infinity();  // off the map: not for arms
  }
  const double s = u - i, t = v - j;
  return (1.0 - t) * ((1.0 - s) * Cell(i, j) + s * Cell(i + 1, j)) +
         t * ((1.0 - s) * Cell(i, j + 1) + s * Cell(i + 1, j + 1));
}

std::vector<Vec2> ArmRoom::ShortestWay(double need_mm, double comfort_mm) const {
  const auto cell_of = [&](const Vec2& p) {
    const Vec2 at = (p - low_) / kRoomGrid_mm;
    return std::pair<int, int>(static_cast<int>(std::round(at.x())),
                               static_cast<int>(std::round(at.y())));
  };
  const auto point_of = [&](int cell) -> Vec2 {
    return low_ + kRoomGrid_mm * Vec2(cell % columns_, cell / columns_);
  };
  const auto [gc, gr] = cell_of(case_pivot_);
  const auto [lc, lr] = cell_of(lid_pivot_);
  const int start = gr * columns_ + gc, goal = lr * columns_ + lc;
  // Near the pivots the grid point may lie a little nearer to something than the pivot itself.
  const double at_ends = need_mm - 0.75 * kRoomGrid_mm;
  std::vector<double> cost(cells_.size(), std::numeric_limits<double>::infinity());
  std::vector<int> from(cells_.size(), -1);
  using Open = std::pair<double, int>;
  std::priority_queue<Open, std::vector<Open>, std::greater<>> open;
  cost[static_cast<std::size_t>(start)] = 0.0;
  open.push({(case_pivot_ - lid_pivot_).norm(), start});
  while (!open.empty()) {
    const auto [estimate, at] = open.top();
    open.pop();
    if (at == goal) break;
    const Vec2 p = point_of(at);
    const double so_far = cost[static_cast<std::size_t>(at)];
    if (estimate > so_far + (p - lid_pivot_).norm() + 1e-9) continue;  // an older entry
    for (int dr = -1; dr <= 1; ++dr) {
      for (int dc = -1; dc <= 1; ++dc) {
        const int column = at % columns_ + dc, row = at / columns_ + dr;
        if ((dr == 0 && dc == 0) || column < 0 || row < 0 || column >= columns_ || row >= rows_) {
          continue;
        }
        const double room = Cell(column, row);
        const int next = row * columns_ + column;
        const Vec2 q = point_of(next);
        const bool end =
            std::min((q - case_pivot_).norm(), (q - lid_pivot_).norm()) < 2.0 * kRoomGrid_mm;
        if (room < (end ? at_ends : need_mm)) continue;
        const double narrow = std::clamp(1.0 - (room - need_mm) / comfort_mm, 0.0, 1.0);
        const double step = (q - p).norm() * (1.0 + kNarrowDislike * narrow * narrow);
        double& known = cost[static_cast<std::size_t>(next)];
        if (so_far + step < known) {
          known = so_far + step;
          from[static_cast<std::size_t>(next)] = at;
          open.push({known + (q - lid_pivot_).norm(), next});
        }
      }
    }
  }
  if (from[static_cast<std::size_t>(goal)] < 0) return {};
  std::vector<Vec2> way{lid_pivot_};
  for (int at = from[static_cast<std::size_t>(goal)]; at != start && at >= 0;
       at = from[static_cast<std::size_t>(at)]) {
    way.push_back(point_of(at));
  }
  way.push_back(case_pivot_);
  std::reverse(way.begin(), way.end());
  return way;
}

}  // namespace lidwright
