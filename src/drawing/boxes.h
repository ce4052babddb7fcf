// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/geometry/ring.h"

namespace lidwright {

inline Rect2 Grown(const Rect2& box, double by_mm) {
  return {box.low - Vec2::Constant(by_mm), box.high + Vec2::Constant(by_mm)};
}

/// Do the boxes share more than their borders?
inline bool Overlap(const Rect2& a, const Rect2& b) {
  return a.low.x() < b.high.x() && b.low.x() < a.high.x() && a.low.y() < b.high.y() &&
         b.low.y() < a.high.y();
}

inline bool Inside(const Rect2& inner, const Rect2& outer) {
  return inner.low.x() >= outer.low.x() && inner.low.y() >= outer.low.y() &&
         inner.high.x() <= outer.high.x() && inner.high.y() <= outer.high.y();
}

inline Vec2 Size(const Rect2& box) {
  return box.high - box.low;
}

inline Vec2 Middle(const Rect2& box) {
  return (box.low + box.high) / 2.0;
}

/// The smallest box around both.
inline Rect2 Joined(Rect2 a, const Rect2& b) {
  a.Add(b.low);
  a.Add(b.high);
  return a;
}

inline Ring RingOf(const Rect2& box) {
  return {box.low, {box.high.x(), box.low.y()}, box.high, {box.low.x(), box.high.y()}};
}

/// The shares of a–b between which it runs inside the box; first ≥ second if it does not.
std::pair<double, double> SharesWithin(const Vec2& a, const Vec2& b, const Rect2& box);

}  // namespace lidwright
