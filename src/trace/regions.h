// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <vector>

#include "lidwright/geometry/vec.h"

struct GEOSGeom_t;

namespace lidwright {

/// A connected region: inside its outline (counter-clockwise) and outside its holes (clockwise).
struct Patch {
  Ring outline;
  std::vector<Ring> holes;
};

/// A region of the plane, of GEOS. Corners of what is put together stay as they were given, to the
/// last bit; where edges cross the place is rounded. Every operation fails with std::runtime_error
/// if GEOS finds no answer; with simple outlines it always has.
class Region {
 public:
  Region() = default;  ///< nothing

  /// Requires a simple outline and simple holes within it, in any sense of turning. Holes may
  /// overlap: all of them are taken out.
  static Region Of(const Ring& outline, const std::vector<Ring>& holes);

  std::vector<Patch> Patches() const;
  double Area_mm2() const;
  double Edge_mm() const;   ///< length of all its edges
  bool Negligible() const;  ///< so little area for its edges that it is only rounding

  friend Region Union(const std::vector<Region>& regions);
  friend Region Minus(const Region& first, const Region& second);
  friend Region Common(const Region& first, const Region& second);
  /// All within `by_mm` (if negative: less all within −by_mm of its edges), with sharp corners.
  friend Region Grown(const Region& region, double by_mm);
  friend double Apart_mm(const Region& first, const Region& second, Vec2* at);

 private:
  explicit Region(GEOSGeom_t* geometry);
  bool Empty() const;

  std::shared_ptr<GEOSGeom_t> geometry_;  // none: empty
};

Region Union(const std::vector<Region>& regions);
Region Minus(const Region& first, const Region& second);
Region Common(const Region& first, const Region& second);
Region Grown(const Region& region, double by_mm);

/// Distance of two regions that are not empty, 0 if they meet; `at`, if given, becomes the point of
/// the first that is nearest to the second.
double Apart_mm(const Region& first, const Region& second, Vec2* at = nullptr);

/// Points that were given, to find back from a place that rounding has moved by up to 2 kUnited_mm.
class GivenPoints {
 public:
  explicit GivenPoints(std::vector<Vec2> points);
  Vec2 At(const Vec2& place) const;  ///< the nearest given point so near, else the place itself

 private:
  std::vector<Vec2> points_;  // by growing x
};

/// The fields that lines enclose, wherever they cross, touch or run along each other, as
/// counter-clockwise rings of at least three points. Crossings are rounded to kUnited_mm.
std::vector<Ring> FieldsOf(const std::vector<std::vector<Vec2>>& lines);

}  // namespace lidwright
