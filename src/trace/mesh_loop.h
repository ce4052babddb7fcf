// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <utility>
#include <vector>

#include "lidwright/geometry/ring.h"

namespace lidwright {

/// One outline of a section with places on it: s runs from 0 to length() and round again.
class MeshLoop {
 public:
  /// Requires three points or more, none twice in a row.
  explicit MeshLoop(Ring ring);

  struct Corner {
    double s;
    Vec2 at;
    double turn_rad;  ///< positive: to the left
  };

  const Ring& ring() const { return ring_; }
  double length() const { return along_.back(); }
  /// Place of vertex i.
  double PlaceOf(std::size_t i) const { return along_[i]; }
  Vec2 At(double s) const;
  /// Index of the first vertex beyond s (0 ≤ s < length), size() if none.
  std::size_t After(double s) const;
  /// Where the outline turns by more than 15 degrees at one vertex.
  const std::vector<Corner>& corners() const { return corners_; }
  bool hole() const { return hole_; }
  const Rect2& box() const { return box_; }

 private:
  Ring ring_;
  std::vector<double> along_;  // one more than vertices
  std::vector<Corner> corners_;
  bool hole_;
  Rect2 box_;
};

/// The ring with vertices left out so that it stays within error_mm (Douglas–Peucker from the two
/// ends of its width and height). May come back with fewer than three points: then it is a crumb.
Ring Simplified(const Ring& ring, double error_mm);

/// Which places of two loops of neighbouring sections belong together: corners with their like,
/// what lies between in proportion to length.
class LoopMatch {
 public:
  LoopMatch(const MeshLoop& a, const MeshLoop& b);
  double ToSecond(double s) const { return Map(anchors_, length_a_, length_b_, s, false); }
  double ToFirst(double s) const { return Map(anchors_, length_b_, length_a_, s, true); }

 private:
  using Anchors = std::vector<std::pair<double, double>>;
  static double Map(const Anchors& anchors, double from_length, double to_length, double s,
                    bool back);
  // From the first on both coordinates grow; they may pass the length and go on from there.
  Anchors anchors_;
  double length_a_, length_b_;
};

/// For each loop of `a` the loop of `b` that continues it, as indices; empty if numbers differ or
/// a hole would become an outline. Chosen by nearest middles.
std::vector<std::size_t> PairLoops(const std::vector<MeshLoop>& a, const std::vector<MeshLoop>& b);

}  // namespace lidwright
