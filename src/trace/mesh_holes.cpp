// SPDX-License-Identifier: Apache-2.0
#include "trace/mesh_holes.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>
#include <unordered_map>

#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "lidwright/geometry/ring.h"

namespace lidwright {
namespace {

using OpenLoop = std::vector<std::uint32_t>;  // points in order

// A hole of more than one facet may be this share of the whole surface.
constexpr double kLargestHole = 0.01;
// A hole of more corners is no slip of a mesh, and cutting ears is quadratic in them.
constexpr std::size_t kMostHoleCorners = 5000;

// Is there a facet with these three points, whose own edges are no hole? The loop's edges have one
// facet each, so it would be theirs.
bool IsFacet(const Mesh& mesh, const MeshEdges& edges, const OpenLoop& loop, std::uint32_t edge) {
  std::array<std::uint32_t, 3> facet = mesh.facets[edges.facets[edges.first[edge]]];
  OpenLoop sorted = loop;
  std::sort(sorted.begin(), sorted.end());
  std::sort(facet.begin(), facet.end());
  return std::equal(facet.begin(), facet.end(), sorted.begin());
}

struct Loops {
  std::vector<OpenLoop> points;
  std::vector<std::uint32_t> edge;  // one of each
};

// Closed walks over the edges that have one facet, split where they pass a point again.
Loops OpenLoops(const MeshEdges& edges) {
  std::map<std::uint32_t, std::vector<std::uint32_t>> at;  // point -> open edges
  for (std::uint32_t e = 0; e < edges.edges.size(); ++e) {
    if (edges.Count(e) != 1) continue;
    at[edges.edges[e].low].push_back(e);
    at[edges.edges[e].high].push_back(e);
  }
  std::vector<bool> used(edges.edges.size(), false);
  std::unordered_map<std::uint32_t, std::size_t> on_path;  // point -> where it stands
  Loops loops;
  for (const auto& [start, unused] : at) {
    OpenLoop path{start};
    on_path = {{start, 0}};
    for (;;) {
      std::vector<std::uint32_t>& here = at.at(path.back());
      while (!here.empty() && used[here.back()]) here.pop_back();
      if (here.empty()) break;  // back at the start with nothing left, or a dead end
      const std::uint32_t e = here.back();
      used[e] = true;
      const auto& edge = edges.edges[e];
      const std::uint32_t next = edge.low == path.back() ? edge.high : edge.low;
      const auto before = on_path.find(next);
      if (before == on_path.end()) {
        on_path[next] = path.size();
        path.push_back(next);
        continue;
      }
      const auto from = path.begin() + static_cast<std::ptrdiff_t>(before->second);
      loops.points.emplace_back(from, path.end());
      loops.edge.push_back(e);
      for (auto point = from + 1; point != path.end(); ++point) on_path.erase(*point);
      path.erase(from + 1, path.end());
    }
  }
  return loops;
}

// Twice the area vector of a closed walk (Newell).
Vec3 AreaVector(const std::vector<Vec3>& points) {
  Vec3 sum = Vec3::Zero();
  for (std::size_t i = 0; i < points.size(); ++i) {
    sum += (points[i] - points[0]).cross(points[(i + 1) % points.size()] - points[0]);
  }
  return sum;
}

// Cuts ears off a flat polygon; what is degenerate is cut as it comes.
void CutEars(const Ring& flat, const OpenLoop& loop, Mesh* mesh) {
  std::vector<std::size_t> left(loop.size());
  for (std::size_t i = 0; i < left.size(); ++i) left[i] = i;
  while (left.size() >= 3) {
    const std::size_t n = left.size();
    std::size_t ear = n;
    for (std::size_t i = 0; i < n && ear == n; ++i) {
      const Vec2 &a = flat[left[(i + n - 1) % n]], &b = flat[left[i]], &c = flat[left[(i + 1) % n]];
      if (Cross(Vec2(b - a), Vec2(c - b)) <= 0.0) continue;
      bool empty = true;
      for (std::size_t j = 0; j < n && empty; ++j) {
        const Vec2& p = flat[left[j]];
        if (p == a || p == b || p == c) continue;
        empty = Cross(Vec2(b - a), Vec2(p - a)) < 0.0 || Cross(Vec2(c - b), Vec2(p - b)) < 0.0 ||
                Cross(Vec2(a - c), Vec2(p - c)) < 0.0;
      }
      if (empty) ear = i;
    }
    if (ear == n) ear = 0;
    mesh->facets.push_back(
        {loop[left[(ear + n - 1) % n]], loop[left[ear]], loop[left[(ear + 1) % n]]});
    left.erase(left.begin() + static_cast<std::ptrdiff_t>(ear));
  }
}

}  // namespace

std::string PlaceText(const Vec3& p) {
  return "(" + Text(p.x()) + ", " + Text(p.y()) + ", " + Text(p.z()) + ")";
}

HoleFilling FillHoles(Mesh* mesh, const MeshEdges& edges, double mm_per_unit) {
  HoleFilling filling;
  double surface = 0.0;
  for (const auto& f : mesh->facets) {
    const Vec3& a = mesh->points[f[0]];
    surface += (mesh->points[f[1]] - a).cross(mesh->points[f[2]] - a).norm();
  }
  const Loops loops = OpenLoops(edges);
  for (std::size_t l = 0; l < loops.points.size(); ++l) {
    const OpenLoop& loop = loops.points[l];
    if (loop.size() > kMostHoleCorners) continue;
    std::vector<Vec3> points;
    double around = 0.0;
    for (std::size_t i = 0; i < loop.size(); ++i) {
      points.push_back(mesh->points[loop[i]]);
      around += (points.back() - mesh->points[loop[(i + 1) % loop.size()]]).norm();
    }
    const Vec3 area = AreaVector(points);
    // A joint: all points within kTouch of a line, so that the area is next to nothing.
    const bool joint = area.norm() * mm_per_unit <= kTouch_mm * around;
    Vec3 normal = area.normalized();
    if (joint) normal = (points[1] - points[0]).unitOrthogonal();
    const Vec3 along = normal.unitOrthogonal(), across = normal.cross(along);
    Ring flat;
    double off = 0.0;
    for (const Vec3& p : points) {
      flat.emplace_back(along.dot(p - points[0]), across.dot(p - points[0]));
      off = std::max(off, std::abs(normal.dot(p - points[0])));
    }
    if (!joint && loop.size() > 3 &&
        (off * mm_per_unit > kBlendError_mm || area.norm() > kLargestHole * surface)) {
      continue;
    }
    if (loop.size() == 3 && IsFacet(*mesh, edges, loop, loops.edge[l])) continue;
    CutEars(flat, loop, mesh);
    ++(joint ? filling.joints : filling.holes);
    filling.greatest_off_mm = std::max(filling.greatest_off_mm, joint ? 0.0 : off * mm_per_unit);
  }
  return filling;
}

}  // namespace lidwright
