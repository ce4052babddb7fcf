// SPDX-License-Identifier: Apache-2.0
#include "job/station_walls.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/crossings.h"
#include "lidwright/geometry/ring.h"

namespace lidwright {
namespace {

// [1] Of the height: a section whose solid at mid-depth ends below is open at its top.
constexpr double kOpenBelow = 0.9;
// [1] Of the deepest room: an end bowed in plan goes on until the inside has this much; one that
// leans inside, until the floor is as low as anywhere but for this share of the height.
constexpr double kWholeRoom = 0.97, kOffFloor = 0.05;

struct WoodRun {
  double from, to;
};

// Where a level (or upright) line runs in wood, in order.
std::vector<WoodRun> SolidAlong(const std::vector<Ring>& rings, bool level, double at) {
  const std::vector<double> places = Crossings(rings, level, at);
  std::vector<WoodRun> solids;
  for (std::size_t i = 0; i + 1 < places.size(); i += 2) {
    const bool joint = !solids.empty() && places[i] - solids.back().to <= kTouch_mm;
    if (joint) {
      solids.back().to = places[i + 1];
    } else {
      solids.push_back({places[i], places[i + 1]});
    }
  }
  return solids;
}

// All that may be meant by one measure, and what most likely is.
class WallSpan {
 public:
  void Add(double mm) {
    if (!(mm > 0.0)) return;
    least_ = std::min(least_, mm);
    most_ = std::max(most_, mm);
  }
  // A wall may begin anywhere down to this, which may be nothing.
  void From(double mm) { least_ = std::min(least_, std::max(0.0, mm)); }
  void Likely(double mm) {
    Add(mm);
    likely_ = mm;
  }
  bool shown() const { return least_ <= most_; }
  ShownMeasure As(const char* path) const {
    const double likely = std::isnan(likely_) ? least_ : likely_;
    return {path, least_, most_, std::round(likely * 1e3) / 1e3};
  }

