// SPDX-License-Identifier: Apache-2.0
#include <map>

#include "fuzz.h"
#include "lidwright/trace/mesh.h"
#include "trace/mesh_maker.h"

using namespace lidwright;

namespace {

void LawOfEdges(const Mesh& mesh) {
  std::map<std::pair<std::uint32_t, std::uint32_t>, int> edges;
  for (const auto& f : mesh.facets) {
    for (std::size_t k = 0; k < 3; ++k) ++edges[std::minmax(f[k], f[(k + 1) % 3])];
  }
  for (const auto& [edge, count] : edges) {
    fuzz::Law(edge.first != edge.second && edge.second < mesh.points.size(), "an edge is one");
    fuzz::Law(count % 2 == 0, "an even number of facets meets on every edge");
  }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string bytes(reinterpret_cast<const char*>(data), size);
  const MeshReading reading = ReadStl(bytes, "mesh.stl");
  fuzz::LawOfProblems(reading.problems);
  if (!reading.problems.empty()) return 0;
  fuzz::Law(!reading.mesh.facets.empty(), "a mesh, or what is wrong with it");
  // Written and read again, binary or text, it is the same mesh.
  for (const bool text : {false, true}) {
    const std::string written =
        text ? mesh_maker::Ascii(reading.mesh) : mesh_maker::Binary(reading.mesh);
    const MeshReading back = ReadStl(written, "back.stl");
    fuzz::Law(back.problems.empty() && back.mesh.facets == reading.mesh.facets &&
                  back.mesh.points == reading.mesh.points,
              "read, written and read it is the same");
  }
  const MeshReading mended = MendMesh(reading.mesh, "mesh.stl", 1.0);
  fuzz::LawOfProblems(mended.problems);
  if (!mended.problems.empty()) return 0;
  LawOfEdges(mended.mesh);
  fuzz::Law(std::isfinite(Volume(mended.mesh)) && Volume(mended.mesh) > 0.0, "it encloses room");
  return 0;
}
