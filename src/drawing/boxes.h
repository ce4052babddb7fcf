// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/geometry/ring.h"

namespace lidwright {

inline Box2 Grown(const Box2& box, double by_mm) {
  return {box.low - Vec2::Constant(by_mm), box.high + Vec2::Constant(by_mm)};
}

/// Do the boxes share more than their borders?
inline bool Overlap(const Box2& a, const Box2& b) {
  return a.low.x() < b.high.x() && b.low.x() < a.high.x() && a.low.y() < b.high.y() &&
         b.low.y() < a.high.y();
}

inline bool Inside(const Box2& inner, const Box2& outer) {
  return inner.low.x() >= outer.low.x() && inner.low.y() >= outer.low.y() &&
         inner.high.x() <= outer.high.x() && inner.high.y() <= outer.high.y();
}

inline Vec2 Size(const Box2& box) {
  return box.high - box.low;
}

inline Vec2 Middle(const Box2& box) {
  return (box.low + box.high) / 2.0;
}

/// The smallest box around both.
inline Box2 Joined(Box2 a, const Box2& b) {
  a.Add(b.low);
  a.Add(b.high);
  return a;
}

inline Ring RingOf(const Box2& box) {
  return {box.low, {box.high.x(), box.low.y()}, box.high, {box.low.x(), box.high.y()}};
}

/// The shares of a–b between which it runs inside the box; first ≥ second if it does not.
std::pair<double, double> SharesWithin(const Vec2& a, const Vec2& b, const Box2& box);

}  // namespace lidwright
