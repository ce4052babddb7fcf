// SPDX-License-Identifier: Apache-2.0
#include "trace/mesh_cuts.h"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"
#include "lidwright/base/tolerances.h"

namespace lidwright {
namespace {

constexpr double kLeastSlab_mm = 0.02;
constexpr double kLeastFace_mm2 = 1.0;
// So many points at one height are a row.
constexpr std::size_t kRow = 8;
// Stretches over this share of the width get a cut inside.
constexpr double kWide = 0.25;

// Heights at which flat faces of at least kLeastFace_mm2 lie across z.
void AddFaces(const MeshSlicer& mesh, std::vector<double>* heights) {
  std::vector<std::pair<double, double>> faces;  // z, area
  const auto& points = mesh.mesh().points;
  for (const auto& f : mesh.mesh().facets) {
    const Vec3 &a = points[f[0]], &b = points[f[1]], &c = points[f[2]];
    const double low = std::min({a.z(), b.z(), c.z()}), high = std::max({a.z(), b.z(), c.z()});
    if (high - low > kSliceNudge_mm) continue;
    faces.emplace_back((low + high) / 2.0, (b - a).cross(c - a).norm() / 2.0);
  }
  std::sort(faces.begin(), faces.end());
  for (std::size_t i = 0; i < faces.size();) {
    std::size_t j = i;
    double area = 0.0, moment = 0.0;
    while (j < faces.size() && faces[j].first - faces[i].first <= kSliceNudge_mm) {
      area += faces[j].second;
      moment += faces[j].second * faces[j].first;
      ++j;
    }
    if (area >= kLeastFace_mm2) heights->push_back(moment / area);
    i = j;
  }
}

// Sorted, and no two within `least` of each other; the ends stay.
std::vector<double> Spaced(std::vector<double> heights, double least) {
  std::sort(heights.begin(), heights.end());
  std::vector<double> kept{heights.front()};
  for (const double z : heights) {
    if (z - kept.back() >= least) kept.push_back(z);
  }
  if (kept.size() > 1 && heights.back() - kept.back() > 0.0) kept.back() = heights.back();
  return kept;
}

class Chooser {
 public:
  Chooser(const MeshPair& meshes, double error_mm, std::size_t most)
      : meshes_(meshes),
        error_mm_(error_mm),
        least_mm_(std::max(kLeastSlab_mm, error_mm / 4.0)),
        most_(most) {}

  // False if there would be too many.
  bool Choose(const std::vector<double>& jumps, CutChoice* choice) {
    choice->stretches.clear();
    choice->steps = 0;
    choice->step_width_mm = least_mm_;
    choice->blend_error_mm = error_mm_;
    choice_ = choice;
    for (std::size_t i = 0; i + 1 < jumps.size(); ++i) {
      Cut from = CutAt(jumps[i] + kSliceNudge_mm), to = CutAt(jumps[i + 1] - kSliceNudge_mm);
      from.z_mm = jumps[i];
      to.z_mm = jumps[i + 1];
      count_ += 2;
      choice->stretches.push_back({std::move(from)});
      // A straight box is known by a section between its end walls, not only by those at them.
      if (jumps[i + 1] - jumps[i] > kWide * (jumps.back() - jumps.front())) {
        ++count_;
        if (!Refine(CutAt(SplitBetween(jumps[i], jumps[i + 1])))) return false;
      }
      if (!Refine(std::move(to))) return false;
    }
    Tidy(jumps.front(), jumps.back());
    return true;
  }

 private:
  Cut CutAt(double z) const { return {z, {SectionOf(*meshes_[0], z), SectionOf(*meshes_[1], z)}}; }

  // Goes on from the last cut to `to`.
  bool Refine(Cut to) {
    Cut& from = choice_->stretches.back().back();
    if (Good(from, to)) {
      choice_->stretches.back().push_back(std::move(to));
      return true;
    }
    if (++count_ > most_) return false;
    const double middle = SplitBetween(from.z_mm, to.z_mm);
    if (to.z_mm - from.z_mm < least_mm_) {
      ++choice_->steps;
      Cut held = from, begin = to;
      held.z_mm = begin.z_mm = middle;
      held.held = begin.held = true;
      choice_->stretches.back().push_back(std::move(held));
      choice_->stretches.push_back({std::move(begin), std::move(to)});
      count_ += 2;
      return true;
    }
    return Refine(CutAt(middle)) && Refine(std::move(to));
  }

