// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <algorithm>
#include <cmath>

#include "lidwright/job/job.h"

namespace lidwright::testing {

/// The measured form as a question "is there wood at this point?", written anew from the words of
/// solid.h and without any of its code: circles by centre and radius, no outlines, no stations.
class BoxTruth {
 public:
  explicit BoxTruth(const Job& job)
      : b_(job.case_form),
        l_(job.lid),
        w_(job.case_form.width_mm / 2.0),
        under_(b_.feet_mm - b_.height_mm) {
    const bool lip_in = l_.lip_mm > 0.0 && l_.lip_side == "inside";
    const auto reach = [&](double bow, double wall) {
      const double lid =
          lip_in ? std::max(l_.wall_mm, wall + l_.lip_play_mm + l_.lip_wall_mm) : l_.wall_mm;
      return std::max(0.0, -bow) + std::max(wall, lid) + 1.0 + std::abs(b_.rim_arch_side_mm) / 2.0;
    };
    from_ = reach(b_.back_bow_mm, b_.back_wall_mm);
    to_ = b_.depth_mm - reach(b_.front_bow_mm, b_.front_wall_mm);
    // The circle by the angle φ at which it goes over into its tangent: r sin φ = c − from, and the
    // tangent sinks the rest: r (1 − cos φ) + tan φ · from = rise.
    const double c = b_.depth_mm / 2.0;
    double low = 1e-9, high = std::asin(std::min(1.0, (c - from_) / (to_ - c))) - 1e-9;
    high = std::min(high, 1.5);
    for (int i = 0; i < 200; ++i) {
      const double phi = (low + high) / 2.0, r = (c - from_) / std::sin(phi);
      const double sunk = r * (1.0 - std::cos(phi)) + std::tan(phi) * from_;
      (sunk < std::abs(b_.rim_arch_side_mm) ? low : high) = phi;
    }
    radius_ = (c - from_) / std::sin(low);
    round_ = l_.lip_mm > 0.0 && l_.lip_at_ends;
    lid_w_ = w_ + (round_ && !lip_in ? l_.lip_play_mm + l_.lip_wall_mm : 0.0);
    rail_ = w_ - l_.wall_mm;
    if (round_ && lip_in) PlaceTongue();
    double in = 0.0;
    for (int i = 0; i <= 5000; ++i) {
      in = std::max(in, EndIn((b_.height_mm - b_.floor_mm) * i / 5000.0));
    }
    face_ = tongue_to_ > 0.0 ? std::min(w_ - b_.end_wall_mm - in, rail_)
                             : w_ - std::max(b_.end_wall_mm, l_.wall_mm) - in;
  }

  /// A lip along the ends: inside the case, where its tongue stands; and where the lid ends.
  double TongueFrom() const { return tongue_from_; }
  double TongueTo() const { return tongue_to_; }
  double LidEnd() const { return lid_w_; }

  bool CaseAt(double x, double y, double z) const {
    z = std::abs(z);
    const double back = -Bow(w_, b_.back_bow_mm, z);
    const double front = b_.depth_mm + Bow(w_, b_.front_bow_mm, z);
    const double corner_b = Seam(back, z), corner_f = Seam(front, z);
    if (y > Seam(x, z)) return false;
    if (z > w_ - EndIn(-y)) return false;
    const double high_b = corner_b - under_, high_f = corner_f - under_;
    const double from = back + In(b_.back_flare_rad, b_.back_cup_mm, high_b, corner_b - y);
    const double to = front - In(b_.front_flare_rad, b_.front_cup_mm, high_f, corner_f - y);
    if (x < from || x > to) {
      if (y > under_) return false;
    }
    const double foot_b = back + In(b_.back_flare_rad, b_.back_cup_mm, high_b, high_b);
    const double foot_f = front - In(b_.front_flare_rad, b_.front_cup_mm, high_f, high_f);
    const double inset = b_.feet_mm > 0.0 ? b_.feet_inset_mm : 0.0;
    const double inner = b_.feet_mm > 0.0 ? inset + b_.feet_depth_mm : 0.0;
    if (y < -b_.height_mm) return false;
    const bool on_foot = b_.feet_mm > 0.0 && ((x >= foot_b + inset && x <= foot_b + inner) ||
                                              (x <= foot_f - inset && x >= foot_f - inner));
    if (!on_foot) {
      double bottom = under_;
      const double middle = (foot_b + foot_f) / 2.0, half = (foot_f - foot_b) / 2.0 - inner;
      if (std::abs(x - middle) < half) {
        bottom += Bow(half, Bow(w_, b_.bottom_hollow_mm, z), x - middle);
      }
      if (y < bottom) return false;
    }
    if (y < under_) return true;
    const bool inside = x > from + b_.back_wall_mm && x < to - b_.front_wall_mm &&
                        y > b_.floor_mm - b_.height_mm && z < w_ - b_.end_wall_mm - EndIn(-y);
    return !inside;
  }

