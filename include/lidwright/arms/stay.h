// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "lidwright/arms/fixing_rules.h"
#include "lidwright/arms/shape_arms.h"
#include "lidwright/arms/shop_fasteners.h"
#include "lidwright/arms/shop_holding.h"

namespace lidwright {

/// What holds an end of a stay: a round-headed screw with a washer, of one kind at both its ends.
struct StayFixing {
  std::string name;     ///< "3 mm", "M3"
  bool bolted = false;  ///< a machine screw right through the wall, nut outside
  double shank_mm = 0.0, head_mm = 0.0;
  double hole_mm = 0.0, soft_hole_mm = 0.0;  ///< to drill, in hard and in soft wood
  ScrewLength in_case, in_lid;               ///< a bolt's thread: the whole wall
  double share = 1.0;  ///< of their full load that screws bear where they stand: FixingShare
};

/// A chain, cord or ribbon at each end of the box, from the case's end wall to the lid's, that is
/// taut just when the lid is open: it stops the lid in a post's stead and takes what leans on it.
struct Stay {
  StockStay sold;
  Vec2 on_case = Vec2::Zero(),
       on_lid = Vec2::Zero();        ///< its screws, lid shut, in the case's frame
  Vec2 lid_end_open = Vec2::Zero();  ///< where the lid's is when the lid is open
  double length_mm = 0.0;            ///< between the screws, taut
  StayFixing fixing;
  /// Distance of the two screws while the lid is at `X_CL`.
  double Apart_mm(const Pose& X_CL) const { return (X_CL * on_lid - on_case).norm(); }
};

/// [mm] How far a stay's screw, washer and end stand off the wall, what is under the head of it,
/// and how wide the washer is.
inline constexpr double kStayHead_mm = 5.0, kUnderStayHead_mm = 2.0;
double StayHead_mm(const StayFixing& fixing);

/// The ways to fix a stay's ends at two places of the walls, the simplest first: wood screws, thin
/// to thick, that leave their tips in the wall, and bolts right through.
std::vector<StayFixing> FixingsToTry(const ArmsTask& task, const Vec2& on_case, const Vec2& on_lid,
                                     double lid_wall_mm);

/// FixingShare in an end wall, whose grain runs from back to front.
double ShareAt(const std::vector<Ring>& end_wall, const Vec2& screw, double shank_mm);

/// Where a screw of this shank and head may stand in the end walls beside the bay, with half of its
/// load at least, so far from the wood's edges; the head and its washer clear of the other body
/// over the swing. A guide at samples, on a mesh; what is chosen is certified.
struct StayEnds {
  std::vector<Vec2> on_case, on_lid;
};
StayEnds PlacesForStays(const ArmsTask& task, const LidMotion& motion, double shank_mm,
                        double head_mm);

/// Room round the taut stay, lid open, in side view: the least distance from its middle line to
/// wood, contents and surroundings beside the bay, near zero or below where it would cross them.
/// Looked up at samples 2 mm apart.
double RoomRoundTaut_mm(const ArmsTask& task, const LidMotion& motion, const Vec2& on_case,
                        const Vec2& on_lid);

/// The taut stay as a part, where it is in the case's frame, counted to `body`: its band in side
/// view from the bay's inner limit to `face_mm`, the inner one of the end walls' faces, since which
/// layer it hangs in is nobody's to say.
Part TautPart(const Solid& solid, const Stay& stay, double face_mm, Body body);

/// Taut at the open lid and never before: what is left of its length until kStopFree_rad before
/// open, the lid looked at every quarter of a degree.
Verdict StayTaut(const Stay& stay, const LidMotion& motion, double open_rad);

}  // namespace lidwright
