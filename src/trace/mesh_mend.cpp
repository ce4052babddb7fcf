// SPDX-License-Identifier: Apache-2.0
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>
#include <unordered_map>

#include "lidwright/base/numbers.h"
#include "lidwright/base/tolerances.h"
#include "trace/mesh_holes.h"

namespace lidwright {
namespace {

using Facet = std::array<std::uint32_t, 3>;

Facet Sorted(Facet facet) {
  std::sort(facet.begin(), facet.end());
  return facet;
}

// "1 facet", "3 facets".
std::string Counted(std::size_t count, const std::string& what) {
  return std::to_string(count) + " " + what + (count == 1 ? "" : "s");
}

using Cell = std::array<std::int64_t, 3>;

struct CellHash {
  std::size_t operator()(const Cell& cell) const {
    std::uint64_t hash = 0;
    for (const std::int64_t at : cell) {
      hash = (hash ^ static_cast<std::uint64_t>(at)) * 0x9e3779b97f4a7c15ULL;
      hash ^= hash >> 29;
    }
    return hash;
  }
};

class Mender {
 public:
  Mender(Mesh mesh, const std::string& file, double mm_per_unit)
      : file_(file), mm_per_unit_(mm_per_unit) {
    result_.mesh = std::move(mesh);
  }

  MeshReading Mend(double* greatest_fill_mm) {
    DropFlat("without area are left out");
    DropDuplicates();
    JoinOpenPoints();
    given_ = mesh().facets.size();
    const HoleFilling filling = FillHoles(&mesh(), edges_, mm_per_unit_);
    if (greatest_fill_mm) *greatest_fill_mm = filling.greatest_off_mm;
    if (filling.holes + filling.joints > 0) edges_ = EdgesOf(mesh());
    if (filling.holes > 0) {
      Note(Counted(static_cast<std::size_t>(filling.holes), "hole") + " closed flat, " +
           Text(filling.greatest_off_mm) + " mm off at most");
    }
    if (filling.joints > 0) {
      Note(Counted(static_cast<std::size_t>(filling.joints), "joint") +
           " closed where an edge is divided on one side only");
    }
    RefuseOddEdges();
    if (mesh().facets.empty()) {
      result_.problems.push_back({file_, 0, "", "", "nothing is left of the mesh", ""});
    }
    if (result_.problems.empty()) TurnAlike();
    if (result_.problems.empty() && Volume(mesh()) == 0.0) {
      result_.problems.push_back({file_, 0, "", "", "the surface encloses nothing", ""});
    }
    return std::move(result_);
  }

 private:
  Mesh& mesh() { return result_.mesh; }
  void Note(const std::string& text) { result_.notes.push_back(text); }

  void DropFlat(const std::string& said) {
    const std::size_t before = mesh().facets.size();
    std::erase_if(mesh().facets,
                  [](const Facet& f) { return f[0] == f[1] || f[1] == f[2] || f[2] == f[0]; });
    if (mesh().facets.size() < before) {
      Note(Counted(before - mesh().facets.size(), "facet") + " " + said);
    }
    edges_ = EdgesOf(mesh());
  }

  // Equal facets can only be where not two meet on an edge, or two with the same third point. One
  // of them stays, or none if the surface is whole without it: a wall inside a body.
  void DropDuplicates() {
    std::map<Facet, std::vector<std::uint32_t>> alike;
    for (std::uint32_t f = 0; f < mesh().facets.size(); ++f) {
      for (const std::uint32_t e : edges_.of_facet[f]) {
        const std::uint32_t* there = &edges_.facets[edges_.first[e]];
        if (edges_.Count(e) == 1) continue;
        if (edges_.Count(e) == 2 &&
            Sorted(mesh().facets[there[0]]) != Sorted(mesh().facets[there[1]])) {
          continue;
        }
        alike[Sorted(mesh().facets[f])].push_back(f);
        break;
      }
    }
    std::vector<bool> drop(mesh().facets.size(), false);
    std::size_t twice = 0, inside = 0;
    for (const auto& [corners, facets] : alike) {
      if (facets.size() < 2) continue;
      bool whole = true;
      for (const std::uint32_t e : edges_.of_facet[facets[0]]) {
        const std::size_t others = edges_.Count(e) - facets.size();
        whole = whole && others % 2 == 0 && others > 0;
      }
      const bool all = whole && facets.size() % 2 == 0 && BackToBack(facets);
      for (std::size_t i = all ? 0 : 1; i < facets.size(); ++i) drop[facets[i]] = true;
      (all ? inside : twice) += facets.size() - (all ? 0 : 1);
    }
    if (twice + inside == 0) return;
    if (twice > 0) Note(Counted(twice, "facet") + " given twice, one of each left out");
    if (inside > 0) Note(Counted(inside, "facet") + " back to back inside a body left out");
    std::vector<Facet> kept;
    for (std::size_t f = 0; f < drop.size(); ++f) {
      if (!drop[f]) kept.push_back(mesh().facets[f]);
    }
    mesh().facets = std::move(kept);
    edges_ = EdgesOf(mesh());
  }