  bool LidAt(double x, double y, double z) const {
    const double across = std::abs(z);
    if (across > lid_w_) return false;
    z = std::min(across, w_);  // beyond the case the lid goes on as at its ends
    const double corner = Bow(w_, b_.rim_arch_mm, z);
    const double back = -Bow(w_, b_.back_bow_mm, z);
    const double front = b_.depth_mm + Bow(w_, b_.front_bow_mm, z);
    const bool lip = l_.lip_mm > 0.0, lip_in = lip && l_.lip_side == "inside";
    const double out = lip && !lip_in ? l_.lip_play_mm + l_.lip_wall_mm : 0.0;
    // Over an outside lip's play the seam goes on level.
    const double seam = Seam(std::clamp(x, back, front), z) + l_.seam_gap_mm;
    const double middle = (back + front) / 2.0, half = (front - back) / 2.0 + out;
    const double rise =
        l_.crown_at_ends_mm + (l_.crown_mm - l_.crown_at_ends_mm) * Across(across / lid_w_);
    const double band = corner + l_.seam_gap_mm + l_.rim_mm;
    const double s = x - middle, t = s / half;
    if (std::abs(t) > 1.0 || y > band + Dome(t, half, rise)) return false;
    const bool hollow_there = across < rail_;
    if (y < seam && round_ && !lip_in && across >= w_ + l_.lip_play_mm) {
      return y >= seam - l_.lip_mm;
    }
    if (y < seam && round_ && lip_in && z >= tongue_from_) {
      if (z > tongue_to_) return false;
      // Its faces run straight from the seam to the tip.
      const auto inside = [&](double way, double corner_x, double wall, double flare, double cup) {
        const double root = corner_x + way * (wall + l_.lip_play_mm), rim = Seam(corner_x, z);
        const double in =
            std::max(0.0, In(flare, cup, rim - under_, rim - Seam(root, z) + l_.lip_mm));
        const double top = Seam(root, z) + l_.seam_gap_mm;
        const double low = Seam(root + way * in, z) + l_.seam_gap_mm - l_.lip_mm;
        return way * (x - root) >= in * (top - y) / (top - low);
      };
      return inside(1.0, back, b_.back_wall_mm, b_.back_flare_rad, b_.back_cup_mm) &&
             inside(-1.0, front, b_.front_wall_mm, b_.front_flare_rad, b_.front_cup_mm) &&
             y >= seam - l_.lip_mm;
    }
    if (y < seam) {
      const double end = Seam(x < middle ? back : front, z);
      if (!lip || y < end + l_.seam_gap_mm - l_.lip_mm) return false;
      if (!lip_in) {
        return x <= back - l_.lip_play_mm || x >= front + l_.lip_play_mm;
      }
      if (!round_ && z > Face()) return false;  // the lip ends where the bay does
      const double high = end - under_, low = end + l_.seam_gap_mm - l_.lip_mm;
      // Both faces of a lip run straight from the seam to its tip.
      const auto face = [&](double root, double lean) {
        const double top = Seam(root, z) + l_.seam_gap_mm;
        return root + lean * (top - y) / (top - low);
      };
      const double lean_b = std::max(0.0, In(b_.back_flare_rad, b_.back_cup_mm, high, l_.lip_mm));
      const double lean_f = std::max(0.0, In(b_.front_flare_rad, b_.front_cup_mm, high, l_.lip_mm));
      const double root_b = back + b_.back_wall_mm + l_.lip_play_mm;
      const double root_f = front - b_.front_wall_mm - l_.lip_play_mm;
      return (x >= face(root_b, lean_b) && x <= face(root_b + l_.lip_wall_mm, lean_b)) ||
             (x <= face(root_f, -lean_f) && x >= face(root_f - l_.lip_wall_mm, -lean_f));
    }
    if (!hollow_there || l_.hollow_mm == 0.0) return true;
    double in_b = back + l_.wall_mm, in_f = front - l_.wall_mm;
    if (lip_in) {
      in_b = std::max(in_b, back + b_.back_wall_mm + l_.lip_play_mm + l_.lip_wall_mm);
      in_f = std::min(in_f, front - b_.front_wall_mm - l_.lip_play_mm - l_.lip_wall_mm);
    }
    if (x <= in_b || x >= in_f) return true;
    const double low = std::max(Seam(in_b, z), Seam(in_f, z)) + l_.seam_gap_mm;
    if (l_.hollow_mm > 0.0) {
      const double end = HollowEnd();
      const double deep = z < end ? Bow(end, l_.hollow_mm, z) : 0.0;
      const double from = Seam(in_b, z) + l_.seam_gap_mm, to = Seam(in_f, z) + l_.seam_gap_mm;
      return y > from + (to - from) * (x - in_b) / (in_f - in_b) +
                     Bow((in_f - in_b) / 2.0, deep, x - (in_b + in_f) / 2.0);
    }
    double above = t;  // under given points the line is fitted to the inside's width
    if (!l_.profile.empty()) above = (x - (in_b + in_f) / 2.0) / ((in_f - in_b) / 2.0);
    double ceiling = band + Dome(above, half, rise) - l_.top_mm;
    const bool circular =
        l_.profile.empty() && l_.curve_back == "circular" && l_.curve_front == "circular";
    if (circular && rise > 0.0) {  // concentric: the same centre, a smaller radius
      const double r = (half * half + rise * rise) / (2.0 * rise), centre = band + rise - r;
      ceiling = centre + std::sqrt(std::max(0.0, (r - l_.top_mm) * (r - l_.top_mm) - s * s));
    }
    if (!std::isnan(l_.top_at_edges_mm)) {
      const double zeta = across / lid_w_;
      ceiling -= (l_.top_at_edges_mm - l_.top_mm) * (t * t + zeta * zeta - t * t * zeta * zeta);
    }
    return y > std::max(ceiling, low + 0.1);
  }

