// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cmath>
#include <polyclipping/clipper.hpp>
#include <vector>

#include "lidwright/geometry/vec.h"

namespace lidwright::testing {

/// Areas of unions by Clipper, which works in whole numbers, here of a millionth of a millimetre,
/// and shares nothing with GEOS, which unites in the program.
class ClipperRegion {
 public:
  /// The union of pieces, each given by its rings, even-odd within the piece.
  void AddPiece(const std::vector<Ring>& rings) {
    ClipperLib::Clipper clipper;
    clipper.AddPaths(Paths(rings), ClipperLib::ptSubject, true);
    ClipperLib::Paths piece;
    clipper.Execute(ClipperLib::ctUnion, piece, ClipperLib::pftEvenOdd, ClipperLib::pftEvenOdd);
    ClipperLib::Clipper both;
    both.AddPaths(paths_, ClipperLib::ptSubject, true);
    both.AddPaths(piece, ClipperLib::ptClip, true);
    both.Execute(ClipperLib::ctUnion, paths_, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
  }

  double Area_mm2() const { return Area(paths_); }
  double Minus_mm2(const ClipperRegion& other) const {
    return Combined(other, ClipperLib::ctDifference);
  }
  /// Area that only one of the two has.
  double Unlike_mm2(const ClipperRegion& other) const { return Combined(other, ClipperLib::ctXor); }

 private:
  static constexpr double kPerMm = 1e6;

  static ClipperLib::Paths Paths(const std::vector<Ring>& rings) {
    ClipperLib::Paths paths;
    for (const Ring& ring : rings) {
      ClipperLib::Path path;
      for (const Vec2& p : ring) {
        path.emplace_back(std::llround(p.x() * kPerMm), std::llround(p.y() * kPerMm));
      }
      paths.push_back(path);
    }
    return paths;
  }
  static double Area(const ClipperLib::Paths& paths) {
    double area = 0.0;
    for (const ClipperLib::Path& path : paths) area += ClipperLib::Area(path);
    return area / (kPerMm * kPerMm);
  }
  double Combined(const ClipperRegion& other, ClipperLib::ClipType how) const {
    ClipperLib::Clipper clipper;
    clipper.AddPaths(paths_, ClipperLib::ptSubject, true);
    clipper.AddPaths(other.paths_, ClipperLib::ptClip, true);
    ClipperLib::Paths result;
    clipper.Execute(how, result, ClipperLib::pftNonZero, ClipperLib::pftNonZero);
    return Area(result);
  }

  ClipperLib::Paths paths_;
};

}  // namespace lidwright::testing
