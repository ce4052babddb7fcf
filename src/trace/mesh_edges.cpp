// SPDX-License-Identifier: Apache-2.0
#include "trace/mesh_edges.h"

#include <algorithm>

#include "lidwright/base/check.h"

namespace lidwright {

MeshEdges EdgesOf(const Mesh& mesh) {
  struct Side {
    std::uint32_t high, facet, corner;
  };
  const std::size_t count = mesh.facets.size();
  // Sides sorted by their lower point by counting; the few at one point by their other point.
  std::vector<std::uint32_t> start(mesh.points.size() + 1, 0);
  const auto low_of = [&](std::size_t f, std::size_t k) {
    return std::min(mesh.facets[f][k], mesh.facets[f][(k + 1) % 3]);
  };
  for (std::size_t f = 0; f < count; ++f) {
    for (std::size_t k = 0; k < 3; ++k) ++start[low_of(f, k) + 1];
  }
  for (std::size_t i = 1; i < start.size(); ++i) start[i] += start[i - 1];
  std::vector<Side> sides(3 * count);
  std::vector<std::uint32_t> next(start.begin(), start.end() - 1);
  for (std::size_t f = 0; f < count; ++f) {
    for (std::size_t k = 0; k < 3; ++k) {
      const std::uint32_t a = mesh.facets[f][k], b = mesh.facets[f][(k + 1) % 3];
      LW_REQUIRE(a != b, "facet " << f);
      sides[next[std::min(a, b)]++] = {std::max(a, b), static_cast<std::uint32_t>(f),
                                       static_cast<std::uint32_t>(k)};
    }
  }
  MeshEdges result;
  result.of_facet.resize(count);
  result.facets.reserve(3 * count);
  result.edges.reserve(3 * count / 2 + 1);
  for (std::size_t p = 0; p + 1 < start.size(); ++p) {
    const auto begin = sides.begin() + start[p], end = sides.begin() + start[p + 1];
    std::sort(begin, end, [](const Side& a, const Side& b) {
      return a.high != b.high ? a.high < b.high : a.facet < b.facet;
    });
    for (auto side = begin; side != end; ++side) {
      if (side == begin || side->high != (side - 1)->high) {
        result.first.push_back(static_cast<std::uint32_t>(result.facets.size()));
        result.edges.push_back({static_cast<std::uint32_t>(p), side->high});
      }
      result.of_facet[side->facet][side->corner] =
          static_cast<std::uint32_t>(result.edges.size() - 1);
      result.facets.push_back(side->facet);
    }
  }
  result.first.push_back(static_cast<std::uint32_t>(result.facets.size()));
  return result;
}

}  // namespace lidwright