  /// Where the bay ends: the innermost inner face of either end wall over the floor.
  double Face() const { return face_; }

 private:
  void PlaceTongue() {
    double beside = 0.0;
    const double tip =
        l_.lip_mm + std::max(0.0, -b_.rim_arch_mm) + std::max(0.0, -b_.rim_arch_side_mm);
    for (int i = 0; i <= 5000; ++i) beside = std::max(beside, EndIn(tip * i / 5000.0));
    tongue_to_ = w_ - b_.end_wall_mm - beside - l_.lip_play_mm;
    tongue_from_ = tongue_to_ - l_.lip_wall_mm;
    rail_ = std::min(rail_, tongue_from_);
  }
  static double Bow(double half, double rise, double s) {
    if (rise == 0.0) return 0.0;
    const double r = (half * half + rise * rise) / (2.0 * std::abs(rise));
    const double up = std::sqrt(std::max(0.0, r * r - s * s)) - (r - std::abs(rise));
    return rise > 0.0 ? up : -up;
  }
  static double In(double flare, double cup, double high, double down) {
    if (down <= 0.0) return 0.0;
    return down * std::tan(flare) + (down < high ? Bow(high / 2.0, cup, down - high / 2.0) : 0.0);
  }
  double EndIn(double down) const { return In(b_.end_flare_rad, b_.end_cup_mm, -under_, down); }
  double HollowEnd() const { return tongue_to_ > 0.0 ? rail_ : Face(); }
  double Seam(double x, double z) const {
    const double level = Bow(w_, b_.rim_arch_mm, z), c = b_.depth_mm / 2.0;
    if (b_.rim_arch_side_mm == 0.0) return level;
    const auto over = [&](double s) { return std::sqrt(radius_ * radius_ - s * s) - radius_; };
    const double s = std::clamp(x, from_, to_) - c;
    const double sunk =
        over(s) - s / std::sqrt(radius_ * radius_ - s * s) * (x - c - s);  // negative
    const double rise = std::abs(b_.rim_arch_side_mm) + sunk;
    return level + (b_.rim_arch_side_mm > 0.0 ? rise : -rise);
  }
  static double Line(const std::vector<Vec2>& points, double x) {
    for (std::size_t i = 1; i < points.size(); ++i) {
      if (x > points[i].x()) continue;
      const Vec2 d = points[i] - points[i - 1];
      return points[i - 1].y() + d.y() / d.x() * (x - points[i - 1].x());
    }
    return points.back().y();
  }
  double Lame(const std::string& curve, double t) const {
    const double n = curve == "elliptical" ? 2.0 : l_.exponent;
    return std::pow(std::max(0.0, 1.0 - std::pow(std::abs(t), n)), 1.0 / n);
  }
  double Across(double zeta) const {
    if (!l_.profile_across.empty()) {
      const Vec2 a = l_.profile_across.front(), b = l_.profile_across.back();
      const double y = Line(l_.profile_across, a.x() + (b.x() - a.x()) * zeta);
      return (y - b.y()) / (a.y() - b.y());
    }
    const double most = l_.crown_mm - l_.crown_at_ends_mm;
    if (l_.curve_across != "circular") return Lame(l_.curve_across, zeta);
    return most > 0.0 ? Bow(lid_w_, most, zeta * lid_w_) / most : 0.0;
  }
  double Dome(double t, double half, double rise) const {
    if (!l_.profile.empty()) {
      double highest = 0.0;
      for (const Vec2& p : l_.profile) highest = std::max(highest, p.y());
      const double a = l_.profile.front().x(), b = l_.profile.back().x();
      return rise * Line(l_.profile, a + (b - a) * (t + 1.0) / 2.0) / highest;
    }
    const std::string& curve = t < 0.0 ? l_.curve_back : l_.curve_front;
    return curve == "circular" ? Bow(half, rise, t * half) : rise * Lame(curve, t);
  }

  const CaseMeasures b_;
  const LidMeasures l_;
  double w_, under_;
  double from_ = 0.0, to_ = 0.0, radius_ = 0.0;  // of the rim's arc from back to front
  bool round_ = false;                           // a lip along the ends as well
  double lid_w_ = 0.0, rail_ = 0.0, tongue_from_ = 0.0, tongue_to_ = 0.0, face_ = 0.0;
};

}  // namespace lidwright::testing
