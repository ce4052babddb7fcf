// SPDX-License-Identifier: Apache-2.0
#include "trace/mesh_unify.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/check.h"

namespace lidwright {
namespace {

// [mm] Vertices of an outline keep this distance along it, less in small ones.
constexpr double kLeastStep_mm = 2e-3;
// [mm] Places nearer than this, in every section, are one vertex.
constexpr double kSamePlace_mm = 1e-6;

// [mm] A place this little before the one before it lies on it; more, and it is once round.
constexpr double kSlack_mm = 1e-4;

// One outline through all cuts of a stretch, and the places on it that become vertices.
class Chain {
 public:
  Chain(std::vector<const MeshLoop*> loops, double error_mm)
      : loops_(std::move(loops)), error_mm_(error_mm) {
    for (std::size_t i = 0; i + 1 < loops_.size(); ++i) {
      matches_.emplace_back(*loops_[i], *loops_[i + 1]);
    }
    for (std::size_t i = 0; i < loops_.size(); ++i) {
      for (const MeshLoop::Corner& corner : loops_[i]->corners()) Add(i, corner.s);
    }
    const MeshLoop& first = *loops_[0];
    for (std::size_t k = 0; k < 4 && columns_.size() < 4; ++k) {
      Add(0, first.length() * static_cast<double>(k) / 4.0);
    }
    std::sort(columns_.begin(), columns_.end());
    DropTwins();
    for (std::size_t i = 0; i < loops_.size(); ++i) RefineAt(i);
    DropNeedless();
  }

  std::vector<Ring> Rings() const {
    std::vector<Ring> rings;
    for (std::size_t i = 0; i < loops_.size(); ++i) rings.push_back(RingAt(i));
    return rings;
  }

 private:
  using Column = std::vector<double>;  // the place in every section

  Column ColumnFrom(std::size_t i, double s) const {
    Column column(loops_.size());
    column[i] = s;
    for (std::size_t k = i; k + 1 < loops_.size(); ++k) {
      column[k + 1] = matches_[k].ToSecond(column[k]);
    }
    for (std::size_t k = i; k > 0; --k) column[k - 1] = matches_[k - 1].ToFirst(column[k]);
    // The end is the beginning, and rounding may put a place on either.
    for (std::size_t k = 0; k < column.size(); ++k) {
      if (loops_[k]->length() - column[k] < kSamePlace_mm) column[k] = 0.0;
    }
    return column;
  }
  void Add(std::size_t i, double s) { columns_.push_back(ColumnFrom(i, s)); }

  void DropTwins() {
    std::vector<Column> kept;
    for (Column& column : columns_) {
      bool twin = !kept.empty();
      for (std::size_t k = 0; twin && k < column.size(); ++k) {
        twin = std::abs(column[k] - kept.back()[k]) < kSamePlace_mm;
      }
      if (!twin) kept.push_back(std::move(column));
    }
    columns_ = std::move(kept);
  }

  // Adds vertices of section i until its outline is within the error.
  void RefineAt(std::size_t i) {
    std::vector<Column> all;
    for (std::size_t k = 0; k < columns_.size(); ++k) {
      all.push_back(columns_[k]);
      const double from = columns_[k][i], to = columns_[(k + 1) % columns_.size()][i];
      const double length = loops_[i]->length();
      double span = to - from;
      if (span <= 0.0) span += length;
      // Columns of equal place here but not elsewhere: no stretch, not the whole round.
      if (columns_.size() > 1 && span > length - kSamePlace_mm) continue;
      Between(i, from, span, &all);
    }
    columns_ = std::move(all);
  }

  void Between(std::size_t i, double from, double span, std::vector<Column>* all) const {
    const double at = WorstBetween(i, from, span);
    if (at < 0.0) return;
    const double place = std::fmod(from + at, loops_[i]->length());
    Between(i, from, at, all);
    all->push_back(ColumnFrom(i, place));
    Between(i, place, span - at, all);
  }

