// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/trace/mesh.h"

namespace lidwright {

/// Which facets meet on which edge.
struct MeshEdges {
  struct Edge {
    std::uint32_t low, high;  ///< its points, low < high
  };
  std::vector<Edge> edges;
  std::vector<std::array<std::uint32_t, 3>> of_facet;  ///< edge k joins corners k and k + 1
  std::vector<std::uint32_t> first;  ///< edge e has facets[first[e]] … facets[first[e + 1] − 1]
  std::vector<std::uint32_t> facets;  ///< by edge

  std::size_t Count(std::size_t edge) const { return first[edge + 1] - first[edge]; }
};

/// Linear in the number of facets. Requires facets of three different points.
MeshEdges EdgesOf(const Mesh& mesh);

}  // namespace lidwright
