// SPDX-License-Identifier: Apache-2.0
// Meshes for tests and benchmarks, made from rings: what they are is known by how they are made.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstring>
#include <string>
#include <vector>

#include "lidwright/base/numbers.h"
#include "lidwright/geometry/ring.h"
#include "lidwright/solid/solid.h"
#include "lidwright/trace/mesh.h"

namespace mesh_maker {

using lidwright::Mesh;
using lidwright::Ring;
using lidwright::Vec2;
using lidwright::Vec3;

inline std::uint32_t Add(Mesh& mesh, const Vec3& p) {
  mesh.points.push_back(p);
  return static_cast<std::uint32_t>(mesh.points.size() - 1);
}

/// A flat face over a simple ring at z, by cutting ears; facing +z if `up`.
inline void Cap(Mesh& mesh, const std::vector<std::uint32_t>& at, const Ring& ring, bool up) {
  std::vector<std::size_t> left;
  for (std::size_t i = 0; i < ring.size(); ++i) left.push_back(i);
  const auto cross = [&](std::size_t a, std::size_t b, std::size_t c) {
    return lidwright::Cross(Vec2(ring[b] - ring[a]), Vec2(ring[c] - ring[a]));
  };
  while (left.size() >= 3) {
    std::size_t ear = left.size();
    for (std::size_t i = 0; i < left.size() && ear == left.size(); ++i) {
      const std::size_t n = left.size();
      const std::size_t a = left[(i + n - 1) % n], b = left[i], c = left[(i + 1) % n];
      if (cross(a, b, c) <= 1e-9) continue;
      bool empty = true;
      for (const std::size_t j : left) {
        if (j == a || j == b || j == c) continue;
        empty = empty && !(cross(a, b, j) >= 0 && cross(b, c, j) >= 0 && cross(c, a, j) >= 0);
      }
      if (empty) ear = i;
    }
    if (ear == left.size()) ear = 0;  // what is left is in line
    const std::size_t n = left.size();
    std::array<std::uint32_t, 3> facet{at[left[(ear + n - 1) % n]], at[left[ear]],
                                       at[left[(ear + 1) % n]]};
    if (!up) std::swap(facet[1], facet[2]);
    mesh.facets.push_back(facet);
    left.erase(left.begin() + static_cast<std::ptrdiff_t>(ear));
  }
}

struct Section {
  double z;
  Ring ring;
};

/// A closed body through sections with the same number of vertices, counter-clockwise.
inline void AddBody(Mesh& mesh, const std::vector<Section>& sections) {
  std::vector<std::uint32_t> before;
  for (std::size_t s = 0; s < sections.size(); ++s) {
    std::vector<std::uint32_t> now;
    for (const Vec2& p : sections[s].ring) now.push_back(Add(mesh, {p.x(), p.y(), sections[s].z}));
    if (s == 0) {
      Cap(mesh, now, sections[s].ring, false);
    } else {
      for (std::size_t i = 0; i < now.size(); ++i) {
        const std::size_t j = (i + 1) % now.size();
        mesh.facets.push_back({before[i], before[j], now[j]});
        mesh.facets.push_back({before[i], now[j], now[i]});
      }
    }
    before = now;
  }
  Cap(mesh, before, sections.back().ring, true);
}

/// As AddBody, but its surface only, turned inside: a cavity.
inline void AddCavity(Mesh& mesh, const std::vector<Section>& sections) {
  const std::size_t first = mesh.facets.size();
  AddBody(mesh, sections);
  for (std::size_t f = first; f < mesh.facets.size(); ++f) {
    std::swap(mesh.facets[f][1], mesh.facets[f][2]);
  }
}

inline Ring Box(double x0, double y0, double x1, double y1) {
  return {{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}};
}

inline std::string Binary(const Mesh& mesh, const std::string& header = "lidwright test") {
  std::string bytes = header;
  bytes.resize(80, ' ');
  const auto count = static_cast<std::uint32_t>(mesh.facets.size());
  bytes.append(reinterpret_cast<const char*>(&count), 4);
  for (const auto& facet : mesh.facets) {
    float values[12] = {};
    for (std::size_t k = 0; k < 3; ++k) {
      for (int c = 0; c < 3; ++c) {
        values[3 + 3 * k + static_cast<std::size_t>(c)] =
            static_cast<float>(mesh.points[facet[k]][c]);
      }
    }
    bytes.append(reinterpret_cast<const char*>(values), sizeof values);
    bytes.append(2, '\0');
  }
  return bytes;
}

inline std::string Ascii(const Mesh& mesh) {
  std::string text = "solid test\n";
  for (const auto& facet : mesh.facets) {
    text += " facet normal 0 0 0\n  outer loop\n";
    for (const std::uint32_t i : facet) {
      text += "   vertex";
      for (int c = 0; c < 3; ++c) {
        text += " " + lidwright::Exact(static_cast<float>(mesh.points[i][c]));
      }
      text += "\n";
    }
    text += "  endloop\n endfacet\n";
  }
  return text + "endsolid test\n";
}

/// Axes of a program that has z up, the hinge's side at −y: (x, y, z) of the job -> (z, x, y).
inline Mesh ZUp(Mesh mesh) {
  for (Vec3& p : mesh.points) p = Vec3(p.z(), p.x(), p.y());
  return mesh;
}

/// A chest by its measures, its sections by formulas of their own: every bow and arch a circular
/// arc by its rise, the dome a circular arc over the depth, hollowed to a concentric one.
struct Chest {
  double width = 340, depth = 220, height = 120, wall = 12, floor = 12;
  double bow = 10, arch = 8, rim = 14, crown = 38, top = 12;
  int dome_pieces = 64;
  int edge_pieces = 1;  ///< every edge is divided so, for meshes of many facets

