// SPDX-License-Identifier: Apache-2.0
#include "boxes.h"

#include <algorithm>

namespace lidwright {

std::pair<double, double> SharesWithin(const Vec2& a, const Vec2& b, const Rect2& box) {
  // Clipped by the two sides of each axis in turn (Liang and Barsky 1984).
  double from = 0.0, to = 1.0;
  for (int k = 0; k < 2; ++k) {
    const double step = b[k] - a[k];
    if (step == 0.0) {
      if (a[k] < box.low[k] || a[k] > box.high[k]) return {1.0, 0.0};
      continue;
    }
    const double s = (box.low[k] - a[k]) / step, t = (box.high[k] - a[k]) / step;
    from = std::max(from, std::min(s, t));
    to = std::min(to, std::max(s, t));
  }
  return {from, to};
}

}  // namespace lidwright
