// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <vector>

#include "boxes.h"
#include "lidwright/drawing/canvas.h"
#include "lidwright/geometry/outline.h"
#include "lidwright/geometry/pose.h"
#include "lidwright/geometry/ring.h"

namespace lidwright {

/// How a plane of the model lies on the page: page point = origin + scale · model point.
struct View {
  double scale = 1.0;  ///< millimetres on paper per millimetre
  Vec2 origin = Vec2::Zero();

  Vec2 operator()(const Vec2& p) const { return origin + scale * p; }
  Rect2 operator()(const Rect2& box) const { return {(*this)(box.low), (*this)(box.high)}; }
  Circle operator()(const Circle& c) const { return {(*this)(c.centre), scale * c.radius_mm}; }

  Trail operator()(const Outline& outline) const {
    Trail trail{outline.vertices, true};
    for (OutlineVertex& v : trail.vertices) v.point = (*this)(v.point);
    return trail;
  }
  Path operator()(const std::vector<Ring>& rings, const Pose& pose = {}) const {
    Path path;
    for (const Ring& ring : rings) {
      Trail trail{{}, true};
      for (const Vec2& p : ring) trail.vertices.push_back({(*this)(pose * p), 0.0});
      path.push_back(std::move(trail));
    }
    return path;
  }
  /// An open run of points.
  Path Line(const std::vector<Vec2>& points) const {
    Trail trail;
    for (const Vec2& p : points) trail.vertices.push_back({(*this)(p), 0.0});
    return {trail};
  }
};

/// A box of the model as large as a room on the page lets it be, in its middle.
inline View Fitting(const Rect2& room, const Rect2& model) {
  const double scale = std::min(Size(room).x() / Size(model).x(), Size(room).y() / Size(model).y());
  return {scale, Middle(room) - scale * Middle(model)};
}

/// An open run of points on the page.
inline Path PageLine(const std::vector<Vec2>& points) {
  return View{}.Line(points);
}

/// A closed ring on the page.
inline Path PageRing(const Ring& ring) {
  return View{}(std::vector<Ring>{ring});
}

}  // namespace lidwright