  // The middle, or the height in the middle half at which most points lie if that is a row of them:
  // between the rows of a mesh the form is nearly straight.
  double SplitBetween(double z0, double z1) const {
    const double quarter = (z1 - z0) / 4.0;
    double best = (z0 + z1) / 2.0;
    std::size_t most = kRow - 1;
    for (const MeshSlicer* mesh : meshes_) {
      const auto& points = mesh->mesh().points;
      const auto& order = mesh->points_by_z();
      const auto height = [&](std::size_t i) { return points[order[i]].z(); };
      std::size_t i = static_cast<std::size_t>(
          std::lower_bound(order.begin(), order.end(), z0 + quarter,
                           [&](std::uint32_t p, double z) { return points[p].z() < z; }) -
          order.begin());
      while (i < order.size() && height(i) <= z1 - quarter) {
        std::size_t j = i + 1;
        while (j < order.size() && height(j) - height(i) <= kSliceNudge_mm) ++j;
        const bool nearer =
            std::abs(height(i) - (z0 + z1) / 2.0) < std::abs(best - (z0 + z1) / 2.0);
        if (j - i > most || (j - i == most && most >= kRow && nearer)) {
          most = j - i;
          best = height(i);
        }
        i = j;
      }
    }
    return best;
  }

  bool Good(const Cut& from, const Cut& to) const {
    for (std::size_t part = 0; part < 2; ++part) {
      const auto &a = from.parts[part], &b = to.parts[part];
      if (a.size() != b.size()) return false;
      const std::vector<std::size_t> pairs = PairLoops(a, b);
      if (pairs.size() != a.size()) return false;
      std::vector<Ring> first, second;
      for (std::size_t i = 0; i < a.size(); ++i) {
        const MeshLoop& other = b[pairs[i]];
        auto [p, q] = AllVertices(a[i], other, LoopMatch(a[i], other));
        first.push_back(std::move(p));
        second.push_back(std::move(q));
      }
      if (Deviation(RuledSlab(first, second), *meshes_[part], from.z_mm, to.z_mm, error_mm_) >
          error_mm_) {
        return false;
      }
    }
    return true;
  }

  // Drops what has no width and makes stretches meet.
  void Tidy(double first, double last) const {
    auto& stretches = choice_->stretches;
    std::erase_if(stretches, [](const MeshStretch& s) {
      return s.size() < 2 || s.back().z_mm - s.front().z_mm < kSliceNudge_mm;
    });
    LW_REQUIRE(!stretches.empty(), "no stretch is left");
    for (std::size_t i = 0; i + 1 < stretches.size(); ++i) {
      double& end = stretches[i].back().z_mm;
      double& begin = stretches[i + 1].front().z_mm;
      end = begin = (end + begin) / 2.0;
    }
    stretches.front().front().z_mm = first;
    stretches.back().back().z_mm = last;
  }

  const MeshPair& meshes_;
  double error_mm_, least_mm_;
  std::size_t most_, count_ = 0;
  CutChoice* choice_ = nullptr;
};

}  // namespace

CutChoice ChooseCuts(const MeshPair& meshes, double blend_error_mm, std::size_t most) {
  std::vector<double> heights;
  for (const MeshSlicer* mesh : meshes) {
    heights.push_back(mesh->z_min());
    heights.push_back(mesh->z_max());
    AddFaces(*mesh, &heights);
  }
  CutChoice choice;
  // Many faces in a row (a screw's thread, carving) may need to go into the halving as well.
  for (double error = blend_error_mm;; error *= 1.5) {
    const std::vector<double> jumps = Spaced(heights, std::max(4.0 * kSliceNudge_mm, error / 4.0));
    LW_REQUIRE(jumps.size() >= 2, "meshes without width");
    if (Chooser(meshes, error, most).Choose(jumps, &choice)) return choice;
  }
}

}  // namespace lidwright
