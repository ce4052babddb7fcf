// SPDX-License-Identifier: Apache-2.0
// The inside of a hollow lid.
#include <algorithm>
#include <cmath>

#include "lidwright/base/tolerances.h"
#include "measured_form.h"

namespace lidwright {
namespace {

// [mm] The lid's inside keeps at least this height over the seam at its walls.
constexpr double kLeastHollow_mm = 0.1;
// [mm] Chords of a ceiling that has places of its own: with the runs that are left to the wood
// (kLeastRun_mm), and between the sections that are looked at, within kChordError_mm.
constexpr double kHollowChord_mm = 0.012;
// [count] Sections at which it is looked whether the dome's places suit the ceiling, and whether
// the ceiling's corners and bends are the same.
constexpr int kLooks = 12, kPatterns = 64;
// [mm] Where along the width the ceiling's corners change their number is known to this.
constexpr double kSamePattern_mm = 1e-9;
// [mm] A bend so near a wall is none.
constexpr double kBendsOff_mm = 1e-3;

void AddBend(int number, double s, const HollowSection& hollow,
             std::vector<HollowSection::Bend>& bends) {
  if (s > hollow.from_mm + kBendsOff_mm && s < hollow.to_mm - kBendsOff_mm) {
    bends.push_back({number, s});
  }
}

}  // namespace

HollowSection MeasuredForm::HollowOf(const LidSides& at) const {
  const double thick_back = at.inner_back - (at.middle - at.half);
  const double thick_front = at.middle + at.half - at.inner_front;
  HollowSection hollow;
  hollow.half_mm = at.half - (thick_back + thick_front) / 2.0;
  hollow.middle_mm = (thick_back - thick_front) / 2.0;
  hollow.from_mm = hollow.middle_mm - hollow.half_mm;
  hollow.to_mm = hollow.middle_mm + hollow.half_mm;
  const double seam_back = SeamAt(at.z, at.inner_back) + lid_.seam_gap_mm;
  const double seam_front = SeamAt(at.z, at.inner_front) + lid_.seam_gap_mm;
  const bool dome = std::isnan(lid_.hollow_mm);
  const double least = std::max(seam_back, seam_front) + (dome ? kLeastHollow_mm : 0.0);
  // Not under the rim's height between the walls, nor, under a dome, under it at the walls.
  hollow.floor_mm = [this, z = at.z, middle = at.middle, dome, least](double s) {
    if (dome && rim_.points().empty()) return least;
    const double seam = SeamAt(z, middle + s) + lid_.seam_gap_mm;
    return dome ? std::max(least, seam) : seam;
  };
  for (std::size_t i = 0; i < rim_.points().size(); ++i) {
    AddBend(static_cast<int>(i), rim_.points()[i] - at.middle, hollow, hollow.floor_bends);
  }
  if (dome) {
    PutCeiling(at, hollow);
    return hollow;
  }
  // A hollow in one piece of wood: an arc both ways, nothing deep at the inner faces.
  hollow.ceiling_mm = [seam_back, seam_front, middle = hollow.middle_mm, half = hollow.half_mm,
                       deep = HollowAt(at.z)](double s) {
    const double share = (s - middle) / half;
    return seam_back + (seam_front - seam_back) * (share + 1.0) / 2.0 +
           ArcHeight(half, deep, s - middle);
  };
  return hollow;
}

// The dome's inside, `top` below it.
void MeasuredForm::PutCeiling(const LidSides& at, HollowSection& hollow) const {
  const double zeta = at.z / lid_half_mm_;
  const double more = std::isnan(lid_.top_at_edges_mm) ? 0.0 : lid_.top_at_edges_mm - lid_.top_mm;
  const double radius =
      dome_.circular() && at.rise > 0.0 ? ArcRadius(at.half, at.rise) - lid_.top_mm : 0.0;
  hollow.ceiling_mm = [this, at, more, radius, middle = hollow.middle_mm,
                       inner_half = hollow.half_mm, z2 = zeta * zeta](double s) {
    double height = at.band;
    if (dome_.circular()) {
      // The dome's thickness is square to it where it is a circle's arc; beside the arc's ends its
      // inside goes on level.
      height = at.band + at.rise - lid_.top_mm;
      if (at.rise > 0.0) {
        height -= std::min(Sink(std::max(radius, 1e-9), s), std::max(radius, 0.0));
      }
    } else {
      // Given points keep their corners: the same line over the inside's width.
      const double under = dome_.given() ? (s - middle) * at.half / inner_half : s;
      height = at.band + dome_.Height(under, at.half, at.rise) - lid_.top_mm;
    }
    if (more != 0.0) {
      const double t2 = s * s / (at.half * at.half);
      height -= more * (t2 + z2 - t2 * z2);
    }
    return height;
  };
  if (dome_.given()) {
    for (std::size_t i = 0; i < dome_.size(); ++i) {
      const double under = dome_.Across(i, at.half, at.rise) * hollow.half_mm / at.half;
      AddBend(static_cast<int>(i), hollow.middle_mm + under, hollow, hollow.ceiling_bends);
    }
    return;
  }
  if (radius > 0.0) AddBend(0, -radius, hollow, hollow.ceiling_bends);
  AddBend(1, 0.0, hollow, hollow.ceiling_bends);
  if (radius > 0.0) AddBend(2, radius, hollow, hollow.ceiling_bends);
}

// The inside's vertices where nothing speaks against it: under a dome its own places, moved in
// between the walls' inner faces; level steps under one piece of wood.
std::vector<Vec2> MeasuredForm::UsualInside(const HollowSection& hollow, const LidSides& at) const {
  std::vector<Vec2> points;
  if (std::isnan(lid_.hollow_mm)) {
    for (std::size_t i = 0; i < dome_.size(); ++i) {
      const double s =
          hollow.middle_mm + dome_.Across(i, at.half, at.rise) * hollow.half_mm / at.half;
      points.push_back({s, hollow.InsideAt(s)});
    }
    return points;
  }
  const double from = SeamAt(at.z, at.inner_back) + lid_.seam_gap_mm;
  const double to = SeamAt(at.z, at.inner_front) + lid_.seam_gap_mm;
  const double deep = HollowAt(at.z);
  for (int i = 0; i <= hollow_pieces_; ++i) {
    const double share = 2.0 * i / hollow_pieces_ - 1.0;
    points.push_back({hollow.middle_mm + share * hollow.half_mm,
                      from + (to - from) * (share + 1.0) / 2.0 +
                          ArcHeight(hollow.half_mm, deep, share * hollow.half_mm)});
  }
  return points;
}

// `count` steps from `from` to `to`, and the creases between.
std::vector<double> MeasuredForm::LooksAt(double from, double to, int count) const {
  std::vector<double> looks;
  for (int i = 0; i < count; ++i) looks.push_back(from + (to - from) * i / count);
  for (const double crease : Creases()) {
    if (crease > from && crease < to) looks.push_back(crease);
  }
  looks.push_back(to);
  std::sort(looks.begin(), looks.end());
  return looks;
}

bool MeasuredForm::UsualSuits(double from, double to) const {
  const std::vector<double> looks = LooksAt(from, to, kLooks);
  return std::all_of(looks.begin(), looks.end(), [&](double z) {
    const LidSides at = SidesAt(z);
    const HollowSection hollow = HollowOf(at);
    return ChordErrorOf(hollow, UsualInside(hollow, at)) <= kChordError_mm;
  });
}

std::vector<HollowPiece> MeasuredForm::HollowPieces(double from, double to) const {
  if (UsualSuits(from, to)) return {{from, from, to, {}}};
  const auto runs = [&](double z) { return RunsOf(HollowOf(SidesAt(z))); };
  std::vector<HollowPiece> pieces;
  double begin = from, begin_look = from, before = from;  // of the piece; of the last look
  std::vector<HollowRun> here = runs(from);
  const auto end = [&](double z) {
    std::vector<HollowSection> sections;
    for (const double share : {1e-6, 0.1, 0.3, 0.5, 0.7, 0.9, 1.0 - 1e-6}) {
      sections.push_back(HollowOf(SidesAt(begin_look + share * (z - begin_look))));
    }
    pieces.push_back({begin, begin_look, z, PlanFor(sections, kHollowChord_mm)});
  };
  for (const double next : LooksAt(from, to, kPatterns)) {
    const std::vector<HollowRun> there = runs(next);
    while (!Alike(here, there)) {
      double same = before, other = next;
      while (other - same > kSamePattern_mm) {
        const double middle = (same + other) / 2.0;
        (Alike(here, runs(middle)) ? same : other) = middle;
      }
      if (same > begin_look + kSamePattern_mm) {
        end(same);
        begin = same;
      }
      begin_look = before = other;
      here = runs(other);
      if (other >= next) break;
    }
    before = next;
  }
  if (to > begin_look + kSamePattern_mm || pieces.empty()) {
    end(to);
  } else {
    pieces.back().to_mm = to;
  }
  return pieces;
}

// The inside from the back wall's inner face to the front's. One piece of wood meets the seam there
// itself.
void MeasuredForm::AddHollow(const LidSides& at, const HollowPlan* plan, Ring& ring) const {
  const HollowSection hollow = HollowOf(at);
  const std::vector<Vec2> points = plan ? InsideOf(hollow, *plan) : UsualInside(hollow, at);
  const std::size_t skip = std::isnan(lid_.hollow_mm) ? 0 : 1;
  for (std::size_t i = skip; i + skip < points.size(); ++i) {
    ring.push_back({at.middle + points[i].x(), points[i].y()});
  }
}

// How deep a lid of one piece is hollowed at z.
double MeasuredForm::HollowAt(double z) const {
  return ArcHeight(hollow_end_mm_, lid_.hollow_mm, std::min(std::abs(z), hollow_end_mm_));
}

}  // namespace lidwright
