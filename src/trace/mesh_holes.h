// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "trace/mesh_edges.h"

namespace lidwright {

struct HoleFilling {
  int holes = 0;                 ///< filled
  int joints = 0;                ///< without area: one side of an edge was divided
  double greatest_off_mm = 0.0;  ///< farthest that a filled hole's edge lies off its plane
};

/// Closes the holes that may be closed (see MendMesh) with facets over their own points.
HoleFilling FillHoles(Mesh* mesh, const MeshEdges& edges, double mm_per_unit);

/// "(1, 2.5, 3)".
std::string PlaceText(const Vec3& p);

}  // namespace lidwright
