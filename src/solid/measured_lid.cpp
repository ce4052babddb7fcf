// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>

#include "lidwright/base/tolerances.h"
#include "measured_form.h"

namespace lidwright {

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

// From the front's upper edge over the dome to the back's.
void MeasuredForm::AddDome(const LidSides& at, Ring& ring) const {
  for (std::size_t i = 0; i < dome_.size(); ++i) {
    // The arc's points stand alike before and behind the middle, to the last bit.
    const double s = dome_.circular() ? -dome_.Across(i, at.half, at.rise)
                                      : dome_.Across(dome_.size() - 1 - i, at.half, at.rise);
    ring.push_back({at.middle + s, at.band + dome_.Height(s, at.half, at.rise)});
  }
}

MeasuredForm::LidSides MeasuredForm::SidesAt(double z) const {
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
  return at;
}

Ring MeasuredForm::LidRing(double z, Stretch stretch, const HollowPlan* plan) const {
  const LidSides at = SidesAt(z);
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
      AddHollow(at, plan, ring);
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
