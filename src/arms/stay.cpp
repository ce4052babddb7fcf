// SPDX-License-Identifier: Apache-2.0
#include "lidwright/arms/stay.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "lidwright/arms/plates.h"
#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/base/units.h"

namespace lidwright {
namespace {

// [mm] Mesh of the places tried, and samples along the taut stay.
constexpr double kMesh_mm = 2.0;
constexpr double kAlong_mm = 2.0;
// [mm] A head keeps this from what moves past it, for the grids' meshes.
constexpr double kBesideHead_mm = 0.5;
// [mm] Thicker ones are too much for a box's walls; a washer under a bolt's nut.
constexpr double kThickest_mm = 4.2, kNutWasher_mm = 0.8;
constexpr double kAngleStep_rad = 2.0 * kRadPerDeg;
constexpr double kTautStep_rad = 0.25 * kRadPerDeg;
// [–] Grain of end walls runs from back to front.
constexpr double kGrain_rad = 0.0;

// Places at multiples of the shop's grid, so that they can be marked out.
template <typename Wanted>
std::vector<Vec2> MeshIn(const std::vector<Ring>& rings, double grid_mm, const Wanted& wanted) {
  const double mesh = grid_mm > 0.0 ? std::ceil(kMesh_mm / grid_mm) * grid_mm : kMesh_mm;
  const Rect2 box = Bounds(rings);
  std::vector<Vec2> places;
  for (double j = std::ceil(box.low.y() / mesh); j * mesh < box.high.y(); j += 1.0) {
    for (double i = std::ceil(box.low.x() / mesh); i * mesh < box.high.x(); i += 1.0) {
      const Vec2 p(i * mesh, j * mesh);
      if (wanted(p)) places.push_back(p);
    }
  }
  return places;
}

}  // namespace

// A washer twice as wide as the shank, as sold.
double StayHead_mm(const StayFixing& fixing) {
  return std::max(fixing.head_mm, 2.0 * fixing.shank_mm);
}

std::vector<StayFixing> FixingsToTry(const ArmsTask& task, const Vec2& on_case, const Vec2& on_lid,
                                     double lid_wall_mm) {
  const bool inches = task.job.inches;
  const double case_wall_mm = task.job.case_form.end_wall_mm;
  const Station& wall = EndWallBeside(task.solid);
  std::vector<StayFixing> fixings;
  const auto add = [&](StayFixing fixing) {
    fixing.share = std::min(ShareAt(wall.case_rings, on_case, fixing.shank_mm),
                            ShareAt(wall.lid_rings, on_lid, fixing.shank_mm));
    if (fixing.share <= 0.0 || fixing.shank_mm > kThickest_mm) return;
    if (fixing.bolted) fixing.share = 1.0;  // in its own hole it does not split the wood
    fixings.push_back(fixing);
  };
  for (const ScrewSold& sold : ScrewsToTry(inches)) {
    const auto in_case = LongestScrew(sold.lengths_mm, kUnderStayHead_mm, case_wall_mm);
    const auto in_lid = LongestScrew(sold.lengths_mm, kUnderStayHead_mm, lid_wall_mm);
    if (!in_case || !in_lid) continue;
    const WoodScrew& screw = sold.screw;
    add({screw.name, false, screw.diameter_mm, screw.head_mm, screw.pilot_hard_mm,
         screw.pilot_soft_mm, *in_case, *in_lid});
  }
  const std::vector<double> lengths = MachineScrewLengths_mm(inches);
  for (const MachineScrew& screw : MachineScrews()) {
    if (screw.inch != inches) continue;
    const auto through = [&](double wall_mm) -> std::optional<ScrewLength> {
      const double least = wall_mm + kUnderStayHead_mm + screw.diameter_mm + kNutWasher_mm;
      const auto length = std::lower_bound(lengths.begin(), lengths.end(), least);
      if (length == lengths.end()) return std::nullopt;
      return ScrewLength{*length, wall_mm};
    };
    const auto in_case = through(case_wall_mm), in_lid = through(lid_wall_mm);
    if (!in_case || !in_lid) continue;
    add({screw.name, true, screw.diameter_mm, screw.head_mm, screw.clearance_mm, screw.clearance_mm,
         *in_case, *in_lid});
  }
  return fixings;
}

double ShareAt(const std::vector<Ring>& end_wall, const Vec2& screw, double shank_mm) {
  return FixingShare(end_wall, screw, kGrain_rad, shank_mm);
}

StayEnds PlacesForStays(const ArmsTask& task, const LidMotion& motion, double shank_mm,
                        double head_mm) {
  const double radius = head_mm / 2.0 + kBesideHead_mm;
  const Station& wall = EndWallBeside(task.solid);
  const CaseRoom room(task, motion);
  StayEnds ends;
  ends.on_case = MeshIn(wall.case_rings, task.job.shop.grid_mm, [&](const Vec2& p) {
    return room.At(p) >= radius && ShareAt(wall.case_rings, p, shank_mm) > 0.0;
  });
  std::vector<Pose> poses;
  const double open = task.limits.open_rad;
  const int steps = static_cast<int>(std::ceil(open / kAngleStep_rad));
  for (int i = 0; i <= steps; ++i) poses.push_back(motion.At(open * i / steps).X_CL);
  ends.on_lid = MeshIn(wall.lid_rings, task.job.shop.grid_mm, [&](const Vec2& p) {
    if (task.obstacles.in_lid.At(p) < radius) return false;
    if (ShareAt(wall.lid_rings, p, shank_mm) <= 0.0) return false;
    return std::all_of(poses.begin(), poses.end(), [&](const Pose& X_CL) {
      return task.obstacles.in_case.At(X_CL * p) >= radius;
    });
  });
  return ends;
}

double RoomRoundTaut_mm(const ArmsTask& task, const LidMotion& motion, const Vec2& on_case,
                        const Vec2& on_lid) {
  const Pose X_CL = motion.At(task.limits.open_rad).X_CL, X_LC = X_CL.Inverse();
  const Vec2 along = X_CL * on_lid - on_case;
  const int steps = std::max(1, static_cast<int>(std::ceil(along.norm() / kAlong_mm)));
  double least = std::numeric_limits<double>::infinity();
  for (int i = 0; i <= steps; ++i) {
    const Vec2 p = on_case + along * i / steps;
    least = std::min({least, task.obstacles.in_case.At(p), task.obstacles.in_lid.At(X_LC * p)});
  }
  return least;
}

Part TautPart(const Solid& solid, const Stay& stay, double face_mm, Body body) {
  const Vec2 along = stay.lid_end_open - stay.on_case;
  LW_REQUIRE(along.norm() > kSamePoint_mm, "a stay without length");
  const Vec2 aside = stay.sold.width_mm / 2.0 * Perp(along).normalized();
  return MakePrism("stay", body, solid.bay.z_min_mm, face_mm,
                   {{stay.on_case - aside, stay.lid_end_open - aside, stay.lid_end_open + aside,
                     stay.on_case + aside}});
}

Verdict StayTaut(const Stay& stay, const LidMotion& motion, double open_rad) {
  const double until = open_rad - kStopFree_rad;
  const int steps = std::max(1, static_cast<int>(std::ceil(until / kTautStep_rad)));
  double most = 0.0, at = 0.0;
  for (int i = 0; i <= steps; ++i) {
    const double theta = until * i / steps, apart = stay.Apart_mm(motion.At(theta).X_CL);
    if (apart <= most) continue;
    most = apart;
    at = theta;
  }
  Verdict taut = Reckoned(Requirement::kStayTaut, Unit::kMm, 0.0, stay.length_mm - most);
  taut.of = Member::kStay;
  taut.sampled = true;
  taut.angle_rad = at;
  return taut;
}

}  // namespace lidwright
