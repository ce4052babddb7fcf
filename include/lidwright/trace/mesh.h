// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <Eigen/Core>
#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "lidwright/base/problem.h"

namespace lidwright {

using Vec3 = Eigen::Vector3d;

/// A surface of triangles with shared points, in whatever frame and unit it came.
struct Mesh {
  std::vector<Vec3> points;
  std::vector<std::array<std::uint32_t, 3>> facets;  ///< counter-clockwise seen from outside
};

struct MeshReading {
  Mesh mesh;
  std::vector<std::string> notes;  ///< what was odd or mended, as sentences without full stop
  Problems problems;               ///< if there are any, the mesh is not to be used
};

/// Reads the bytes of an STL file, binary or ASCII; `file_name` is only named in the problems.
/// Corners with the same three numbers become one point.
///
/// A file is binary if its size is 84 + 50 n bytes for the n at byte 80, whatever its header says;
/// else text if it begins with "solid". The facets' normals and attribute bytes are not used.
/// Noted: bytes after the last facet of a binary file, a text that lacks only its "endsolid",
/// several solids in one text (they are taken together).
///
/// Fails, each as a Problem with the line (text) or the facet's number (binary) where there is one:
/// an empty file, one that is no STL (with what it seems to be), a truncated one, a binary file
/// that went through a text conversion, a number that is none or not finite, more than kMostFacets
/// facets, no facet at all.
MeshReading ReadStl(const std::string& bytes, const std::string& file_name);

/// Makes the mesh watertight where that is harmless and says what it did. Places in notes and
/// problems are in the mesh's own numbers; `mm_per_unit` is only for the limits below.
///
/// Mended: points within kTouch_mm of each other along open edges, facets without area, facets
/// given twice, pairs of facets back to back inside a body, facets that run the wrong way round,
/// joints where one side of an edge is divided and the other is not, and holes that are flat within
/// kBlendError_mm and are one facet or no more than 1 % of the surface. `greatest_fill_mm`, if
/// given, becomes how far the fillings' edges lie off their planes.
///
/// Fails: holes beyond that, and edges on which an odd number of facets meet, with the place of the
/// first of each; a mesh that vanishes.
/// Afterwards an even number of facets meets on every edge.
MeshReading MendMesh(Mesh mesh, const std::string& file_name, double mm_per_unit,
                     double* greatest_fill_mm = nullptr);

/// Volume enclosed by a mended mesh, negative if it is inside out (divergence theorem: the sum of
/// the tetrahedra from the origin to the facets).
double Volume(const Mesh& mesh);

}  // namespace lidwright
