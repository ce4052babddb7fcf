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
  double z, back, front, rise;
  double band, middle, half;       // of the dome
  double inner_back, inner_front;  // the walls' inner faces
};

Vec2 MeasuredForm::OnSeam(double z, double x) const {
  return {x, SeamAt(z, x) + lid_.seam_gap_mm};
}

// The lid's underside from `from`, left out, over the points of the seam to `to`.
void MeasuredForm::AddSeam(double z, double from, double to, Ring& ring) const {
  for (const double x : rim_.points()) {
    if (x > from + kSamePoint_mm && x < to - kSamePoint_mm) ring.push_back(OnSeam(z, x));
  }
  if (to > from + kSamePoint_mm) ring.push_back(OnSeam(z, to));
}

// An inside lip, from the seam at the case's wall to the seam at its own inner face. Its faces
// follow the case's inner face at its play, straight from the seam to the tip. `side` is +1 at the
// back, −1 at the front.
Ring MeasuredForm::InsideLip(double z, double corner, double side) const {
  const bool back = side > 0.0;
  const double low = SeamAt(z, corner) + lid_.seam_gap_mm - lid_.lip_mm;
  const double high = SeamAt(z, corner) - Underside();
  const double lean = Lean(back ? box_.back_flare_rad : box_.front_flare_rad,
                           back ? box_.back_cup_mm : box_.front_cup_mm, high, lid_.lip_mm);
  const double wall = back ? box_.back_wall_mm : box_.front_wall_mm;
  const double root = corner + side * (wall + lid_.lip_play_mm);
  const double inner = root + side * lid_.lip_wall_mm, in = side * std::max(0.0, lean);
  return {OnSeam(z, root), {root + in, low}, {inner + in, low}, OnSeam(z, inner)};
}

// A tongue from the back lip's outer face to the front lip's: from the seam at the one to the seam
// at the other, its underside along the seam.
void MeasuredForm::AddTongue(double z, double back, double front, Ring& ring) const {
  struct Side {
    Vec2 root, tip;
  };
  const auto side = [&](double corner, double way, double wall, double flare, double cup) -> Side {
    const double root = corner + way * (wall + lid_.lip_play_mm);
    const double down = SeamAt(z, corner) - SeamAt(z, root) + lid_.lip_mm;
    const double in = Lean(flare, cup, SeamAt(z, corner) - Underside(), down);
    const double tip = root + way * std::max(0.0, in);
    return {OnSeam(z, root), OnSeam(z, tip) - Vec2(0.0, lid_.lip_mm)};
  };
  const Side b = side(back, 1.0, box_.back_wall_mm, box_.back_flare_rad, box_.back_cup_mm);
  const Side f = side(front, -1.0, box_.front_wall_mm, box_.front_flare_rad, box_.front_cup_mm);
  ring.push_back(b.root);
  ring.push_back(b.tip);
  for (const double x : rim_.points()) ring.push_back(OnSeam(z, x) - Vec2(0.0, lid_.lip_mm));
  ring.push_back(f.tip);
  ring.push_back(f.root);
  ring.push_back(OnSeam(z, front));
}

// The end of a collar, from its outer face at the back to the one at the front.
void MeasuredForm::AddCollar(double z, double back, double front, Ring& ring) const {
  const auto add = [&](double x, double seam_at) {
    ring.push_back({x, OnSeam(z, seam_at).y() - lid_.lip_mm});
  };
  add(back - lid_out_mm_, back);
  if (!rim_.points().empty()) add(back, back);
  for (const double x : rim_.points()) add(x, x);
  if (!rim_.points().empty()) add(front, front);
  add(front + lid_out_mm_, front);
}

