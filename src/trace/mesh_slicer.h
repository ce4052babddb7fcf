// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/geometry/ring.h"
#include "trace/mesh_edges.h"

namespace lidwright {

/// Sections of a mended mesh across its z axis. Made once, then each section costs about the facets
/// it cuts: facets lie in bins of z, and the outline is walked from facet to facet.
class MeshSlicer {
 public:
  /// Takes a mesh on which an even number of facets meets on every edge.
  explicit MeshSlicer(Mesh mesh);

  /// The outlines at z, one point for every edge cut, outer rings counter-clockwise and holes
  /// clockwise by even-odd nesting; which way round the facets run does not matter. Points at
  /// exactly this height count as above it, so the section is the limit from below. Slivers
  /// (under three points, or area under 1e-6 mm²) are left out. Not thread-safe.
  std::vector<Ring> At(double z) const;

  const Mesh& mesh() const { return mesh_; }
  double z_min() const { return z_min_; }
  double z_max() const { return z_max_; }
  /// Indices of the points by growing z.
  const std::vector<std::uint32_t>& points_by_z() const { return points_by_z_; }

 private:
  std::size_t BinOf(double z) const;
  bool Cut(std::size_t facet, double z) const;
  Vec2 Crossing(std::uint32_t edge, double z) const;
  std::uint32_t Across(std::uint32_t edge, std::uint32_t facet) const;

  Mesh mesh_;
  MeshEdges edges_;
  double z_min_ = 0.0, z_max_ = 0.0;
  std::vector<std::uint32_t> points_by_z_;
  std::vector<std::uint32_t> bin_first_, bin_facets_;
  mutable std::vector<std::uint32_t> seen_;  // by facet: number of the last walk through it
  mutable std::uint32_t walk_ = 0;
};

}  // namespace lidwright
