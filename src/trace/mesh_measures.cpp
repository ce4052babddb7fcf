// SPDX-License-Identifier: Apache-2.0
#include "trace/mesh_measures.h"

#include <algorithm>
#include <cmath>

#include "lidwright/geometry/crossings.h"
#include "lidwright/geometry/ring.h"
#include "trace/mesh_frame.h"

namespace lidwright {
namespace {

// [mm] Below this a bow or an arch is noise.
constexpr double kNoBow_mm = 0.02;
// [mm] Stations on both sides of a jump are nearer to each other than this.
constexpr double kJump_mm = 0.1;
// [mm] How far from a surface the inside is asked whether it is open.
constexpr double kProbe_mm = 0.5;

// Is the case open at this station: at the rim, half-way down and just over the floor?
bool CaseIsOpen(const std::vector<Ring>& rings, double floor_mm) {
  const Rect2 box = Bounds(rings);
  const double x = (box.low.x() + box.high.x()) / 2.0;
  const double low = box.low.y() + floor_mm + kProbe_mm, high = box.high.y() - kProbe_mm;
  for (const double share : {0.0, 0.5, 1.0}) {
    if (Contains(rings, {x, low + share * (high - low)})) return false;
  }
  return true;
}

bool LidIsOpen(const std::vector<Ring>& rings) {
  const Rect2 box = Bounds(rings);
  return !Contains(rings, {(box.low.x() + box.high.x()) / 2.0, box.low.y() + kProbe_mm});
}

// [mm] From the top of the floor, or of a divider, to the rim, at mid-depth.
double RoomOf(const StationOutline& s) {
  const Rect2 box = Bounds(s.case_rings);
  const std::vector<double> up = Crossings(s.case_rings, false, (box.low.x() + box.high.x()) / 2.0);
  return up.size() < 2 ? 0.0 : box.high.y() - up[1];
}

// The station nearest to mid-width among those with nearly the most room: a divider is no middle.
std::size_t Middle(const std::vector<StationOutline>& stations) {
  constexpr double kNearlyMost = 0.6;
  double most = 0.0;
  for (const StationOutline& s : stations) most = std::max(most, RoomOf(s));
  std::size_t middle = stations.size();
  for (std::size_t i = 0; i < stations.size(); ++i) {
    if (RoomOf(stations[i]) < kNearlyMost * most) continue;
    if (middle == stations.size() || std::abs(stations[i].z_mm) < std::abs(stations[middle].z_mm)) {
      middle = i;
    }
  }
  return middle;
}

double Clean(double bow_mm) {
  return bow_mm > kNoBow_mm ? bow_mm : 0.0;
}

// From both ends inwards: how far a part's end wall reaches at most, up to the first room that is
// no groove. Rounded up to 1e-3 mm so that half the width less the wall lies on the step or just
// inside it, never beyond. 0 where nothing is open, or everything.
template <typename IsOpen>
double EndWall(const std::vector<StationOutline>& stations, bool inches, const IsOpen& is_open) {
  constexpr double kGroove_mm = 10.0;
  const double half = stations.back().z_mm;
  const std::size_t count = stations.size();
  std::vector<char> open;
  for (const StationOutline& s : stations) open.push_back(is_open(s) ? 1 : 0);
  double wall = 0.0;
  for (const bool from_back : {false, true}) {
    const auto at = [&](std::size_t i) { return from_back ? count - 1 - i : i; };
    const auto z = [&](std::size_t i) { return std::abs(stations[at(i)].z_mm); };
    for (std::size_t i = 1; i < count && !open[at(0)]; ++i) {
      if (!open[at(i)] || open[at(i - 1)]) continue;
      std::size_t end = i;
      while (end + 1 < count && open[at(end + 1)]) ++end;
      if (std::abs(stations[at(end)].z_mm - stations[at(i)].z_mm) < kGroove_mm) continue;
      // Between an open station and a closed one of another z the wall may begin anywhere.
      const double inner = std::min(z(i), z(i - 1));
      double here = std::ceil((half - inner) * 1e3 - 1e-3) / 1e3 + (inches ? 1e-3 : 0.0);
      while (half - here > inner) here += 1e-3;
      wall = std::max(wall, here);
      break;
    }
  }
  return wall;
}

// Back and front together, half-way between floor and rim; unset where nothing is between them.
double WallsOf(const StationOutline& s, double floor_mm) {
  const Rect2 box = Bounds(s.case_rings);
  const double floor = box.low.y() + floor_mm;
  const std::vector<double> at = Crossings(s.case_rings, true, (floor + box.high.y()) / 2.0);
  if (at.size() < 4) return kUnset;
  return at[1] - at[0] + at.back() - at[at.size() - 2];
}

// Where an end is bowed in plan, the inside begins in the middle of the depth and grows: until it
// has all but kBowedShare of its depth the end wall goes on, else back and front would count as
// thick as they are there. Walls that grow slowly over the width are no ends: they are left.
double WithBowedEnds(const std::vector<StationOutline>& stations, double floor_mm, double wall_mm,
                     bool inches) {
  constexpr double kBowedShare = 0.02, kMostOfHalf = 0.15;
  const StationOutline& middle = stations[Middle(stations)];
  const Rect2 box = Bounds(middle.case_rings);
  const double most = WallsOf(middle, floor_mm) + kBowedShare * (box.high.x() - box.low.x());
  const double half = stations.back().z_mm;
  double wall = wall_mm;
  for (const StationOutline& s : stations) {
    // Of a step at the wall's face the solid side has no such walls: NaN, which is not more.
    const double walls = WallsOf(s, floor_mm);
    if (std::abs(s.z_mm) > half - wall_mm || !(walls > most)) continue;
    wall =
        std::max(wall, std::ceil((half - std::abs(s.z_mm)) * 1e3) / 1e3 + (inches ? 2e-3 : 1e-3));
  }
  return wall <= wall_mm + kMostOfHalf * half ? wall : wall_mm;
}

// Where the case's rear outer face ends at the rim.
Vec2 RearCorner(const StationOutline& s) {
  const Rect2 box = Bounds(s.case_rings);
  const double depth = box.high.x() - box.low.x(), height = box.high.y() - box.low.y();
  double rim = box.low.y(), rear = box.high.x();
  for (const Ring& ring : s.case_rings) {
    for (const Vec2& p : ring) {
      if (p.x() <= box.low.x() + std::min(5.0, depth / 20.0)) rim = std::max(rim, p.y());
    }
  }
  for (const Ring& ring : s.case_rings) {
    for (const Vec2& p : ring) {
      if (p.y() >= rim - 0.1 * height && p.y() <= rim) rear = std::min(rear, p.x());
    }
  }
  return {rear, rim};
}

// The station at which back (or front) meets the end, seen in plan: from the outermost inwards as
// long as the outline runs rather across the box than along it. A flat end: the outermost. Where
// the end is bowed: the last before the bow begins; rounded corners: where they have turned by
// half.
template <typename PlaceOf>
std::size_t CornerStation(const std::vector<StationOutline>& stations, const PlaceOf& inset) {
  const Rect2 middle = Bounds(stations[Middle(stations)].case_rings);
  const Vec2 least = 0.8 * (middle.high - middle.low);
  for (std::size_t i = stations.size(); i-- > 0;) {
    const Rect2 box = Bounds(stations[i].case_rings);
    if (box.Empty() || ((box.high - box.low).array() < least.array()).any()) continue;
    // Against one farther in: where the form jumps several stand at nearly one place.
    std::size_t next = i;
    while (next > 0 && stations[next].z_mm > stations[i].z_mm - kJump_mm) --next;
    if (next == i || Bounds(stations[next].case_rings).Empty()) return i;
    const double across = inset(stations[i]) - inset(stations[next]);
    if (across <= stations[i].z_mm - stations[next].z_mm) return i;
  }
  return stations.size();
}

}  // namespace

Vec2 OriginOf(const std::vector<StationOutline>& stations) {
  const std::size_t corner =
      CornerStation(stations, [](const StationOutline& s) { return RearCorner(s).x(); });
  return corner < stations.size() ? RearCorner(stations[corner]) : Vec2::Zero();
}

MeshMeasures MeasuresOf(const std::vector<StationOutline>& stations, const MeshWish& wish) {
  MeshMeasures found;
  CaseMeasures& form = found.case_form;
  LidMeasures& lid = found.lid;
  const StationOutline& middle = stations[Middle(stations)];
  const Rect2 middle_box = Bounds(middle.case_rings);
  const double half_depth = (middle_box.low.x() + middle_box.high.x()) / 2.0;
  form.width_mm = 2.0 * stations.back().z_mm;

  // The ends give depth, the lowest place the bench.
  double bench = middle_box.low.y(), front = 0.0;
  for (const StationOutline& s : stations) bench = std::min(bench, Bounds(s.case_rings).low.y());
  form.height_mm = -bench;
  const std::size_t corner = CornerStation(
      stations, [](const StationOutline& s) { return -Bounds(s.case_rings).high.x(); });
  if (corner < stations.size()) front = Bounds(stations[corner].case_rings).high.x();
  form.depth_mm = front;

  const std::vector<double> up = Crossings(middle.case_rings, false, half_depth);
  form.floor_mm = up.size() >= 2 ? up[1] - bench : kUnset;
  if (up.size() < 2 || up[1] > middle_box.high.y() - 1.0) {
    found.problems.push_back(
        {wish.case_file, 0, "", "",
         up.size() < 2 ? "the case has no floor in its middle" : "the case has no room inside",
         up.size() < 2 ? "" : "give the hollow case, not its outer form"});
    return found;
  }
  for (const StationOutline& s : stations) {
    if (!CaseIsOpen(s.case_rings, form.floor_mm)) continue;
    const std::vector<double> at = Crossings(s.case_rings, false, half_depth);
    if (at.size() >= 2) form.floor_mm = std::max(form.floor_mm, at[1] - bench);
  }
  form.end_wall_mm = EndWall(stations, wish.inches, [&](const StationOutline& s) {
    return CaseIsOpen(s.case_rings, form.floor_mm);
  });
  form.end_wall_mm = WithBowedEnds(stations, form.floor_mm, form.end_wall_mm, wish.inches);
  const double face = stations.back().z_mm - form.end_wall_mm;
  form.back_wall_mm = form.front_wall_mm = 0.0;
  double back = 0.0, fore = 0.0, arch = 0.0;
  for (const StationOutline& s : stations) {
    const Rect2 at = Bounds(s.case_rings);
    back = std::max(back, -at.low.x());
    fore = std::max(fore, at.high.x() - front);
    arch = std::max(arch, at.high.y());
    if (std::abs(s.z_mm) > face || !CaseIsOpen(s.case_rings, form.floor_mm)) continue;
    const double floor = bench + form.floor_mm;
    for (const double share : {0.5, 0.65, 0.8, 0.95}) {
      const std::vector<double> walls =
          Crossings(s.case_rings, true, floor + share * (at.high.y() - floor));
      if (walls.size() < 4) continue;
      form.back_wall_mm = std::max(form.back_wall_mm, walls[1] - at.low.x());
      form.front_wall_mm = std::max(form.front_wall_mm, at.high.x() - walls[walls.size() - 2]);
    }
  }
  if (form.back_wall_mm == 0.0) {
    found.problems.push_back(
        {wish.case_file, 0, "", "", "the case has no back and front walls", "give the whole case"});
    return found;
  }
  if (form.end_wall_mm == 0.0) {
    found.problems.push_back(
        {wish.case_file, 0, "", "", "the case has no end walls", "give the whole case"});
    return found;
  }
  form.back_bow_mm = Clean(back);
  form.front_bow_mm = Clean(fore);
  form.rim_arch_mm = Clean(arch);

  const std::vector<double> over = Crossings(middle.lid_rings, false, half_depth);
  lid.top_mm = over.size() >= 2 ? over.back() - over[over.size() - 2] : form.floor_mm;
  lid.wall_mm = form.end_wall_mm;
  if (over.size() >= 2 && LidIsOpen(middle.lid_rings)) {
    const double wall = EndWall(stations, wish.inches,
                                [](const StationOutline& s) { return LidIsOpen(s.lid_rings); });
    if (wall > 0.0) lid.wall_mm = wall;
  } else {
    found.notes.push_back("the lid is not hollow in its middle: taken as solid, " +
                          LengthOf(lid.top_mm, wish) + " thick");
  }
  return found;
}

}  // namespace lidwright
