// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <memory>
#include <vector>

#include "lidwright/cutting/nest.h"

namespace lidwright {

/// Cells first … last of a row.
struct Run {
  int first = 0, last = 0;
};

/// A part turned one way, as runs of cells that hold everything within half the spacing of it.
/// Cell (0, 0) has its corner at the lower left corner of the outline's box.
struct NestShape {
  double angle_rad = 0.0;
  Rect2 box;  ///< of the turned outline
  int first_row = 0;
  std::vector<std::vector<Run>> rows;
};

/// Offsets (in cells, of shape b from shape a) at which their cells would meet: by rows, as growing
/// runs that do not touch.
struct Forbidden {
  int first_row = 0;
  std::vector<std::vector<Run>> rows;
};

/// All shapes that parts may take, and the forbidden offsets of each pair, made when first asked
/// for. Parts that are the same outline share their shapes.
class NestShapes {
 public:
  NestShapes(const std::vector<NestPart>& parts, const Stock& stock, const NestOptions& options);

  double cell_mm() const { return cell_mm_; }
  /// The ways part i may lie and still fit the sheet, as indices of shapes.
  const std::vector<std::size_t>& WaysOf(std::size_t part) const { return ways_[part]; }
  const NestShape& Shape(std::size_t shape) const { return shapes_[shape]; }
  const Forbidden& Between(std::size_t a, std::size_t b);

  /// The box of a part that fits no sheet, in its way that comes nearest to it.
  Vec2 LeastSize(std::size_t part) const { return least_size_[part]; }

 private:
  double cell_mm_ = 1.0;
  std::vector<NestShape> shapes_;
  std::vector<std::vector<std::size_t>> ways_;
  std::vector<Vec2> least_size_;
  std::vector<std::unique_ptr<Forbidden>> between_;
};

}  // namespace lidwright
