// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <ceres/jet.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "lidwright/synthesis/quick_judge.h"
#include "loop.h"

namespace lidwright {

/// A linkage's way through LidSpace, slice by slice: every requirement on the lid as a length that
/// is over 0 by what is missed, and what the merit is made of. Written once for plain numbers
/// (T = double, with early ends) and for derivatives (T a dual number over the eight pivot
/// numbers).
namespace lid_walk {

using Jet8 = ceres::Jet<double, 8>;

// [mm] A full radian per radian of separating speed, and a full sine between the arms, as lengths.
inline constexpr double kRateWeight = 0.3;
inline constexpr double kSineWeight_mm = 60.0;
// [–] Share of LidTask::rate_mm that contacts have to part with: the certificate asks only that
// they do.
inline constexpr double kLeastRate = 0.5;

inline double ValueOf(double x) {
  return x;
}
inline double ValueOf(const Jet8& x) {
  return x.a;
}
template <typename T>
Vec2 ValueOf(const Eigen::Matrix<T, 2, 1>& v) {
  return {ValueOf(v.x()), ValueOf(v.y())};
}

/// A number known at a point's value with its gradient by the point.
inline double Carried(double value, const Vec2&, const Eigen::Vector2d&) {
  return value;
}
inline Jet8 Carried(double value, const Vec2& slope, const Eigen::Matrix<Jet8, 2, 1>& point) {
  Jet8 carried(value);
  carried.v = slope.x() * point.x().v + slope.y() * point.y().v;
  return carried;
}

/// What the merit is made of, at each slice and shut (last).
template <typename T>
struct Felt {
  std::vector<T> play, lift;  ///< factors
  std::vector<T> behind;      ///< mm, of the lid
  std::vector<T> over_bench;  ///< mm
  T arms;                     ///< mm
  T hang;                     ///< mm, of the lower lid pivot; below 0 if above the rim
  T leant;                    ///< share of the merit; below 0 where there is strength to spare
  T post;                     ///< mm, what a post's best place lacks; below 0 where it has room

  void Clear() {
    for (auto* values : {&play, &lift, &behind, &over_bench}) values->clear();
  }
};

/// The merit of plain numbers.
inline double MeritOf(const LidUse& use, const Felt<double>& felt, double misfit_mm,
                      const Leaning& leaning = {}) {
  const auto most = [](const std::vector<double>& values) {
    return *std::max_element(values.begin(), values.end());
  };
  LidFigures figures;
  figures.rattle_mm = 2.0 * use.play_mm * most(felt.play);
  figures.misfit_mm = misfit_mm;
  double lift = 0.0;
  for (const double factor : felt.lift) lift = std::max(lift, std::abs(factor));
  figures.lift_n = lift * use.weight_n;
  figures.behind_mm = std::max(0.0, most(felt.behind));
  figures.arms_mm = felt.arms;
  figures.hang_mm = std::max(0.0, felt.hang);
  figures.over_bench_mm = *std::min_element(felt.over_bench.begin(), felt.over_bench.end());
  return LidMerit(use, figures, leaning) + std::max(0.0, felt.leant) +
         std::max(0.0, felt.post) / kPostStep_mm;
}

/// What the best place for a post lacks: places along both arms, the open lid's arms taken as
/// straight, in the zone in which case pivots may lie.
template <typename T>
T PostLacks(const LidTask& task, const LidUse& use, const Loop<T>& open) {
  T least(std::numeric_limits<double>::infinity());
  for (const int arm : {0, 1}) {
    for (const double along_mm : {0.6 * kUsualPost_mm, kUsualPost_mm, 1.6 * kUsualPost_mm}) {
      const Eigen::Matrix<T, 2, 1> at = open.PostPlace(arm, along_mm, use.post_mm);
      const Zone& zone = task.case_zone;
      T lacks = T(zone.low.x()) - at.x();
      for (const T& side : {T(at.x() - T(zone.high.x())), T(T(zone.low.y()) - at.y()),
                            T(at.y() - T(zone.high.y()))}) {
        if (side > lacks) lacks = side;
      }
      if (lacks < least) least = lacks;
    }
  }
  return least;
}

template <typename T>
T Length(const Eigen::Matrix<T, 2, 1>& v) {
  using std::sqrt;
  return sqrt(v.squaredNorm() + T(1e-12));
}

/// LidSpace with exact gaps at its close slices, in its stead.
struct CloseSpace {
  const LidSpace& space;

