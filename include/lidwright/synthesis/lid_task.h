// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <vector>

#include "lidwright/linkage/lid_motion.h"
#include "lidwright/solid/solid.h"

namespace lidwright {

/// Outlines as a bag of edges for many point queries.
struct EdgeBag {
  std::vector<Vec2> from, to;
  Rect2 box;

  explicit EdgeBag(const std::vector<Ring>& rings);

  struct Query {
    double distance = 0.0;     ///< to the outline, negative inside
    Vec2 away = Vec2::Zero();  ///< its gradient with respect to the point: a unit vector
  };
  Query At(const Vec2& p) const;
  /// The same, but points farther from the box than `limit` only get a lower bound of their
  /// distance (≥ limit) and no gradient.
  Query Within(const Vec2& p, double limit) const;
};

/// Case and lid at one station, thinned out for the search.
struct KeySection {
  EdgeBag case_edges, lid_edges;
  std::vector<Vec2> case_points, lid_points;  ///< vertices and points along the long edges
};

/// What is asked of the lid, prepared for a search: everything that does not depend on the pivots.
/// The search works on thinned sections and sampled angles; what it finds is certified afterwards.
struct LidTask {
  std::vector<KeySection> sections;           ///< end wall, bay, quarter and middle of the width
  std::vector<std::size_t> section_stations;  ///< whose sections those are: indices in the solid
  std::vector<std::size_t> bay_stations;      ///< and those of bay_case and bay_lid
  std::vector<EdgeBag> bay_case, bay_lid;     ///< the sections that arms and pivots live among
  std::vector<EdgeBag> end_lip;               ///< the lid's sections along a lip inside the ends
  std::vector<Vec2> lid_hull;                 ///< convex hull of the whole lid
  struct Contact {
    Vec2 point, normal;  ///< normal into the lid
  };
  std::vector<Contact> contacts;    ///< where the shut lid touches, only those that can decide
  Vec2 front_edge = Vec2::Zero();   ///< the lid's lower front corner, mid-width
  Vec2 mass_centre = Vec2::Zero();  ///< of the lid as solid wood
  double open_rad = 0.0, gap_from_rad = 0.0, gap_mm = 0.0;
  double access_x_mm = 0.0;   ///< the open lid stays behind this
  double behind_x_mm = 0.0;   ///< and before this, always; −inf if free
  double above_y_mm = 0.0;    ///< and under this; inf if free
  double bench_y_mm = 0.0;    ///< and over this behind the box; −inf if no bench
  double pivot_gap_mm = 0.0;  ///< least distance of a pivot's centre from what passes it
  double rate_mm = 0.0;       ///< separating speed wanted at the contacts [mm/rad]
  Zone case_zone, lid_zone;
  PivotWish pinned;
  std::vector<PoseWish> poses;
  unsigned seed = 1;
};

LidTask MakeLidTask(const Job& job, const Solid& solid);

/// Pivots as the eight numbers of the search: case a, case b, lid a, lid b, each x, y.
using PivotNumbers = std::array<double, 8>;
PivotNumbers NumbersOf(const Pivots& pivots);
Pivots PivotsOf(const double* numbers);

/// Where each of the numbers may lie: in its pivot's zone, at its pin if it is pinned.
struct NumberBounds {
  PivotNumbers low, high;
};
NumberBounds BoundsOf(const LidTask& task);

}  // namespace lidwright
