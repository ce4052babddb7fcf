// SPDX-License-Identifier: Apache-2.0
#include "trace/mesh_slicer.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "lidwright/base/check.h"

namespace lidwright {
namespace {

constexpr double kSliver_mm2 = 1e-6;
// Entries of all bins together stay under this many per facet, however long the facets are.
constexpr std::size_t kBinEntries = 4;
constexpr std::size_t kMostBins = 4096;

}  // namespace

MeshSlicer::MeshSlicer(Mesh mesh) : mesh_(std::move(mesh)), edges_(EdgesOf(mesh_)) {
  LW_REQUIRE(!mesh_.facets.empty(), "no facets");
  std::vector<char> used(mesh_.points.size(), 0);
  for (const auto& f : mesh_.facets) used[f[0]] = used[f[1]] = used[f[2]] = 1;
  for (std::uint32_t i = 0; i < used.size(); ++i) {
    if (used[i]) points_by_z_.push_back(i);
  }
  std::sort(points_by_z_.begin(), points_by_z_.end(), [&](std::uint32_t a, std::uint32_t b) {
    const double za = mesh_.points[a].z(), zb = mesh_.points[b].z();
    return za != zb ? za < zb : a < b;
  });
  z_min_ = mesh_.points[points_by_z_.front()].z();
  z_max_ = mesh_.points[points_by_z_.back()].z();

  const auto span = [&](std::size_t f) {
    const auto& c = mesh_.facets[f];
    const double a = mesh_.points[c[0]].z(), b = mesh_.points[c[1]].z(), d = mesh_.points[c[2]].z();
    return std::pair(BinOf(std::min({a, b, d})), BinOf(std::max({a, b, d})));
  };
  for (std::size_t bins = kMostBins;; bins /= 2) {
    bin_first_.assign(bins + 1, 0);
    std::size_t entries = 0;
    for (std::size_t f = 0; f < mesh_.facets.size(); ++f) {
      const auto [from, to] = span(f);
      entries += to - from + 1;
    }
    if (bins == 1 || entries <= kBinEntries * mesh_.facets.size() + kMostBins) break;
  }
  std::vector<std::size_t> next(bin_first_.size(), 0);
  for (std::size_t f = 0; f < mesh_.facets.size(); ++f) {
    const auto [from, to] = span(f);
    for (std::size_t b = from; b <= to; ++b) ++bin_first_[b + 1];
  }
  for (std::size_t b = 1; b < bin_first_.size(); ++b) bin_first_[b] += bin_first_[b - 1];
  std::copy(bin_first_.begin(), bin_first_.end(), next.begin());
  bin_facets_.resize(bin_first_.back());
  for (std::size_t f = 0; f < mesh_.facets.size(); ++f) {
    const auto [from, to] = span(f);
    for (std::size_t b = from; b <= to; ++b) bin_facets_[next[b]++] = static_cast<std::uint32_t>(f);
  }
  seen_.assign(mesh_.facets.size(), 0);
}

std::size_t MeshSlicer::BinOf(double z) const {
  const std::size_t bins = bin_first_.size() - 1;
  if (!(z_max_ > z_min_)) return 0;
  const double at = (z - z_min_) / (z_max_ - z_min_) * static_cast<double>(bins);
  return std::min(bins - 1, static_cast<std::size_t>(std::max(0.0, at)));
}

bool MeshSlicer::Cut(std::size_t facet, double z) const {
  const auto& c = mesh_.facets[facet];
  const bool a = mesh_.points[c[0]].z() >= z, b = mesh_.points[c[1]].z() >= z,
             d = mesh_.points[c[2]].z() >= z;
  return a != b || b != d;
}

// From the edge's lower-numbered point, so that all its facets get the same bits.
Vec2 MeshSlicer::Crossing(std::uint32_t edge, double z) const {
  const Vec3 &a = mesh_.points[edges_.edges[edge].low], &b = mesh_.points[edges_.edges[edge].high];
  const double t = (z - a.z()) / (b.z() - a.z());
  return {a.x() + t * (b.x() - a.x()), a.y() + t * (b.y() - a.y())};
}

// The facet to walk into over the edge: one not seen yet, or `facet` if all are.
std::uint32_t MeshSlicer::Across(std::uint32_t edge, std::uint32_t facet) const {
  for (std::uint32_t i = edges_.first[edge]; i < edges_.first[edge + 1]; ++i) {
    const std::uint32_t other = edges_.facets[i];
    if (other != facet && seen_[other] != walk_) return other;
  }
  return facet;
}

std::vector<Ring> MeshSlicer::At(double z) const {
  std::vector<Ring> rings;
  if (!(z > z_min_) || z > z_max_) return rings;
  ++walk_;
  const std::size_t bin = BinOf(z);
  for (std::uint32_t i = bin_first_[bin]; i < bin_first_[bin + 1]; ++i) {
    const std::uint32_t start = bin_facets_[i];
    if (seen_[start] == walk_ || !Cut(start, z)) continue;
    Ring ring;
    std::uint32_t facet = start, entered = static_cast<std::uint32_t>(-1);
    for (;;) {
      seen_[facet] = walk_;
      // A cut facet has two cut edges: leave by the one that was not come in by.
      std::uint32_t leave = entered;
      for (std::size_t k = 0; k < 3; ++k) {
        const std::uint32_t e = edges_.of_facet[facet][k];
        const bool cut = (mesh_.points[edges_.edges[e].low].z() >= z) !=
                         (mesh_.points[edges_.edges[e].high].z() >= z);
        if (cut && e != entered) {
          leave = e;
          break;
        }
      }
      const Vec2 p = Crossing(leave, z);
      if (ring.empty() || (p - ring.back()).squaredNorm() > 1e-18) ring.push_back(p);
      const std::uint32_t next = Across(leave, facet);
      if (next == facet) break;
      facet = next;
      entered = leave;
    }
    while (ring.size() > 1 && (ring.front() - ring.back()).squaredNorm() <= 1e-18) ring.pop_back();
    if (ring.size() >= 3 && std::abs(SignedArea(ring)) >= kSliver_mm2) {
      rings.push_back(std::move(ring));
    }
  }
  TurnByNesting(&rings);
  return rings;
}

}  // namespace lidwright
