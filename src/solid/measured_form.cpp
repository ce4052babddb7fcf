// SPDX-License-Identifier: Apache-2.0
#include "measured_form.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/tolerances.h"

namespace lidwright {
namespace {

// [mm] Where a section would run out to nothing (the edge under a leaning end's rim), this much is
// left: solid where there may be none.
constexpr double kLeastHeight_mm = 1.0;
// [1] Places at which a leaning wall's least is looked for.
constexpr int kLeanSamples = 64;
// [1] Of the way from an end wall's innermost place to a tongue's play, this much is filled.
constexpr double kSteep = 0.05;

double FaceOf(const LidMeasures& lid, double case_wall) {
  if (lid.lip_mm <= 0.0 || lid.lip_side != "inside") return lid.wall_mm;
  return std::max(lid.wall_mm, case_wall + lid.lip_play_mm + lid.lip_wall_mm);
}

double OutsideLip(const LidMeasures& lid) {
  return lid.lip_mm > 0.0 && lid.lip_side == "outside" ? lid.lip_play_mm + lid.lip_wall_mm : 0.0;
}

}  // namespace

MeasuredForm::MeasuredForm(const Job& job)
    : box_(job.case_form),
      lid_(job.lid),
      lid_out_mm_(OutsideLip(job.lid)),
      lid_back_mm_(FaceOf(job.lid, job.case_form.back_wall_mm)),
      lid_front_mm_(FaceOf(job.lid, job.case_form.front_wall_mm)),
      dome_(job.lid,
            job.case_form.depth_mm / 2.0 +
                std::max({0.0, job.case_form.back_bow_mm, job.case_form.front_bow_mm}) +
                lid_out_mm_,
            std::max(job.lid.crown_mm, job.lid.crown_at_ends_mm)) {
  const double high = -Underside() + std::max(0.0, box_.rim_arch_mm);
  cup_pieces_back_ = std::max(1, ArcPieces(high / 2.0, box_.back_cup_mm));
  cup_pieces_front_ = std::max(1, ArcPieces(high / 2.0, box_.front_cup_mm));
  const double half = box_.depth_mm / 2.0 + std::max({0.0, box_.back_bow_mm, box_.front_bow_mm});
  // Over the walls, as far as they reach in any section, the rim is straight from back to front. A
  // wall that leans meets a sunk rim a little farther in.
  const double beside = 1.0 + std::abs(box_.rim_arch_side_mm) / 2.0;
  if (box_.rim_arch_side_mm != 0.0) {
    rim_ = RimCurve(
        box_.depth_mm, box_.rim_arch_side_mm,
        std::max(0.0, -box_.back_bow_mm) + std::max(box_.back_wall_mm, lid_back_mm_) + beside,
        box_.depth_mm - std::max(0.0, -box_.front_bow_mm) -
            std::max(box_.front_wall_mm, lid_front_mm_) - beside);
  }
  end_pieces_ = std::max(1, ArcPieces(-Underside() / 2.0, box_.end_cup_mm));
  const double under_feet = box_.feet_mm > 0.0 ? box_.feet_inset_mm + box_.feet_depth_mm : 0.0;
  bottom_pieces_ = ArcPieces(std::max(1.0, half - under_feet), box_.bottom_hollow_mm);
  if (lid_.hollow_mm > 0.0) {
    hollow_pieces_ = ArcPieces(half - std::max(lid_back_mm_, lid_front_mm_), lid_.hollow_mm);
  }

  const double half_width = box_.width_mm / 2.0;
  const double inside = box_.height_mm - box_.floor_mm;
  double lean = 0.0;
  for (int i = 0; i <= kLeanSamples; ++i) lean = std::max(lean, EndLean(inside * i / kLeanSamples));
  // Between two samples a cupped face stands in at most this much farther.
  if (box_.end_cup_mm > 0.0) lean += box_.end_cup_mm / (kLeanSamples * kLeanSamples);
  inner_mm_ = std::min(half_width - box_.end_wall_mm, half_width - lid_.wall_mm) - lean;
  LayEndLip(lean);
  // The lowest place that stands out to a z: the underside's edge stands in the farthest of a
  // leaning end, or as far as the hollow of an upright one.
  leaning_mm_ = half_width;
  if (box_.end_flare_rad > 0.0) {
    leaning_mm_ = std::max(inner_mm_, half_width - EndLean(-Underside()));
  }
  const auto mean_lean = [&](double down) {
    double sum = 0.0;
    for (int i = 0; i < kLeanSamples; ++i) sum += EndLean(down * (i + 0.5) / kLeanSamples);
    return sum / kLeanSamples;
  };
  mean_inner_mm_ = half_width - box_.end_wall_mm - mean_lean(inside);
  mean_outer_mm_ = half_width - mean_lean(-Underside());
}

void MeasuredForm::LayEndLip(double lean) {
  const double half = box_.width_mm / 2.0;
  narrow_mm_ = half - box_.end_wall_mm - lean;
  case_solid_mm_ = inner_mm_;
  shallow_mm_ = lid_half_mm_ = half;
  hollow_end_mm_ = inner_mm_;
  if (!lid_.lip_at_ends || lid_.lip_mm <= 0.0) return;
  if (lid_out_mm_ > 0.0) {
    lid_half_mm_ = half + lid_out_mm_;
    end_lip_ = {half + lid_.lip_play_mm, lid_half_mm_, half - lid_.wall_mm, lid_half_mm_};
    return;
  }
  const double inside = box_.height_mm - box_.floor_mm;
  const double tip =
      lid_.lip_mm - std::min(0.0, box_.rim_arch_mm) - std::min(0.0, box_.rim_arch_side_mm);
  double beside = 0.0;
  for (int i = 0; i <= kLeanSamples; ++i) {
    const double share = static_cast<double>(i) / kLeanSamples;
    beside = std::max(beside, EndLean(tip * share));
    if (EndLean(inside * share) > EndLean(deepest_mm_)) deepest_mm_ = inside * share;
  }
  if (box_.end_cup_mm > 0.0) beside += box_.end_cup_mm / (kLeanSamples * kLeanSamples);
  case_solid_mm_ = half - box_.end_wall_mm - beside;
  const double out = case_solid_mm_ - lid_.lip_play_mm, in = out - lid_.lip_wall_mm;
  end_lip_ = {in, out, std::min(half - lid_.wall_mm, in), half};
  narrow_mm_ = std::min(narrow_mm_, case_solid_mm_);
  inner_mm_ = std::min(narrow_mm_, end_lip_->rail_mm);
  hollow_end_mm_ = end_lip_->rail_mm;
  // Beside its innermost place a cupped face runs upright, which no stations could follow.
  shallow_mm_ = std::max(end_lip_->rail_mm, narrow_mm_ + kSteep * (case_solid_mm_ - narrow_mm_));
}

double MeasuredForm::DownTo(double z) const {
  const double lean = box_.width_mm / 2.0 - box_.end_wall_mm - z;
  double above = 0.0, below = deepest_mm_;
  for (int i = 0; i < 60; ++i) {
    const double down = (above + below) / 2.0;
    (EndLean(down) < lean ? above : below) = down;
  }
  return above;
}

MountingBlock MeasuredForm::Block() const {
  const double face = box_.width_mm / 2.0 - box_.end_wall_mm;
  if (box_.end_flare_rad == 0.0 && box_.end_cup_mm == 0.0) return {};
  return {face - inner_mm_, face - EndLean(box_.height_mm - box_.floor_mm) - inner_mm_,
          box_.end_flare_rad,
          (end_lip_ ? end_lip_->rail_mm : box_.width_mm / 2.0 - lid_.wall_mm) - inner_mm_};
}

// Beyond the case's ends a lid goes on as at them.
double MeasuredForm::Back(double z) const {
  const double half = box_.width_mm / 2.0;
  return -ArcHeight(half, box_.back_bow_mm, std::min(z, half));
}
double MeasuredForm::Front(double z) const {
  const double half = box_.width_mm / 2.0;
  return box_.depth_mm + ArcHeight(half, box_.front_bow_mm, std::min(z, half));
}
double MeasuredForm::Arch(double z) const {
  const double half = box_.width_mm / 2.0;
  return ArcHeight(half, box_.rim_arch_mm, std::min(z, half));
}

double MeasuredForm::Rise(double z) const {
  const double half = lid_half_mm_, most = lid_.crown_mm - lid_.crown_at_ends_mm;
  if (!lid_.profile_across.empty()) {
    const std::vector<Vec2>& points = lid_.profile_across;
    const double from = points.front().x(), to = points.back().x();
    const double high = points.front().y(), low = points.back().y();
    const double at = LineHeight(points, from + (to - from) * std::abs(z) / half);
    return lid_.crown_at_ends_mm + most * (at - low) / (high - low);
  }
  if (lid_.curve_across == "circular") return lid_.crown_at_ends_mm + ArcHeight(half, most, z);
  const double n = lid_.curve_across == "superelliptic" ? lid_.exponent : 2.0;
  return lid_.crown_at_ends_mm + most * EllipseHeight(n, z / half);
}

double MeasuredForm::Lean(double flare, double cup, double height, double down) {
  const double lean = flare == 0.0 ? 0.0 : down * std::tan(flare);
  return cup == 0.0 ? lean : lean + ArcHeight(height / 2.0, cup, down - height / 2.0);
}

double MeasuredForm::EndLean(double down) const {
  return Lean(box_.end_flare_rad, box_.end_cup_mm, -Underside(), down);
}

double MeasuredForm::EndChord(double down) const {
  const double high = -Underside(), piece = high / end_pieces_;
  const double at = std::min(std::floor(down / piece), end_pieces_ - 1.0) * piece;
  const double a = EndLean(at), b = EndLean(at + piece);
  return a + (b - a) * (down - at) / piece;
}

std::vector<Vec2> MeasuredForm::EndFace() const {
  const double inside = box_.height_mm - box_.floor_mm, face = box_.width_mm / 2.0;
  std::vector<Vec2> line;
  for (int i = 0; i <= end_pieces_; ++i) {
    const double down = inside * i / end_pieces_;
    line.push_back({face - box_.end_wall_mm - EndLean(down), -down});
  }
  return line;
}

std::vector<double> MeasuredForm::Creases() const {
  std::vector<double> creases;
  const std::vector<Vec2>& points = lid_.profile_across;
  for (std::size_t i = 1; i + 1 < points.size(); ++i) {
    creases.push_back((points[i].x() - points.front().x()) /
                      (points.back().x() - points.front().x()) * lid_half_mm_);
  }
  for (int i = 1; i < end_pieces_; ++i) {
    const double z = box_.width_mm / 2.0 - EndLean(-Underside() * i / end_pieces_);
    if (z > leaning_mm_) creases.push_back(z);
  }
  std::sort(creases.begin(), creases.end());
  return creases;
}

MeasuredForm::Free MeasuredForm::FreeAt(double z) const {
  const double rim_back = SeamAt(z, Back(z)), rim_front = SeamAt(z, Front(z));
  const double floor = -box_.height_mm + box_.floor_mm, under = Underside();
  double back = 0.0, front = 0.0;
  for (int i = 0; i <= kLeanSamples; ++i) {
    const double share = static_cast<double>(i) / kLeanSamples;
    const double b =
        Lean(box_.back_flare_rad, box_.back_cup_mm, rim_back - under, share * (rim_back - floor));
    const double f = Lean(box_.front_flare_rad, box_.front_cup_mm, rim_front - under,
                          share * (rim_front - floor));
    back = i == 0 ? b : std::max(back, b);
    front = i == 0 ? f : std::max(front, f);
  }
  return {Back(z) + box_.back_wall_mm + back, Front(z) - box_.front_wall_mm - front, floor,
          LowestRim(z)};
}

double MeasuredForm::LowestRim(double z) const {
  const double ends = std::min(SeamAt(z, Back(z)), SeamAt(z, Front(z)));
  return std::min(ends, SeamAt(z, box_.depth_mm / 2.0));
}

double MeasuredForm::StandsBack() const {
  const double high = -Underside();
  const double inset = box_.feet_mm > 0.0 ? box_.feet_inset_mm : 0.0;
  return Lean(box_.back_flare_rad, box_.back_cup_mm, high, high) + inset;
}
double MeasuredForm::StandsFront() const {
  const double high = -Underside();
  const double inset = box_.feet_mm > 0.0 ? box_.feet_inset_mm : 0.0;
  return box_.depth_mm - Lean(box_.front_flare_rad, box_.front_cup_mm, high, high) - inset;
}

Station MeasuredForm::At(double z_mm, Stretch box, Stretch lid, const HollowPlan* plan) const {
  Station station{z_mm, box == Stretch::kEndWall || box == Stretch::kLeaning, {}, {}};
  if (box != Stretch::kNone) station.case_rings = {CaseRing(z_mm, box)};
  if (lid != Stretch::kNone) station.lid_rings = {LidRing(z_mm, lid, plan)};
  return station;
}

double MeasuredForm::CeilingAt(double z) const {
  const double seam = Arch(z) + lid_.seam_gap_mm;
  if (!std::isnan(lid_.hollow_mm)) return seam + HollowAt(z);
  return seam + lid_.rim_mm + Rise(z) - lid_.top_mm;
}

// From the back's lower edge to the front's, both left out.
void MeasuredForm::AddUnderside(double z, Ring& ring) const {
  const double under = Underside(), bench = -box_.height_mm;
  const double high_back = SeamAt(z, Back(z)) - under, high_front = SeamAt(z, Front(z)) - under;
  const double back = Back(z) + Lean(box_.back_flare_rad, box_.back_cup_mm, high_back, high_back);
  const double front =
      Front(z) - Lean(box_.front_flare_rad, box_.front_cup_mm, high_front, high_front);
  const double rise = ArcHeight(box_.width_mm / 2.0, box_.bottom_hollow_mm, z);
  const double middle = (front + back) / 2.0, half = (front - back) / 2.0;
  const bool feet = box_.feet_mm > 0.0;
  const double inset = feet ? box_.feet_inset_mm : 0.0;
  const double inner = feet ? inset + box_.feet_depth_mm : 0.0;  // of a foot, from the face
  const auto foot = [&](double face, double side) {              // +1 towards the front
    Ring points;
    if (inset > 0.0) points.push_back({face + side * inset, under});
    points.push_back({face + side * inset, bench});
    points.push_back({face + side * inner, bench});
    points.push_back({face + side * inner, under});
    return points;
  };
  if (feet) {
    for (const Vec2& p : foot(back, 1.0)) ring.push_back(p);
  }
  for (int i = 1; i < bottom_pieces_; ++i) {  // hollow between the feet
    const double s = (half - inner) * (2.0 * i / bottom_pieces_ - 1.0);
    ring.push_back({middle + s, under + ArcHeight(half - inner, rise, s)});
  }
  if (feet) {
    Ring points = foot(front, -1.0);
    ring.insert(ring.end(), points.rbegin(), points.rend());
  }
}

Ring MeasuredForm::CaseRing(double z, Stretch stretch) const {
  const double back = Back(z), front = Front(z), under = Underside();
  const double rim_back = SeamAt(z, back), rim_front = SeamAt(z, front);
  const auto out_back = [&](double y) {
    return back + Lean(box_.back_flare_rad, box_.back_cup_mm, rim_back - under, rim_back - y);
  };
  const auto out_front = [&](double y) {
    return front - Lean(box_.front_flare_rad, box_.front_cup_mm, rim_front - under, rim_front - y);
  };
  double low = under;
  if (stretch == Stretch::kLeaning) {
    // The lowest place where the leaning end still stands out to z: halving its height. An end's
    // lean is measured from the rim at the ends, y = 0.
    const double half = box_.width_mm / 2.0;
    double in = -under, out = 0.0;
    for (int i = 0; i < 60; ++i) {
      const double down = (in + out) / 2.0;
      (half - EndChord(down) < std::abs(z) ? in : out) = down;
    }
    low = std::max(under, std::min(LowestRim(z) - kLeastHeight_mm, -in));
  }
  Ring ring{{out_back(low), low}};
  if (stretch != Stretch::kLeaning) AddUnderside(z, ring);
  ring.push_back({out_front(low), low});
  for (int i = 1; i < cup_pieces_front_; ++i) {
    const double y = low + (rim_front - low) * i / cup_pieces_front_;
    ring.push_back({out_front(y), y});
  }
  ring.push_back({front, rim_front});
  const double inner_back = back + box_.back_wall_mm, inner_front = front - box_.front_wall_mm;
  const bool hollow = stretch == Stretch::kHollow || stretch == Stretch::kShallow;
  const auto rim_from_to = [&](double from, double to) {  // from > to, both left out
    for (auto x = rim_.points().rbegin(); x != rim_.points().rend(); ++x) {
      if (*x<from&& * x> to) ring.push_back({*x, SeamAt(z, *x)});
    }
  };
  if (!hollow) rim_from_to(front, back);
  if (hollow) {
    double floor = -box_.height_mm + box_.floor_mm;
    if (stretch == Stretch::kShallow) floor = std::max(floor, -DownTo(std::max(z, shallow_mm_)));
    const auto in_back = [&](double y) {
      return out_back(std::min(y, rim_back)) + box_.back_wall_mm;
    };
    const auto in_front = [&](double y) {
      return out_front(std::min(y, rim_front)) - box_.front_wall_mm;
    };
    // An inner face ends at the rim. Where the rim has risen above its corner there, the face goes
    // on upright; where it has sunk, the face meets it a little farther in.
    const auto top_of = [&](double corner, const auto& in, double rim) {
      double y = SeamAt(z, corner);
      // Both slopes are gentle: each step takes off nine tenths of the rest and more.
      for (int i = 0; y < rim && i < 24; ++i) y = SeamAt(z, in(y));
      return y;
    };
    const double top_front = top_of(inner_front, in_front, rim_front);
    const double top_back = top_of(inner_back, in_back, rim_back);
    const bool rises = box_.rim_arch_side_mm > 0.0;
    if (rises) ring.push_back({in_front(top_front), top_front});
    const double from_front = std::min(rim_front, top_front);
    const double from_back = std::min(rim_back, top_back);
    const auto step = [&](double top, int i, int pieces) {  // the top itself to the last bit
      return i == pieces ? top : floor + (top - floor) * i / pieces;
    };
    for (int i = cup_pieces_front_; i >= 0; --i) {
      const double y = step(from_front, i, cup_pieces_front_);
      ring.push_back({in_front(y), y});
    }
    for (int i = 0; i <= cup_pieces_back_; ++i) {
      const double y = step(from_back, i, cup_pieces_back_);
      ring.push_back({in_back(y), y});
    }
    if (rises) ring.push_back({in_back(top_back), top_back});
  }
  ring.push_back({back, rim_back});
  for (int i = cup_pieces_back_ - 1; i > 0; --i) {
    const double y = low + (rim_back - low) * i / cup_pieces_back_;
    ring.push_back({out_back(y), y});
  }
  return ring;
}

}  // namespace lidwright