  const std::vector<LidSpace::Slice>& slices() const { return space.close_slices(); }
  LidSpace::Look At(std::size_t k, const Vec2& origin) const {
    const LidSpace::Slice& slice = slices()[k];
    return space.Gap(slice, origin, slice.need_mm);
  }
  LidSpace::Look InCase(const Vec2& p, double enough) const { return space.InCase(p, enough); }
  LidSpace::Look InLid(const Vec2& p, double enough) const { return space.InLid(p, enough); }
};

/// Tells `over(T)` each requirement's miss, always as many and in one order unless `full()` ends it
/// early; false where the lid does not open.
template <typename T, typename Space, typename Over, typename Full>
bool Walk(const LidTask& task, const LidUse& use, const Space& space, const T* x, const Over& over,
          const Full& full, Felt<T>& felt) {
  using V = Eigen::Matrix<T, 2, 1>;
  PivotNumbers plain;
  for (std::size_t i = 0; i < 8; ++i) plain[i] = ValueOf(x[i]);
  const double side = SideOf(plain.data());
  const Loop<T> shut(x, 1.0, 0.0, side);
  if (!shut.valid) return false;
  const T arm_a = Length<T>(shut.closed_a - shut.case_a),
          arm_b = Length<T>(shut.closed_b - shut.case_b);
  over(T(kPivotsApart_mm) - Length<T>(shut.case_a - shut.case_b));
  over(T(kPivotsApart_mm) - Length<T>(shut.closed_a - shut.closed_b));
  over(T(kShortestArm_mm) - arm_a);
  over(T(kShortestArm_mm) - arm_b);
  for (const LidTask::Contact& contact : task.contacts) {
    const V velocity = shut.VelocityAt(contact.point.cast<T>());
    const T speed = T(contact.normal.x()) * velocity.x() + T(contact.normal.y()) * velocity.y();
    over(T(kRateWeight) * (T(kLeastRate * task.rate_mm) - speed));
  }
  over(T(kSineWeight_mm) * (T(kLeastArmsSine) - T(side) * shut.ArmsSine()));
  if (full()) return true;
  const auto pivot = [&](const LidSpace::Look& look, const V& point) {
    over(T(task.pivot_gap_mm) - Carried(look.gap, look.away, point));
  };
  for (const V* p : {&shut.case_a, &shut.case_b}) {
    pivot(space.InCase(ValueOf<T>(*p), task.pivot_gap_mm), *p);
  }
  for (const V* p : {&shut.closed_a, &shut.closed_b}) {
    pivot(space.InLid(ValueOf<T>(*p), task.pivot_gap_mm), *p);
  }
  for (const PoseWish& pose : task.poses) {
    const Loop<T> loop(x, pose.angle_rad, side);
    if (!loop.valid) return false;
    const Vec2 turned = Pose::Make(pose.angle_rad, Vec2::Zero()).Turn(pose.point);
    over(Length<T>(loop.origin + Vec2(turned - pose.at).cast<T>()) - T(pose.within_mm));
  }
  const auto& slices = space.slices();
  for (std::size_t k = slices.size(); k-- > 0;) {  // the open lid first: it decides most often
    if (full()) return true;
    const LidSpace::Slice& slice = slices[k];
    const Loop<T> loop(x, slice.cosine, slice.sine, side);
    if (!loop.valid) return false;
    const V& origin = loop.origin;
    const auto within = [&](const T& at, double least, double most) {
      over(std::isfinite(least) ? T(least) - at : T(0.0));
      over(std::isfinite(most) ? at - T(most) : T(0.0));
    };
    within(origin.x(), slice.least.x(), slice.most.x());
    within(origin.y(), slice.least.y(), slice.most.y());
    if (full()) return true;
    const LidSpace::Look gap = space.At(k, ValueOf<T>(origin));
    over(T(slice.need_mm) - Carried(gap.gap, gap.away, origin));
    const Pose X_CL{slice.cosine, slice.sine, ValueOf<T>(origin)};
    for (const V* p : {&loop.lid_a, &loop.lid_b}) {
      pivot(space.InCase(ValueOf<T>(*p), task.pivot_gap_mm), *p);
    }
    for (const V* p : {&loop.case_a, &loop.case_b}) {
      const Vec2 in_lid = X_CL.TurnBack(ValueOf<T>(*p) - X_CL.origin);
      LidSpace::Look look = space.InLid(in_lid, task.pivot_gap_mm);
      look.away = X_CL.Turn(look.away);
      pivot(look, V(*p - origin));
    }
    over(T(kSineWeight_mm) * (T(kLeastArmsSine) - T(side) * loop.ArmsSine()));
    if (full()) return true;
    const V front = origin + slice.front_edge.cast<T>();
    const V mass = origin + slice.mass_centre.cast<T>();
    felt.play.push_back(loop.PlayFactor(front));
    felt.lift.push_back(loop.VelocityAt(mass).y() / Length<T>(loop.VelocityAt(front)));
    felt.behind.push_back(-(origin.x() + T(slice.low.x())));
    felt.over_bench.push_back(origin.y() + T(slice.low.y() - use.bench_mm));
    if (k + 1 < slices.size()) continue;
    felt.post = use.post_mm > 0.0 ? PostLacks(task, use, loop) : T(0.0);
    felt.leant = use.lean_n > 0.0 ? LeantLacking(loop.LeantPin(front, kUsualPost_mm), use) : T(0.0);
  }
  const V front = task.front_edge.cast<T>(), mass = task.mass_centre.cast<T>();
  felt.play.push_back(shut.PlayFactor(front));
  felt.lift.push_back(shut.VelocityAt(mass).y() / Length<T>(shut.VelocityAt(front)));
  felt.arms = arm_a + arm_b;
  felt.hang = -(ValueOf(shut.closed_a.y()) < ValueOf(shut.closed_b.y()) ? shut.closed_a.y()
                                                                        : shut.closed_b.y());
  return true;
}

}  // namespace lid_walk
}  // namespace lidwright
