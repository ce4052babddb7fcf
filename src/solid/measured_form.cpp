// SPDX-License-Identifier: Apache-2.0
#include "measured_form.h"

#include <algorithm>
#include <cmath>

#include "lidwright/base/tolerances.h"

namespace lidwright {
namespace {

// [mm] The lid's inside keeps at least this height over the seam at its walls.
constexpr double kLeastHollow_mm = 0.1;

// How far a circle of radius `radius` has sunk at distance s from its top: radius − √(radius² −
// s²).
double Sink(double radius, double s) {
  const double root = std::sqrt(std::max(0.0, radius * radius - s * s));
  return s * s / (radius + root);
}

double RadiusOf(double half, double rise) {
  return (half * half + rise * rise) / (2.0 * rise);
}

}  // namespace

double ArcHeight(double half, double rise, double s) {
  if (rise == 0.0) return 0.0;
  const double sign = rise < 0.0 ? -1.0 : 1.0;
  return sign * (std::abs(rise) - Sink(RadiusOf(half, std::abs(rise)), s));
}

MeasuredForm::MeasuredForm(const Job& job) : box_(job.box), lid_(job.lid) {
  // Pieces of the steepest section so that its chords stay within the chord error: an arc of angle
  // α over x-steps of equal length is cut worst at its ends, where it is steepest.
  const double half = box_.depth_mm / 2.0 + std::max(box_.back_bow_mm, box_.front_bow_mm);
  const double rise = std::max(lid_.crown_mm, lid_.crown_at_ends_mm);
  dome_pieces_ = 8;
  if (rise <= 0.0) return;
  const double radius = RadiusOf(half, rise);
  const double angle = 2.0 * std::asin(std::min(1.0, half / radius));
  const double step = 2.0 * std::acos(1.0 - std::min(0.5, kChordError_mm / radius));
  dome_pieces_ = std::max(dome_pieces_, 2 * static_cast<int>(std::ceil(angle / step / 2.0)));
}

Station MeasuredForm::At(double z_mm, bool end_wall) const {
  return {z_mm, end_wall, {CaseRing(z_mm, end_wall)}, {LidRing(z_mm, end_wall)}};
}

Ring MeasuredForm::CaseRing(double z_mm, bool end_wall) const {
  const double half = box_.width_mm / 2.0;
  const double back = -ArcHeight(half, box_.back_bow_mm, z_mm);
  const double front = box_.depth_mm + ArcHeight(half, box_.front_bow_mm, z_mm);
  const double rim = ArcHeight(half, box_.rim_arch_mm, z_mm);
  const double bottom = -box_.height_mm, floor = bottom + box_.floor_mm;
  if (end_wall) return {{back, bottom}, {front, bottom}, {front, rim}, {back, rim}};
  const double inner_back = back + box_.back_wall_mm, inner_front = front - box_.front_wall_mm;
  return {{back, bottom},       {front, bottom},     {front, rim},      {inner_front, rim},
          {inner_front, floor}, {inner_back, floor}, {inner_back, rim}, {back, rim}};
}

Ring MeasuredForm::LidRing(double z_mm, bool end_wall) const {
  const double half_width = box_.width_mm / 2.0;
  const double back = -ArcHeight(half_width, box_.back_bow_mm, z_mm);
  const double front = box_.depth_mm + ArcHeight(half_width, box_.front_bow_mm, z_mm);
  const double seam = ArcHeight(half_width, box_.rim_arch_mm, z_mm) + lid_.seam_gap_mm;
  const double band = seam + lid_.rim_mm;
  const double rise =
      lid_.crown_at_ends_mm + ArcHeight(half_width, lid_.crown_mm - lid_.crown_at_ends_mm, z_mm);
  const double middle = (back + front) / 2.0, half = (front - back) / 2.0;

  // Points at equal turns of the arc (equal steps of x where it is flat), the same share in every
  // section, so that stations match vertex by vertex.
  const double radius = rise > 0.0 ? RadiusOf(half, rise) : 0.0;
  const double reach = rise > 0.0 ? std::atan2(half, radius - rise) : 0.0;
  const auto across = [&](double share) {  // share −1 … 1 → x − middle
    return rise > 0.0 ? radius * std::sin(share * reach) : half * share;
  };
  Ring ring{{back, seam}};
  if (!end_wall) {
    const double inner_half = half - lid_.wall_mm;
    const auto ceiling = [&](double s) {
      const double sunk = rise > 0.0 ? Sink(std::max(radius - lid_.top_mm, 1e-9), s) : 0.0;
      return std::max(seam + kLeastHollow_mm, band + rise - lid_.top_mm - sunk);
    };
    ring.push_back({middle - inner_half, seam});
    for (int i = 0; i <= dome_pieces_; ++i) {
      const double s = across(2.0 * i / dome_pieces_ - 1.0) * inner_half / half;
      ring.push_back({middle + s, ceiling(s)});
    }
    ring.push_back({middle + inner_half, seam});
  }
  ring.push_back({front, seam});
  for (int i = 0; i <= dome_pieces_; ++i) {
    const double s = across(1.0 - 2.0 * i / dome_pieces_);
    ring.push_back({middle + s, band + ArcHeight(half, rise, s)});
  }
  return ring;
}

}  // namespace lidwright
