// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <vector>

#include "lidwright/geometry/ring.h"

namespace lidwright {

/// Distances to one set of outlines, made for millions of questions: a grid of cells, each with its
/// middle's distance (a lower bound for all of the cell) and the edges that can be the nearest to
/// some point in it.
class OutlineMap {
 public:
  struct Query {
    double distance = 0.0;     ///< to the outline, negative inside
    Vec2 away = Vec2::Zero();  ///< its gradient: a unit vector
  };

  /// Rings without repeated points, outer ones counter-clockwise, holes clockwise.
  explicit OutlineMap(const std::vector<Ring>& rings);

  /// Exact up to kReach_mm from the outlines' box; beyond, the distance from a box round it.
  Query At(const Vec2& p) const;

  /// Never more than At(p).distance, a few operations.
  double Lower(const Vec2& p) const {
    const Vec2 at = (p - low_) / kCell_mm;
    if (at.x() >= 0.0 && at.y() >= 0.0 && at.x() < columns_ && at.y() < rows_) {
      return static_cast<double>(cells_[Index(at)].middle) - kHalfDiagonal_mm;
    }
    return (p - p.cwiseMax(box_.low).cwiseMin(box_.high)).norm();
  }

  const Rect2& box() const { return box_; }

  static constexpr double kReach_mm = 30.0;

 private:
  // [mm] Side of a cell: two or three edges are candidates in most, and a box has a few thousand.
  static constexpr double kCell_mm = 5.0;
  static constexpr double kHalfDiagonal_mm = 0.70711 * kCell_mm;
  struct Edge {
    Vec2 from, along;
    double inverse2;      // 1 / |along|²
    Vec2 normal;          // outwards, unit
    Vec2 at_from, at_to;  // outwards at the ends: the sum of both edges' normals
  };
  struct Cell {
    float middle = 0.0f;      // signed distance of the cell's middle
    std::uint32_t first = 0;  // its edges in candidates_ …
    std::uint32_t count = 0;
  };
  std::size_t Index(const Vec2& at) const {
    return static_cast<std::size_t>(static_cast<int>(at.y()) * columns_ + static_cast<int>(at.x()));
  }
  Query Among(const Vec2& p, const std::uint32_t* edges, std::size_t count) const;

  Rect2 box_;
  Vec2 low_ = Vec2::Zero();
  int columns_ = 0, rows_ = 0;
  std::vector<Edge> edges_;
  std::vector<Cell> cells_;
  std::vector<std::uint32_t> candidates_;
};

}  // namespace lidwright
