// SPDX-License-Identifier: Apache-2.0
#include "trace/mesh_slab.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"

namespace lidwright {
namespace {

constexpr std::size_t kMostColumns = 256;

std::size_t VerticesIn(const std::vector<Ring>& rings) {
  std::size_t count = 0;
  for (const Ring& ring : rings) count += ring.size();
  return count;
}

}  // namespace

RuledSlab::RuledSlab(const std::vector<Ring>& first, const std::vector<Ring>& second) {
  LW_REQUIRE(first.size() == second.size(), first.size() << " and " << second.size() << " rings");
  edges_.reserve(VerticesIn(first));
  for (std::size_t r = 0; r < first.size(); ++r) {
    const Ring &p = first[r], &q = second[r];
    LW_REQUIRE(p.size() == q.size(), p.size() << " and " << q.size() << " vertices");
    sizes_.push_back(p.size());
    for (std::size_t i = 0; i < p.size(); ++i) {
      const std::size_t j = (i + 1) % p.size();
      edges_.push_back({p[i], p[j], q[i], q[j]});
      box_.Add(p[i]);
      box_.Add(q[i]);
    }
  }
  const std::size_t columns = std::clamp<std::size_t>(edges_.size(), 1, kMostColumns);
  first_.assign(columns + 1, 0);
  const auto span = [this](const Edge& e) {
    return std::pair(ColumnOf(std::min({e.a0.x(), e.b0.x(), e.a1.x(), e.b1.x()})),
                     ColumnOf(std::max({e.a0.x(), e.b0.x(), e.a1.x(), e.b1.x()})));
  };
  for (const Edge& e : edges_) {
    const auto [from, to] = span(e);
    for (std::size_t c = from; c <= to; ++c) ++first_[c + 1];
  }
  for (std::size_t c = 1; c < first_.size(); ++c) first_[c] += first_[c - 1];
  in_column_.resize(first_.back());
  std::vector<std::uint32_t> next(first_.begin(), first_.end() - 1);
  for (std::size_t i = 0; i < edges_.size(); ++i) {
    const auto [from, to] = span(edges_[i]);
    for (std::size_t c = from; c <= to; ++c) in_column_[next[c]++] = static_cast<std::uint32_t>(i);
  }
}

std::size_t RuledSlab::ColumnOf(double x) const {
  const std::size_t columns = first_.size() - 1;
  const double width = box_.high.x() - box_.low.x();
  if (!(width > 0.0)) return 0;
  const double at = (x - box_.low.x()) / width * static_cast<double>(columns);
  return std::min(columns - 1, static_cast<std::size_t>(std::max(0.0, at)));
}

double RuledSlab::Distance(const Vec2& p, double t, double limit_mm) const {
  double best2 = std::numeric_limits<double>::infinity();
  const std::size_t to = ColumnOf(p.x() + limit_mm);
  for (std::size_t c = ColumnOf(p.x() - limit_mm); c <= to; ++c) {
    for (std::uint32_t i = first_[c]; i < first_[c + 1]; ++i) {
      const Edge& e = edges_[in_column_[i]];
      if (std::max({e.a0.y(), e.b0.y(), e.a1.y(), e.b1.y()}) < p.y() - limit_mm ||
          std::min({e.a0.y(), e.b0.y(), e.a1.y(), e.b1.y()}) > p.y() + limit_mm) {
        continue;
      }
      const Vec2 a = e.a0 + t * (e.a1 - e.a0), b = e.b0 + t * (e.b1 - e.b0);
      best2 = std::min(best2, (p - NearestOnSegment(p, a, b)).squaredNorm());
    }
  }
  return std::sqrt(best2);
}

std::vector<Ring> RuledSlab::At(double t) const {
  std::vector<Ring> rings;
  std::size_t i = 0;
  for (const std::size_t size : sizes_) {
    Ring ring;
    ring.reserve(size);
    for (std::size_t k = 0; k < size; ++k, ++i) {
      ring.push_back(edges_[i].a0 + t * (edges_[i].a1 - edges_[i].a0));
    }
    rings.push_back(std::move(ring));
  }
  return rings;
}

std::vector<MeshLoop> SectionOf(const MeshSlicer& mesh, double z) {
  std::vector<MeshLoop> loops;
  for (const Ring& ring : mesh.At(z)) {
    const Rect2 box = Bounds(ring);
    if ((box.high - box.low).maxCoeff() < kBlendError_mm) continue;
    Ring simple = Simplified(ring, kSectionError_mm);
    if (simple.size() >= 3) loops.emplace_back(std::move(simple));
  }
  return loops;
}

double Deviation(const RuledSlab& slab, const MeshSlicer& mesh, double z0, double z1,
                 double enough_mm) {
  double worst = 0.0;
  const auto ask = [&](const RuledSlab& of, const Vec2& p, double t) {
    // Near first: most points lie within a hair.
    double limit = 0.01, d = of.Distance(p, t, limit);
    while (d > limit && limit < 1e4) {
      if (limit > enough_mm) break;
      limit *= 8.0;
      d = of.Distance(p, t, limit);
    }
    worst = std::max(worst, d);
    return worst <= enough_mm;
  };
  for (const double t : {0.5, 0.25, 0.75}) {
    const std::vector<MeshLoop> truth = SectionOf(mesh, z0 + t * (z1 - z0));
    const std::vector<Ring> blend = slab.At(t);
    if (truth.size() != blend.size()) return std::numeric_limits<double>::infinity();
    std::vector<Ring> rings;
    for (const MeshLoop& loop : truth) rings.push_back(loop.ring());
    for (const Ring& ring : rings) {
      for (const Vec2& p : ring) {
        if (!ask(slab, p, t)) return worst;
      }
    }
    const RuledSlab still(rings, rings);
    for (const Ring& ring : blend) {
      for (const Vec2& p : ring) {
        if (!ask(still, p, 0.0)) return worst;
      }
    }
  }
  const auto& points = mesh.mesh().points;
  const auto& order = mesh.points_by_z();
  auto it = std::upper_bound(order.begin(), order.end(), z0 + kSliceNudge_mm,
                             [&](double z, std::uint32_t i) { return z < points[i].z(); });
  for (; it != order.end() && points[*it].z() < z1 - kSliceNudge_mm; ++it) {
    const Vec3& p = points[*it];
    if (!ask(slab, {p.x(), p.y()}, (p.z() - z0) / (z1 - z0))) return worst;
  }
  return worst;
}

std::pair<Ring, Ring> AllVertices(const MeshLoop& a, const MeshLoop& b, const LoopMatch& match) {
  std::vector<std::pair<double, double>> places;
  for (std::size_t i = 0; i < a.ring().size(); ++i) {
    places.emplace_back(a.PlaceOf(i), match.ToSecond(a.PlaceOf(i)));
  }
  for (std::size_t i = 0; i < b.ring().size(); ++i) {
    places.emplace_back(match.ToFirst(b.PlaceOf(i)), b.PlaceOf(i));
  }
  std::sort(places.begin(), places.end());
  std::pair<Ring, Ring> rings;
  for (const auto& [s, t] : places) {
    rings.first.push_back(a.At(s));
    rings.second.push_back(b.At(t));
  }
  return rings;
}

}  // namespace lidwright
