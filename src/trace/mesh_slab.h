// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "trace/mesh_loop.h"
#include "trace/mesh_slicer.h"

namespace lidwright {

/// The ruled solid between two sections with matching vertices, made ready for distances: at share
/// t of the way the outlines are (1 − t) first + t second.
class RuledSlab {
 public:
  /// Requires equal numbers of rings and of their vertices.
  RuledSlab(const std::vector<Ring>& first, const std::vector<Ring>& second);

  /// Distance of p from the outlines at t, if it is at most `limit_mm`; else something greater.
  double Distance(const Vec2& p, double t, double limit_mm) const;
  std::vector<Ring> At(double t) const;

 private:
  struct Edge {
    Vec2 a0, b0, a1, b1;
  };
  std::size_t ColumnOf(double x) const;
  std::vector<Edge> edges_;
  std::vector<std::size_t> sizes_;
  Rect2 box_;
  std::vector<std::uint32_t> first_, in_column_;
};

/// [mm] Sections of a mesh are simplified by this much before anything else is done with them.
inline constexpr double kSectionError_mm = 0.005;

/// The mesh's section at z, simplified; crumbs less than kBlendError_mm across are left out.
std::vector<MeshLoop> SectionOf(const MeshSlicer& mesh, double z);

/// How far the mesh and the slab from z0 to z1 lie apart, as far as measured: each point of the
/// mesh between them from the slab's outline at its height (points within kSliceNudge_mm of z0 and
/// z1 are not asked), and both outlines from each other at the quarter points. Stops at the first
/// distance over `enough_mm`, so that a result over that is only a lower bound. Infinity if a
/// section has another number of outlines than the slab.
double Deviation(const RuledSlab& slab, const MeshSlicer& mesh, double z0, double z1,
                 double enough_mm);

/// The two loops with every vertex of either and its counterpart on the other.
std::pair<Ring, Ring> AllVertices(const MeshLoop& a, const MeshLoop& b, const LoopMatch& match);

}  // namespace lidwright
