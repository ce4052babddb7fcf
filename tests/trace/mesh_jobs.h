// SPDX-License-Identifier: Apache-2.0
// Jobs made from the chests of mesh_maker.h, and what is said about them.
#pragma once

#include <catch2/catch.hpp>
#include <string>

#include "lidwright/trace/mesh_job.h"
#include "mesh_maker.h"

namespace mesh_jobs {

using namespace lidwright;
using mesh_maker::Chest;

inline MeshWish Wish() {
  MeshWish wish;
  wish.case_file = "case.stl";
  wish.lid_file = "lid.stl";
  wish.hinge_side = MeshAxis::kMinusY;
  return wish;
}

inline MeshJob Made(const Mesh& box, const Mesh& lid, const MeshWish& wish = Wish()) {
  return JobFromMeshes(mesh_maker::Binary(mesh_maker::ZUp(box)),
                       mesh_maker::Binary(mesh_maker::ZUp(lid)), wish);
}
inline MeshJob Made(const Chest& chest, const MeshWish& wish = Wish(), double step = 4.0) {
  return Made(chest.Body(false, step), chest.Body(true, step), wish);
}

inline std::string Faults(const MeshJob& made) {
  std::string text;
  for (const Problem& problem : made.problems) text += Describe(problem) + "\n";
  CHECK(made.job.has_value() == made.problems.empty());
  return text;
}

inline bool Says(const MeshJob& made, const std::string& text) {
  for (const std::string& note : made.notes) {
    if (note.find(text) != std::string::npos) return true;
  }
  return false;
}

inline Mesh Moved(Mesh mesh, const Vec3& by) {
  for (Vec3& p : mesh.points) p += by;
  return mesh;
}
inline Mesh Scaled(Mesh mesh, double by) {
  for (Vec3& p : mesh.points) p *= by;
  return mesh;
}

}  // namespace mesh_jobs