 private:
  double least_ = 1e300, most_ = -1e300, likely_ = kUnset;
};

// One section: the walls on either side of what is open in it.
struct SectionLook {
  double z_mm = 0.0;
  bool there = false, open = false;
  double room_mm = 0.0;  // from back to front
  double above = 0.0;    // [1] the floor above the bench, in heights of the case
};

struct WallSpans {
  WallSpan back, front;
};

// The walls on level lines at these heights, which grow.
void AddWalls(const std::vector<Ring>& rings, const std::vector<double>& heights,
              WallSpans* walls) {
  const Rect2 box = Bounds(rings);
  std::optional<Vec2> back_below, front_below;  // outer faces at the height before
  for (const double y : heights) {
    const std::vector<WoodRun> solids = SolidAlong(rings, true, y);
    if (solids.size() < 2) continue;
    const double back = solids.front().to - solids.front().from;
    const double front = solids.back().to - solids.back().from;
    const Vec2 back_face(solids.front().from, y), front_face(solids.back().to, y);
    walls->back.Likely(back);
    walls->back.Add(solids.front().to - box.low.x());
    walls->front.Likely(front);
    walls->front.Add(box.high.x() - solids.back().from);
    const auto upright = [](const Vec2& face, const Vec2& below) {
      return (face.y() - below.y()) / (face - below).norm();
    };
    if (back_below) walls->back.Add(back * upright(back_face, *back_below));
    if (front_below) walls->front.Add(front * upright(front_face, *front_below));
    back_below = back_face;
    front_below = front_face;
  }
}

std::vector<double> Between(double low, double high, std::initializer_list<double> shares) {
  std::vector<double> heights;
  for (const double share : shares) heights.push_back(low + share * (high - low));
  return heights;
}

double Room(const std::vector<Ring>& rings, double y) {
  const std::vector<WoodRun> solids = SolidAlong(rings, true, y);
  return solids.size() < 2 ? 0.0 : solids.back().from - solids.front().to;
}

// Takes up a section of the case; `bench` is the lowest point of all.
SectionLook LookAtCase(const StationOutline& station, double bench, WallSpans* walls,
                       WallSpan* floor) {
  const std::vector<Ring>& rings = station.case_rings;
  SectionLook look{station.z_mm, !rings.empty()};
  if (!look.there) return look;
  const Rect2 box = Bounds(rings);
  const double size = box.high.y() - box.low.y();
  // The floor's top, where the section is open above it.
  const auto top_at = [&](double share) {
    const double x = box.low.x() + share * (box.high.x() - box.low.x());
    const std::vector<WoodRun> runs = SolidAlong(rings, false, x);
    const bool open = !runs.empty() && runs.back().to < box.low.y() + kOpenBelow * size;
    return open ? runs.back().to : kUnset;
  };
  const double top = top_at(0.5);
  // A wedge lies as low in its middle; what is open has two walls.
  look.open = !std::isnan(top) && Room(rings, (top + box.high.y()) / 2.0) > 0.0;
  if (!look.open) return look;
  for (const double share : {0.35, 0.65}) floor->Add(top_at(share) - bench);
  floor->Likely(top - bench);
  const double middle = (box.low.x() + box.high.x()) / 2.0;
  floor->Add(SolidAlong(rings, false, middle).front().to - bench);  // under a second level
  AddWalls(rings, Between(top, box.high.y(), {0.3, 0.5, 0.65, 0.8, 0.95}), walls);
  look.room_mm = Room(rings, (top + box.high.y()) / 2.0);
  look.above = (top - bench) / size;
  return look;
}

// Where walls of the ends may begin, on one side of mid-width: the sections from there outwards.
template <typename IsWhole>
void AddEnd(const std::vector<SectionLook>& outwards, double half_mm, const IsWhole& is_whole,
            WallSpan* ends) {
  const std::size_t count = outwards.size();
  std::size_t last = count;
  for (std::size_t i = 0; i < count; ++i) {
    if (outwards[i].open) last = i;
  }
  if (last + 1 >= count) return;  // none is open, or none beyond is closed
  const auto wall = [&](std::size_t i) { return half_mm - std::abs(outwards[i].z_mm); };
  ends->From(wall(last + 1));
  ends->Likely(wall(last));
  for (std::size_t i = 1; i < count; ++i) {  // a groove in the wall is open as well
    if (outwards[i].open || !outwards[i - 1].open) continue;
    ends->Add(wall(i - 1));
    break;
  }
  std::size_t whole = count;
  for (std::size_t i = 0; i < count; ++i) {
    if (outwards[i].open && is_whole(outwards[i])) whole = i;
  }
  if (whole < count) ends->Add(wall(whole));
}

WallSpan EndsOf(const std::vector<SectionLook>& looks, double half_mm) {
  double room = 0.0, lowest = 1.0;
  for (const SectionLook& look : looks) {
    if (!look.open) continue;
    room = std::max(room, look.room_mm);
    lowest = std::min(lowest, look.above);
  }
  const auto is_whole = [&](const SectionLook& look) {
    return look.room_mm >= kWholeRoom * room && look.above <= lowest + kOffFloor;
  };
  WallSpan ends;
  for (const double side : {1.0, -1.0}) {
    std::vector<SectionLook> outwards;
    for (const SectionLook& look : looks) {
      if (look.there && side * look.z_mm >= 0.0) outwards.push_back(look);
    }
    if (side < 0.0) std::reverse(outwards.begin(), outwards.end());
    AddEnd(outwards, half_mm, is_whole, &ends);
  }
  return ends;
}

}  // namespace

std::vector<ShownMeasure> WallsShown(const Job& job) {
  std::vector<const StationOutline*> stations;
  for (const StationOutline& station : job.stations) {
    if (!std::isnan(station.z_mm)) stations.push_back(&station);
  }
  std::stable_sort(stations.begin(), stations.end(),
                   [](const auto* a, const auto* b) { return a->z_mm < b->z_mm; });
  double bench = 1e300;
  for (const StationOutline* station : stations) {
    if (!station->case_rings.empty()) bench = std::min(bench, Bounds(station->case_rings).low.y());
  }
  WallSpans of_case;
  WallSpan floor;
  std::vector<SectionLook> looks;
  // From the ends to the middle, so that what is most likely is taken from there.
  std::vector<const StationOutline*> inwards = stations;
  std::stable_sort(inwards.begin(), inwards.end(), [](const auto* a, const auto* b) {
    return std::abs(a->z_mm) > std::abs(b->z_mm);
  });
  for (const StationOutline* station : inwards) {
    looks.push_back(LookAtCase(*station, bench, &of_case, &floor));
  }
  std::stable_sort(looks.begin(), looks.end(),
                   [](const auto& a, const auto& b) { return a.z_mm < b.z_mm; });
  const double half_mm = job.case_form.width_mm / 2.0;
  const WallSpan case_ends = EndsOf(looks, half_mm);
  std::vector<ShownMeasure> shown;
  const auto add = [&shown](const char* path, const WallSpan& span) {
    if (span.shown()) shown.push_back(span.As(path));
  };
  add("case.back_wall", of_case.back);
  add("case.front_wall", of_case.front);
  add("case.end_wall", case_ends);
  add("case.floor", floor);
  return shown;
}

}  // namespace lidwright