  bool BackToBack(const std::vector<std::uint32_t>& facets) {
    int turn = 0;
    for (const std::uint32_t f : facets) {
      Facet facet = mesh().facets[f];
      std::rotate(facet.begin(), std::min_element(facet.begin(), facet.end()), facet.end());
      turn += facet[1] < facet[2] ? 1 : -1;
    }
    return turn == 0;
  }

  // For each of these points that lies within kTouch_mm of one before it, that one: the nearest.
  // In cells of four times that, few points that keep apart have room, and most points' reach ends
  // within their own.
  std::unordered_map<std::uint32_t, std::uint32_t> Joined(const std::vector<std::uint32_t>& open) {
    const double reach = kTouch_mm / mm_per_unit_, cell = 4.0 * reach;
    std::unordered_map<std::uint32_t, std::uint32_t> becomes;
    std::unordered_map<Cell, std::vector<std::uint32_t>, CellHash> cells;
    cells.reserve(open.size());
    for (const std::uint32_t i : open) {
      const Vec3& p = mesh().points[i];
      if ((p / cell).cwiseAbs().maxCoeff() > 1e15) return {};  // no such file is meant
      const auto cell_of = [cell](const Vec3& q) -> Cell {
        const Vec3 at = (q / cell).array().floor();
        return {static_cast<std::int64_t>(at.x()), static_cast<std::int64_t>(at.y()),
                static_cast<std::int64_t>(at.z())};
      };
      const Cell low = cell_of(p - Vec3::Constant(reach)),
                 high = cell_of(p + Vec3::Constant(reach));
      double nearest = reach;
      for (std::int64_t x = low[0]; x <= high[0]; ++x) {
        for (std::int64_t y = low[1]; y <= high[1]; ++y) {
          for (std::int64_t z = low[2]; z <= high[2]; ++z) {
            const auto there = cells.find({x, y, z});
            if (there == cells.end()) continue;
            for (const std::uint32_t j : there->second) {
              const double apart = (mesh().points[j] - p).norm();
              if (apart > nearest || (apart == nearest && becomes.count(i))) continue;
              nearest = apart;
              becomes[i] = j;
            }
          }
        }
      }
      if (!becomes.count(i)) cells[cell_of(p)].push_back(i);
    }
    return becomes;
  }

  // Points of open edges that are within kTouch_mm become one.
  void JoinOpenPoints() {
    std::vector<std::uint32_t> open;
    for (std::size_t e = 0; e < edges_.edges.size(); ++e) {
      if (edges_.Count(e) != 1) continue;
      open.push_back(edges_.edges[e].low);
      open.push_back(edges_.edges[e].high);
    }
    std::sort(open.begin(), open.end());
    open.erase(std::unique(open.begin(), open.end()), open.end());
    if (open.empty()) return;
    const std::unordered_map<std::uint32_t, std::uint32_t> becomes = Joined(open);
    if (becomes.empty()) return;
    for (Facet& facet : mesh().facets) {
      for (std::uint32_t& corner : facet) {
        if (const auto it = becomes.find(corner); it != becomes.end()) corner = it->second;
      }
    }
    Note(Counted(becomes.size(), "point") + " joined with one within " + Text(kTouch_mm) + " mm");
    DropFlat("that thereby lost their area are left out");
    DropDuplicates();
  }