// The inside from the back wall's inner face to the front's.
void MeasuredForm::AddHollow(const LidSides& at, Ring& ring) const {
  const double thick_back = at.inner_back - (at.middle - at.half);
  const double thick_front = at.middle + at.half - at.inner_front;
  const double inner_half = at.half - (thick_back + thick_front) / 2.0;
  const double shift = (thick_back - thick_front) / 2.0;
  const double zeta = at.z / lid_half_mm_;
  const double low =
      std::max(SeamAt(at.z, at.inner_back), SeamAt(at.z, at.inner_front)) + lid_.seam_gap_mm;
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
  const double from = SeamAt(at.z, at.inner_back) + lid_.seam_gap_mm;
  const double to = SeamAt(at.z, at.inner_front) + lid_.seam_gap_mm;
  for (int i = 1; i < hollow_pieces_; ++i) {
    const double share = 2.0 * i / hollow_pieces_ - 1.0;
    ring.push_back({at.middle + shift + share * inner_half,
                    from + (to - from) * (share + 1.0) / 2.0 +
                        ArcHeight(inner_half, deep, share * inner_half)});
  }
}

// How deep a lid of one piece is hollowed at z.
double MeasuredForm::HollowAt(double z) const {
  return ArcHeight(hollow_end_mm_, lid_.hollow_mm, std::min(std::abs(z), hollow_end_mm_));
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
  at.band = Arch(z) + lid_.seam_gap_mm + lid_.rim_mm;
  at.rise = Rise(z);
  at.middle = (at.back + at.front) / 2.0;
  at.half = (at.front - at.back) / 2.0 + lid_out_mm_;
  at.inner_back = at.back + lid_back_mm_;
  at.inner_front = at.front - lid_front_mm_;
  const bool inside = lid_.lip_mm > 0.0 && lid_.lip_side == "inside";
  // An outside lip, from its outer face to the seam's corner.
  const auto outside_lip = [&](double corner, double side) -> Ring {
    const Vec2 seam = OnSeam(z, corner);
    const double low = seam.y() - lid_.lip_mm, play = corner - side * lid_.lip_play_mm;
    Ring lip{{corner - side * lid_out_mm_, low}, {play, low}, {play, seam.y()}};
    if (lid_.lip_play_mm > 0.0) lip.push_back(seam);
    return lip;
  };
  const auto append = [](const Ring& points, bool backwards, Ring& ring) {
    backwards ? ring.insert(ring.end(), points.rbegin(), points.rend())
              : ring.insert(ring.end(), points.begin(), points.end());
  };

  Ring ring;
  if (stretch == Stretch::kCollar) {
    AddCollar(z, at.back, at.front, ring);
    AddDome(at, ring);
    return ring;
  }
  append(lid_out_mm_ > 0.0 ? outside_lip(at.back, 1.0) : Ring{OnSeam(z, at.back)}, false, ring);
  if (stretch == Stretch::kTongue) {
    AddTongue(z, at.back, at.front, ring);
  } else if (stretch != Stretch::kHollow && stretch != Stretch::kRail) {
    AddSeam(z, at.back, at.front, ring);
  } else {
    Ring back_lip, front_lip;
    if (inside) {
      back_lip = InsideLip(z, at.back, 1.0);
      front_lip = InsideLip(z, at.front, -1.0);
      append(back_lip, false, ring);
    }
    const double from = inside ? back_lip.back().x() : at.back;
    const double to = inside ? front_lip.back().x() : at.front;
    if (lid_.hollow_mm == 0.0 || stretch == Stretch::kRail) {
      AddSeam(z, from, to, ring);
    } else {
      AddSeam(z, from, at.inner_back, ring);
      AddHollow(at, ring);
      ring.push_back(OnSeam(z, at.inner_front));
      AddSeam(z, at.inner_front, to, ring);
    }
    if (inside) {
      ring.pop_back();  // the seam at the lip stands in both
      append(front_lip, true, ring);
      ring.push_back(OnSeam(z, at.front));
    }
  }
  if (lid_out_mm_ > 0.0) {
    ring.pop_back();  // the seam's corner stands in both
    append(outside_lip(at.front, -1.0), true, ring);
  }
  AddDome(at, ring);
  return ring;
}

}  // namespace lidwright
