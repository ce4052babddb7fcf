// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "lidwright/forces/load_case.h"
#include "lidwright/linkage/lid_motion.h"

namespace lidwright {

/// What makers stop a lid with.
enum class StopKind {
  kPost,    ///< a post on the case that an arm meets
  kPad,     ///< a pad between the lid and the case's back
  kPlates,  ///< lid plate against case plate
  kStay     ///< a chain, ribbon or folding stay from lid to case
};

/// Where a stop works, one at each end of the box.
struct StopPlace {
  StopKind kind = StopKind::kPost;
  Body body = Body::kLid;       ///< what it stops
  Vec2 on_body = Vec2::Zero();  ///< where it touches or is fixed to that body, in the body's frame
  /// kStay: its other end, on the case. Else a point into which the body would go on from there:
  /// the contact's normal is from `on_body`, lid open, to here.
  Vec2 on_case = Vec2::Zero();
};

/// The same as the contact that forces are worked out with: a stay pulls where a post would push.
/// Requires different points.
StopContact ContactOf(const StopPlace& place, const LidMotion& motion, double open_rad);

/// What stop and pins of one end bear while the open lid rests on it.
struct StopLoads {
  double rest_n = kUnset;     ///< under the lid's own weight; negative: it does not rest there
  double worst_n = kUnset;    ///< on one end's stop, somebody leaning in the worst direction
  double worst_rad = kUnset;  ///< that direction: 0 to the front, π/2 up
  std::array<double, kJoints> rest_pin_n{};
  std::array<double, kJoints> worst_pin_n{};  ///< each in its own worst direction
  /// Way of the stopped point towards the stop per radian of lid angle: the stop's force is the
  /// lid's moment over this, so small ones are bad stops.
  double approach_mm = kUnset;
  double WorstPin_n() const;
};

/// Statics of the open lid with this stop instead of the case's: as FeelOf, somebody leaning on
/// `front_edge` with load.lean_n in any of `directions`, those left out that lift the lid off. One
/// end bears its share of hand and stop as in UsualLoadCase; a single stay for both ends bears
/// twice rest_n and at most worst_n / load.lean_share.
/// Requires a linkage whose range goes beyond open_rad.
StopLoads StopLoadsOf(const StopPlace& place, const LoadCase& load, const LidMotion& motion,
                      double open_rad, const Vec2& front_edge, int directions = 720);

/// Places by the load of their worst pin, least first; those on which the lid does not rest by
/// itself or that come on backwards are left out.
struct RankedStop {
  std::size_t place = 0;  ///< index into what was given
  StopLoads loads;
};
std::vector<RankedStop> RankStops(const std::vector<StopPlace>& places, const LoadCase& load,
                                  const LidMotion& motion, double open_rad, const Vec2& front_edge);

/// How the length between a stay's two ends runs over the swing.
struct StayRun {
  double open_mm = 0.0;   ///< its length
  double shut_mm = 0.0;   ///< between its ends, lid shut
  double least_mm = 0.0;  ///< over the swing: it has to fold or hang within this
  double most_mm = 0.0;   ///< over the swing; more than open_mm: it would be taut too soon
  double rate_mm = 0.0;   ///< growth per radian at the open lid
  bool HoldsOnlyOpen() const { return most_mm <= open_mm && rate_mm > 0.0; }
};
/// By `samples` angles, both ends included, and most_mm by golden section between them.
StayRun StayRunOf(const Vec2& on_case, const Vec2& on_lid, const LidMotion& motion, double open_rad,
                  int samples = 96);

/// Where the joint of a folding stay is: bars `case_bar_mm` and `lid_bar_mm` long from two ends,
/// left (+1) or right (−1) of the line from the case's end to the lid's. Nothing where they do not
/// reach or the ends are too near.
std::optional<Vec2> StayKnee(const Vec2& on_case, const Vec2& on_lid_now, double case_bar_mm,
                             double lid_bar_mm, int side);

}  // namespace lidwright