  static double Arc(double half, double rise, double s) {
    if (rise == 0.0) return 0.0;
    const double r = (half * half + rise * rise) / (2 * rise);
    return std::sqrt(r * r - s * s) - (r - rise);
  }
  double Back(double z) const { return -Arc(width / 2, bow, z); }
  double Seam(double z) const { return Arc(width / 2, arch, z); }
  /// Case: outside, then the inside from the front to the back, which is `pocket` vertices long
  /// from index 3; with `solid` only its first and last.
  Ring Case(double z, bool solid) const { return Divided(PlainCase(z, solid), solid ? 3 : -1); }
  /// Lid: the inside from the back to the front from index 1, then the outside.
  Ring Lid(double z, bool solid) const { return Divided(PlainLid(z, solid), solid ? 1 : -1); }

  Ring Divided(const Ring& ring, int whole_edge) const {
    Ring out;
    for (std::size_t i = 0; i < ring.size(); ++i) {
      const int pieces = static_cast<int>(i) == whole_edge ? 1 : edge_pieces;
      for (int k = 0; k < pieces; ++k) {
        out.push_back(ring[i] + (ring[(i + 1) % ring.size()] - ring[i]) * k / pieces);
      }
    }
    return out;
  }
  Ring PlainCase(double z, bool solid) const {
    const double b = Back(z), s = Seam(z), low = -height, in = low + floor;
    Ring ring{{b, low}, {depth, low}, {depth, s}, {depth - wall, s}};
    if (!solid) ring.insert(ring.end(), {{depth - wall, in}, {b + wall, in}});
    ring.insert(ring.end(), {{b + wall, s}, {b, s}});
    return ring;
  }
  Ring PlainLid(double z, bool solid) const {
    const double b = Back(z), s = Seam(z), band = s + rim, rise = Arc(width / 2, crown, z);
    const double middle = (b + depth) / 2, half = (depth - b) / 2, inner = half - wall;
    const double r = rise > 1e-9 ? (half * half + rise * rise) / (2 * rise) : 0;
    Ring ring{{b, s}, {b + wall, s}};
    if (!solid) {
      for (int i = 0; i <= dome_pieces; ++i) {
        const double x = inner * (2.0 * i / dome_pieces - 1);
        const double up = r > 0 ? std::sqrt((r - top) * (r - top) - x * x) - (r - rise) : -top;
        ring.push_back({middle + x, std::max(s + 0.1, band + up)});
      }
    }
    ring.insert(ring.end(), {{depth - wall, s}, {depth, s}});
    for (int i = 0; i <= dome_pieces; ++i) {
      const double x = half * (1 - 2.0 * i / dome_pieces);
      ring.push_back({middle + x, band + (r > 0 ? std::sqrt(r * r - x * x) - (r - rise) : 0)});
    }
    return ring;
  }
  /// Closed mesh of case or lid through sections about `step` apart: side faces, the ends, and the
  /// inner faces of the end walls.
  Mesh Body(bool lid, double step) const {
    Mesh mesh;
    const double half = width / 2, face = half - wall;
    const auto ring = [&](double z, bool solid) { return lid ? Lid(z, solid) : Case(z, solid); };
    const auto sides = [&](double from, double to, bool solid) {
      const int n = std::max(1, static_cast<int>(std::ceil((to - from) / step)));
      std::vector<std::uint32_t> before;
      for (int k = 0; k <= n; ++k) {
        const double z = k == n ? to : from + (to - from) * k / n;
        std::vector<std::uint32_t> now;
        for (const Vec2& p : ring(z, solid)) now.push_back(Add(mesh, {p.x(), p.y(), z}));
        for (std::size_t i = 0; k > 0 && i < now.size(); ++i) {
          const std::size_t j = (i + 1) % now.size();
          mesh.facets.push_back({before[i], before[j], now[j]});
          mesh.facets.push_back({before[i], now[j], now[i]});
        }
        before = now;
      }
    };
    const auto cap = [&](const Ring& r, double z, bool up) {
      std::vector<std::uint32_t> at;
      for (const Vec2& p : r) at.push_back(Add(mesh, {p.x(), p.y(), z}));
      Cap(mesh, at, r, up);
    };
    const auto pocket = [&](double z) {  // the inside's section, counter-clockwise
      const Ring r = ring(z, false);
      const int first = edge_pieces * (lid ? 1 : 3);
      const int last = edge_pieces * (lid ? dome_pieces + 3 : 6);
      Ring in(r.begin() + first, r.begin() + last + 1);
      std::reverse(in.begin(), in.end());
      return in;
    };
    cap(ring(-half, true), -half, false);
    sides(-half, -face, true);
    cap(pocket(-face), -face, true);
    sides(-face, face, false);
    cap(pocket(face), face, false);
    sides(face, half, true);
    cap(ring(half, true), half, true);
    return mesh;
  }
};

}  // namespace mesh_maker
