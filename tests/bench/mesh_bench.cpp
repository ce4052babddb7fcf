// SPDX-License-Identifier: Apache-2.0
// Slicing a pair of meshes of 200 000 facets each against the plain way: every facet asked for
// every section, ends matched by their rounded places.
#include <sys/resource.h>

#include <cstdio>
#include <cstdlib>
#include <map>

#include "clock.h"
#include "lidwright/trace/mesh_job.h"
#include "trace/mesh_maker.h"
#include "trace/mesh_slicer.h"

using namespace lidwright;

namespace {

constexpr int kStations = 60;

std::vector<Ring> PlainSection(const Mesh& mesh, double z) {
  using Key = std::pair<long long, long long>;
  const auto key = [](const Vec2& p) {
    return Key(std::llround(p.x() * 1e5), std::llround(p.y() * 1e5));
  };
  std::map<Key, std::vector<Vec2>> next;
  for (const auto& f : mesh.facets) {
    Vec2 ends[2];
    int count = 0;
    for (std::size_t k = 0; k < 3 && count < 2; ++k) {
      Vec3 a = mesh.points[f[k]], b = mesh.points[f[(k + 1) % 3]];
      if ((a.z() < z) == (b.z() < z)) continue;
      if (a.z() > b.z()) std::swap(a, b);
      const double t = (z - a.z()) / (b.z() - a.z());
      ends[count++] = {a.x() + t * (b.x() - a.x()), a.y() + t * (b.y() - a.y())};
    }
    if (count < 2 || key(ends[0]) == key(ends[1])) continue;
    next[key(ends[0])].push_back(ends[1]);
    next[key(ends[1])].push_back(ends[0]);
  }
  std::vector<Ring> rings;
  while (!next.empty()) {
    Ring ring;
    Vec2 at = next.begin()->second[0];
    for (auto it = next.find(key(at)); it != next.end(); it = next.find(key(at))) {
      ring.push_back(at);
      const std::vector<Vec2> ways = it->second;
      next.erase(it);
      for (const Vec2& way : ways) {
        if (next.count(key(way))) at = way;
      }
    }
    if (ring.size() >= 3) rings.push_back(ring);
  }
  return rings;
}

double Area(const std::vector<Ring>& rings) {
  double area = 0.0;
  for (const Ring& ring : rings) area += std::abs(SignedArea(ring));
  return area;
}

double PeakMemory_mb() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return static_cast<double>(usage.ru_maxrss) / 1024.0;
}

}  // namespace

int main() {
  mesh_maker::Chest chest;
  std::string bytes[2];
  for (const bool lid : {false, true}) {
    chest.edge_pieces = lid ? 2 : 20;
    const Mesh mesh = mesh_maker::ZUp(chest.Body(lid, lid ? 0.92 : 0.545));
    bytes[lid] = mesh_maker::Binary(mesh);
  }
  MeshWish wish;
  wish.hinge_side = MeshAxis::kMinusY;
  const double before = PeakMemory_mb();
  MeshJob made;
  const double whole = bench::Best(3, [&] { made = JobFromMeshes(bytes[0], bytes[1], wish); });
  const double memory = PeakMemory_mb();
  if (!made.job) {
    for (const Problem& problem : made.problems) std::printf("%s\n", Describe(problem).c_str());
    return 1;
  }
  std::printf("facets                     %zu and %zu\n", (bytes[0].size() - 84) / 50,
              (bytes[1].size() - 84) / 50);
  std::printf("files to job               %8.3f s    %zu stations, error %.3f mm\n", whole,
              made.stations, made.error_mm);
  std::printf("peak memory                %8.0f MB   (%.0f MB before, files and made meshes)\n",
              memory, before);

  // Sections alone, at the same places.
  double read = 0.0, ours = 0.0, plain = 0.0, difference = 0.0;
  for (const std::string& file : bytes) {
    Mesh mesh;
    read += bench::Best(3, [&] { mesh = ReadStl(file, "").mesh; });
    for (Vec3& p : mesh.points) p = Vec3(p.y(), p.z(), p.x());
    std::vector<double> areas(kStations), plain_areas(kStations);
    const auto place = [](int i) { return -169.3 + 338.6 * i / (kStations - 1); };
    ours += bench::Best(3, [&] {
      const MeshSlicer slicer(mesh);
      for (int i = 0; i < kStations; ++i)
        areas[static_cast<std::size_t>(i)] = Area(slicer.At(place(i)));
    });
    plain += bench::Best(3, [&] {
      for (int i = 0; i < kStations; ++i) {
        plain_areas[static_cast<std::size_t>(i)] = Area(PlainSection(mesh, place(i)));
      }
    });
    for (std::size_t i = 0; i < areas.size(); ++i) {
      difference = std::max(difference, std::abs(areas[i] - plain_areas[i]) / areas[i]);
    }
  }
  std::printf("reading                    %8.3f s\n", read);
  std::printf("60 sections of each        %8.3f s    with making the slicer\n", ours);
  std::printf("60 sections, plain         %8.3f s    areas differ by %.1e at most\n", plain,
              difference);
  std::printf("ratio, sections            %8.1f x\n", plain / ours);
  return difference < 1e-6 ? 0 : 1;
}