  // How far beyond `from` section i's vertex lies that is farthest from the chord over `span`; −1
  // if none is farther than the error.
  double WorstBetween(std::size_t i, double from, double span) const {
    const MeshLoop& loop = *loops_[i];
    const std::size_t n = loop.ring().size();
    const Vec2 a = loop.At(from), b = loop.At(from + span);
    double worst = error_mm_, at = -1.0;
    for (std::size_t k = loop.After(from);; ++k) {
      double s = k < n ? loop.PlaceOf(k) : loop.PlaceOf(k - n) + loop.length();
      s -= from;
      if (s >= span - kSamePlace_mm || k >= 2 * n) break;
      const Vec2& p = loop.ring()[k % n];
      const double d = (p - NearestOnSegment(p, a, b)).norm();
      if (d > worst && s > kSamePlace_mm) {
        worst = d;
        at = s;
      }
    }
    return at;
  }

  // Sections ask for vertices each at its own places: those that no section misses go again.
  void DropNeedless() {
    std::vector<Column> kept;
    for (std::size_t k = 0; k < columns_.size(); ++k) {
      const Column& before = kept.empty() ? columns_.back() : kept.back();
      const Column& after = k + 1 < columns_.size() ? columns_[k + 1] : kept.front();
      const std::size_t left = kept.size() + columns_.size() - k;
      if (left <= 4 || !Needless(before, after)) kept.push_back(columns_[k]);
    }
    columns_ = std::move(kept);
  }

  bool Needless(const Column& before, const Column& after) const {
    for (std::size_t i = 0; i < loops_.size(); ++i) {
      double span = after[i] - before[i];
      if (span <= 0.0) span += loops_[i]->length();
      if (span > loops_[i]->length() / 2.0) return false;
      if (WorstBetween(i, before[i], span) >= 0.0) return false;
    }
    return true;
  }

  Ring RingAt(std::size_t i) const {
    const MeshLoop& loop = *loops_[i];
    const std::size_t n = columns_.size();
    const double step = std::min(kLeastStep_mm, loop.length() / (4.0 * static_cast<double>(n)));
    std::vector<double> at(n);
    for (std::size_t k = 0; k < n; ++k) {
      at[k] = columns_[k][i];
      if (k == 0) continue;
      if (at[k] < at[k - 1] - kSlack_mm) at[k] += loop.length();
      at[k] = std::max(at[k], at[k - 1] + step);
    }
    double limit = at[0] + loop.length();
    for (std::size_t k = n; k-- > 1;) at[k] = limit = std::min(at[k], limit - step);
    Ring ring;
    for (const double s : at) ring.push_back(loop.At(s));
    return ring;
  }

  std::vector<const MeshLoop*> loops_;
  double error_mm_;
  std::vector<LoopMatch> matches_;
  std::vector<Column> columns_;
};

}  // namespace

std::vector<std::vector<Ring>> Unified(const MeshStretch& stretch, std::size_t part,
                                       double error_mm) {
  std::vector<std::vector<Ring>> result(stretch.size());
  for (std::size_t first = 0; first < stretch[0].parts[part].size(); ++first) {
    std::vector<const MeshLoop*> loops;
    std::size_t index = first;
    for (std::size_t i = 0; i < stretch.size(); ++i) {
      if (i > 0) {
        const auto pairs = PairLoops(stretch[i - 1].parts[part], stretch[i].parts[part]);
        LW_REQUIRE(index < pairs.size(), "outlines do not go on");
        index = pairs[index];
      }
      loops.push_back(&stretch[i].parts[part][index]);
    }
    std::vector<Ring> rings = Chain(std::move(loops), error_mm).Rings();
    for (std::size_t i = 0; i < rings.size(); ++i) result[i].push_back(std::move(rings[i]));
  }
  return result;
}

}  // namespace lidwright
