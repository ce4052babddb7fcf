// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>

#include "lidwright/base/tolerances.h"
#include "measured_form.h"

namespace lidwright {
namespace {

// [mm] The lid's inside keeps at least this height over the seam at its walls.
constexpr double kLeastHollow_mm = 0.1;

}  // namespace

// One section of the lid: the seam on the case's corners, and the dome over the lid's own.
struct MeasuredForm::LidSides {
  double z, back, front, seam, rise;
  std::vector<double> points;
  double band, middle, half;       // of the dome
  double inner_back, inner_front;  // the walls' inner faces
};

// The lid's underside over the points of the seam, ends included, from the back to the front.
void MeasuredForm::AddSeam(const LidSides& at, double from, double to, bool skip_first,
                           Ring& ring) const {
  if (!skip_first) {
    ring.push_back({from, SeamAt(at.points, at.z, from) + lid_.seam_gap_mm});
  }
  for (const double x : at.points) {
    if (x <= from + kSamePoint_mm || x >= to - kSamePoint_mm) continue;
    ring.push_back({x, SeamCurve(at.z, x) + lid_.seam_gap_mm});
  }
  ring.push_back({to, SeamAt(at.points, at.z, to) + lid_.seam_gap_mm});
}

// The inside from the back wall's inner face to the front's.
void MeasuredForm::AddHollow(const LidSides& at, Ring& ring) const {
  const double thick_back = at.inner_back - (at.middle - at.half);
  const double thick_front = at.middle + at.half - at.inner_front;
  const double inner_half = at.half - (thick_back + thick_front) / 2.0;
  const double shift = (thick_back - thick_front) / 2.0;
  const double zeta = at.z / (box_.width_mm / 2.0);
  const double low =
      std::max(SeamAt(at.points, at.z, at.inner_back), SeamAt(at.points, at.z, at.inner_front)) +
      lid_.seam_gap_mm;
  const double radius = at.rise > 0.0 ? ArcRadius(at.half, at.rise) : 0.0;
  const double more = std::isnan(lid_.top_at_edges_mm) ? 0.0 : lid_.top_at_edges_mm - lid_.top_mm;
  const auto ceiling = [&](double s) {
    double height = at.band;
    if (dome_.circular()) {
      // The dome's thickness is square to it where it is a circle's arc.
      const double sunk = at.rise > 0.0 ? Sink(std::max(radius - lid_.top_mm, 1e-9), s) : 0.0;
      height = at.band + at.rise - lid_.top_mm - sunk;
    } else {
      // Given points keep their corners: the same line over the inside's width.
      const double under = dome_.given() ? (s - shift) * at.half / inner_half : s;
      height = at.band + dome_.Height(under, at.half, at.rise) - lid_.top_mm;
    }
    if (more != 0.0) {
      const double t2 = s * s / (at.half * at.half), z2 = zeta * zeta;
      height -= more * (t2 + z2 - t2 * z2);
    }
    return std::max(low + kLeastHollow_mm, height);
  };
  const std::size_t n = dome_.size();
  if (std::isnan(lid_.hollow_mm)) {
    for (std::size_t i = 0; i < n; ++i) {
      const double s = shift + dome_.Across(i, at.half, at.rise) * inner_half / at.half;
      ring.push_back({at.middle + s, ceiling(s)});
    }
    return;
  }
  // A hollow in one piece of wood: an arc both ways, nothing deep at the inner faces.
  const double deep = HollowAt(at.z);
  const double from = SeamAt(at.points, at.z, at.inner_back) + lid_.seam_gap_mm;
  const double to = SeamAt(at.points, at.z, at.inner_front) + lid_.seam_gap_mm;
  for (int i = 1; i < hollow_pieces_; ++i) {
    const double share = 2.0 * i / hollow_pieces_ - 1.0;
    ring.push_back({at.middle + shift + share * inner_half,
                    from + (to - from) * (share + 1.0) / 2.0 +
                        ArcHeight(inner_half, deep, share * inner_half)});
  }
}

// How deep a lid of one piece is hollowed at z.
double MeasuredForm::HollowAt(double z) const {
  return ArcHeight(inner_mm_, lid_.hollow_mm, std::min(std::abs(z), inner_mm_));
}

// From the front's upper edge over the dome to the back's.
void MeasuredForm::AddDome(const LidSides& at, Ring& ring) const {
  for (std::size_t i = 0; i < dome_.size(); ++i) {
    // The arc's points stand alike before and behind the middle, to the last bit.
    const double s = dome_.circular() ? -dome_.Across(i, at.half, at.rise)
                                      : dome_.Across(dome_.size() - 1 - i, at.half, at.rise);
    ring.push_back({at.middle + s, at.band + dome_.Height(s, at.half, at.rise)});
  }
}

Ring MeasuredForm::LidRing(double z, Stretch stretch) const {
  LidSides at;
  at.z = z;
  at.back = Back(z);
  at.front = Front(z);
  at.seam = Arch(z) + lid_.seam_gap_mm;
  at.band = at.seam + lid_.rim_mm;
  at.rise = Rise(z);
  at.points = SeamPoints(z);
  at.middle = (at.back + at.front) / 2.0;
  at.half = (at.front - at.back) / 2.0 + lid_out_mm_;
  at.inner_back = at.back + lid_back_mm_;
  at.inner_front = at.front - lid_front_mm_;
  const double lip_low = at.seam - lid_.lip_mm;
  const bool lip = lid_.lip_mm > 0.0, inside = lip && lid_.lip_side == "inside";
  const bool outside = lip && !inside;
  const double play = lid_.lip_play_mm, wall = lid_.lip_wall_mm;

  Ring ring;
  if (outside) {
    ring = {{at.back - lid_out_mm_, lip_low}, {at.back - play, lip_low}, {at.back - play, at.seam}};
  }
  if (!outside || play > 0.0) ring.push_back({at.back, at.seam});
  if (stretch != Stretch::kHollow) {
    AddSeam(at, at.back, at.front, true, ring);
  } else {
    const bool solid = lid_.hollow_mm == 0.0;
    double from = at.back;
    if (inside) {
      // The lip follows the case's inner face at its distance: at the seam and at its tip.
      const double high = Arch(z) - Underside();
      const double lean = Lean(box_.back_flare_rad, box_.back_cup_mm, high, lid_.lip_mm);
      const double root = at.back + box_.back_wall_mm + play, tip = root + std::max(0.0, lean);
      const double end = root + wall;
      AddSeam(at, at.back, root, true, ring);
      ring.push_back({tip, lip_low});
      ring.push_back({end + std::max(0.0, lean), lip_low});
      AddSeam(at, end, end, false, ring);
      ring.pop_back();  // one point, not two
      from = end;
    }
    const double lean = inside ? std::max(0.0, Lean(box_.front_flare_rad, box_.front_cup_mm,
                                                    Arch(z) - Underside(), lid_.lip_mm))
                               : 0.0;
    const double front_root = at.front - box_.front_wall_mm - play, front_end = front_root - wall;
    const double to = inside ? front_end : at.front;
    if (solid) {
      AddSeam(at, from, to, true, ring);
    } else {
      if (at.inner_back > from + kSamePoint_mm) AddSeam(at, from, at.inner_back, true, ring);
      AddHollow(at, ring);
      ring.push_back({at.inner_front, SeamAt(at.points, z, at.inner_front) + lid_.seam_gap_mm});
      if (at.inner_front < to - kSamePoint_mm) AddSeam(at, at.inner_front, to, true, ring);
    }
    if (inside) {
      ring.push_back({front_end - lean, lip_low});
      ring.push_back({front_root - lean, lip_low});
      AddSeam(at, front_root, at.front, false, ring);
    }
  }
  if (outside) {
    if (play > 0.0) ring.push_back({at.front + play, at.seam});
    ring.push_back({at.front + play, lip_low});
    ring.push_back({at.front + lid_out_mm_, lip_low});
  }
  AddDome(at, ring);
  return ring;
}

}  // namespace lidwright
