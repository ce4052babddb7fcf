// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/trace/mesh.h"
#include "lidwright/trace/mesh_job.h"

namespace lidwright {

/// Turns a mesh so that x runs from the back to the front, y up and z across, in millimetres.
void TurnMesh(const MeshWish& wish, Mesh* mesh);

/// What is plainly wrong with size or place of the two turned meshes, before anything is cut.
Problems PlacingFaults(const Mesh& box, const Mesh& lid, const MeshWish& wish);

/// "200 mm", "7.874 in".
std::string LengthOf(double mm, const MeshWish& wish);

}  // namespace lidwright
