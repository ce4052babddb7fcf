// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <limits>
#include <queue>
#include <unordered_map>
#include <vector>

#include "lidwright/arms/plates.h"
#include "lidwright/geometry/ring.h"

/// Where strips of a lid plate can run: from a lid pivot to the row of screws over the seam.
namespace lidwright::lid_plate {

/// [mm] Wood left over the plate in the lid's top.
inline constexpr double kLidSkin_mm = 3.0;
/// [mm] The room's grid may be off by this; the proof decides.
inline constexpr double kRoomSlack_mm = 0.3;

/// The lid's outside (dome and faces, not the seam) and its underside, beside the bay.
class Skin {
 public:
  explicit Skin(const Solid& solid);

  /// [mm] The lid's underside where it lies on the case.
  double SeamAt(double x) const;
  /// [mm] The highest of it over a stretch.
  double SeamOver(double from, double to) const;
  /// [mm] Distance to the outside, negative beyond it.
  double At(const Vec2& p) const;
  /// [mm] How deep an outline runs into the solid of the lid beside the bay.
  double Recess(const Outline& outline) const;

 private:
  struct Edge {
    Vec2 from, to;
  };
  const std::vector<Ring>* end_ = nullptr;
  const std::vector<Ring>* hollow_ = nullptr;
  Rect2 case_, hollow_box_;
  std::vector<Edge> all_, outside_;  // of end_
};

/// The places about one lid pivot on a grid, each looked at once however many widths of strip come
/// by, and the shortest ways from the pivot.
class StripWays {
 public:
  StripWays(const Skin& skin, ArmRoom room, const Vec2& pivot, double gap_mm, double row_mm,
            double wood_mm);

  /// Has a strip of this half width room about p, and wood over it?
  bool Free(const Vec2& p, double half_mm) const;
  /// A place on the screws' row, with wood under it?
  bool RowFree(double x, double half_mm);
  /// From the pivot to the screws' row, or to the first strip already there that it meets: pulled
  /// taut, its last point on the row or on that strip. `half_mm` includes what is kept for the
  /// grid's errors. Empty if there is none.
  std::vector<Vec2> Leg(double half_mm, const std::vector<Vec2>& strip);

 private:
  static constexpr double kNotYet = std::numeric_limits<double>::quiet_NaN();
  struct Lie {
    double room_mm = kNotYet;
    double skin_mm = kNotYet;  // infinite under the seam
  };
  struct Place {
    Lie lie;
    double cost_mm = std::numeric_limits<double>::infinity();
    int from = -1;
  };
  struct Open {
    double cost_mm;
    int cell;
    bool operator<(const Open& o) const { return cost_mm > o.cost_mm; }
  };

  Vec2 PointOf(int cell) const;
  bool Free(Lie& lie, const Vec2& p, double half_mm) const;
  bool FreeCell(int cell, double half_mm);
  void Begin(double half_mm);
  bool Settle();
  void Spread(int cell);
  std::vector<Vec2> Taut(std::vector<Vec2> way, double half_mm) const;

  const Skin& skin_;
  ArmRoom room_;
  Vec2 pivot_;
  double gap_, row_, wood_;
  std::vector<Place> places_;
  std::unordered_map<double, Lie> on_row_;  // by x; without wood under it there is no room
  // The search for ways of one width goes on where it was left.
  double half_ = kNotYet;
  std::priority_queue<Open> front_;
  std::vector<int> settled_;  // nearest first
  std::vector<int> touched_;
};

}  // namespace lidwright::lid_plate