  void RefuseOddEdges() {
    std::size_t open = 0, odd = 0, first_open = 0, first_odd = 0;
    for (std::size_t e = 0; e < edges_.edges.size(); ++e) {
      const std::size_t count = edges_.Count(e);
      if (count % 2 == 0) continue;
      if (count == 1 && open++ == 0) first_open = e;
      if (count > 1 && odd++ == 0) first_odd = e;
    }
    const auto at = [&](std::size_t e) {
      const auto& edge = edges_.edges[e];
      return "near " + PlaceText((mesh().points[edge.low] + mesh().points[edge.high]) / 2.0);
    };
    if (open > 0) {
      result_.problems.push_back(
          {file_, 0, at(first_open), "",
           "the surface has a hole that cannot be closed without guessing (" +
               Counted(open, "open edge") + " in all)",
           open == edges_.edges.size() || 3 * open > mesh().facets.size()
               ? "a surface without thickness is no solid: give it one"
               : "close it in the program that made the mesh"});
    }
    if (odd > 0) {
      result_.problems.push_back({file_, 0, at(first_odd), "",
                                  "three or another odd number of facets meet on an edge (" +
                                      Counted(odd, "such edge") + " in all)",
                                  "join the bodies into one solid before exporting"});
    }
  }

  // Neighbours run an edge in opposite directions; in each connected piece the majority is right.
  void TurnAlike() {
    std::vector<char> seen(mesh().facets.size(), 0);
    std::vector<std::uint32_t> piece;
    std::vector<char> turned;
    std::size_t turned_in_all = 0;
    for (std::uint32_t start = 0; start < mesh().facets.size(); ++start) {
      if (seen[start]) continue;
      piece.assign(1, start);
      turned.assign(1, 0);
      seen[start] = 1;
      std::size_t count = 0;
      for (std::size_t i = 0; i < piece.size(); ++i) {
        const std::uint32_t f = piece[i];
        for (std::size_t k = 0; k < 3; ++k) {
          const std::uint32_t e = edges_.of_facet[f][k];
          if (edges_.Count(e) != 2) continue;
          const std::uint32_t* there = &edges_.facets[edges_.first[e]];
          const std::uint32_t g = there[0] == f ? there[1] : there[0];
          if (seen[g]) continue;
          seen[g] = 1;
          piece.push_back(g);
          const bool same_way = RunsUp(f, e) == RunsUp(g, e);
          turned.push_back(static_cast<char>(turned[i] ^ static_cast<char>(same_way)));
          count += static_cast<std::size_t>(turned.back());
        }
      }
      const char wrong = 2 * count > piece.size() ? 0 : 1;
      for (std::size_t i = 0; i < piece.size(); ++i) {
        if (turned[i] != wrong) continue;
        std::swap(mesh().facets[piece[i]][1], mesh().facets[piece[i]][2]);
        turned_in_all += piece[i] < given_;  // fillings lie as they were cut
      }
    }
    if (turned_in_all > 0)
      Note(Counted(turned_in_all, "facet") + " ran the wrong way round, turned");
    if (Volume(mesh()) < 0.0) {
      for (Facet& facet : mesh().facets) std::swap(facet[1], facet[2]);
      Note("the surface was inside out, turned");
    }
  }

  bool RunsUp(std::uint32_t f, std::uint32_t e) {
    for (std::size_t k = 0; k < 3; ++k) {
      if (edges_.of_facet[f][k] == e) return mesh().facets[f][k] == edges_.edges[e].low;
    }
    return false;
  }

  const std::string& file_;
  double mm_per_unit_;
  MeshReading result_;
  MeshEdges edges_;
  std::size_t given_ = 0;  // facets before holes were filled
};

}  // namespace

MeshReading MendMesh(Mesh mesh, const std::string& file_name, double mm_per_unit,
                     double* greatest_fill_mm) {
  return Mender(std::move(mesh), file_name, mm_per_unit).Mend(greatest_fill_mm);
}

double Volume(const Mesh& mesh) {
  if (mesh.facets.empty()) return 0.0;
  const Vec3 base = mesh.points[mesh.facets[0][0]];  // near the mesh, for accuracy
  double six = 0.0;
  for (const auto& f : mesh.facets) {
    six +=
        (mesh.points[f[0]] - base).dot((mesh.points[f[1]] - base).cross(mesh.points[f[2]] - base));
  }
  return six / 6.0;
}

}  // namespace lidwright
