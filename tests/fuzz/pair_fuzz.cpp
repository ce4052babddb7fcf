// SPDX-License-Identifier: Apache-2.0
#include <cstring>

#include "fuzz.h"
#include "lidwright/trace/mesh_job.h"
#include "trace/mesh_maker.h"

using namespace lidwright;

namespace {

const Mesh& Chest(bool lid) {
  static const Mesh kChests[2] = {[] {
                                    mesh_maker::Chest chest;
                                    chest.dome_pieces = 6;
                                    return chest.Body(false, 80.0);
                                  }(),
                                  [] {
                                    mesh_maker::Chest chest;
                                    chest.dome_pieces = 6;
                                    return chest.Body(true, 80.0);
                                  }()};
  return kChests[lid];
}

// Edits of a sound pair, five bytes each: which point goes how far which way, or which facet goes.
void Edit(const std::uint8_t* data, std::size_t size, Mesh meshes[2]) {
  for (; size >= 5; data += 5, size -= 5) {
    Mesh& mesh = meshes[data[0] & 1];
    const std::size_t which = data[1] + 256u * data[2];
    const double step = static_cast<std::int8_t>(data[4]) * ((data[0] & 2) != 0 ? 1.0 : 0.001);
    if ((data[0] & 0xF0) == 0xF0) {
      if (mesh.facets.size() > 1) {
        mesh.facets.erase(mesh.facets.begin() +
                          static_cast<std::ptrdiff_t>(which % mesh.facets.size()));
      }
    } else if ((data[0] & 0xF0) == 0xE0) {
      for (Vec3& p : mesh.points) p[data[3] % 3] += step;
    } else {
      mesh.points[which % mesh.points.size()][data[3] % 3] += step;
    }
  }
}

}  // namespace

// The first byte says what comes: two files, the first one's length in two bytes, or edits of a
// sound pair.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size < 3) return 0;
  MeshWish wish;
  wish.case_file = "case.stl";
  wish.lid_file = "lid.stl";
  wish.name = "pair";
  wish.up = MeshAxis::kY;
  wish.hinge_side = MeshAxis::kMinusX;
  wish.inches = (data[0] & 2) != 0;
  wish.error_mm = 0.5;
  wish.most_stations = 30;
  std::string bytes[2];
  if ((data[0] & 1) != 0) {
    const std::size_t first = std::min<std::size_t>(data[1] + 256u * data[2], size - 3);
    bytes[0].assign(reinterpret_cast<const char*>(data) + 3, first);
    bytes[1].assign(reinterpret_cast<const char*>(data) + 3 + first, size - 3 - first);
  } else {
    Mesh meshes[2] = {Chest(false), Chest(true)};
    Edit(data + 1, size - 1, meshes);
    for (const int part : {0, 1}) bytes[part] = mesh_maker::Binary(meshes[part]);
  }
  const MeshJob made = JobFromMeshes(bytes[0], bytes[1], wish);
  fuzz::Law(made.job.has_value() == made.problems.empty(), "a job, or what is wrong with the pair");
  fuzz::LawOfProblems(made.problems);
  if (made.job) fuzz::LawsOfJob(*made.job);
  return 0;
}
