// SPDX-License-Identifier: Apache-2.0
#include "lidwright/geometry/crossings.h"

#include <algorithm>

namespace lidwright {

std::vector<double> Crossings(const std::vector<Ring>& rings, bool level, double at) {
  std::vector<double> places;
  const int over = level ? 1 : 0, along = 1 - over;
  for (const Ring& ring : rings) {
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const Vec2 &a = ring[i], &b = ring[(i + 1) % ring.size()];
      if ((a[over] < at) == (b[over] < at)) continue;
      places.push_back(a[along] + (at - a[over]) / (b[over] - a[over]) * (b[along] - a[along]));
    }
  }
  std::sort(places.begin(), places.end());
  return places;
}

}  // namespace lidwright
