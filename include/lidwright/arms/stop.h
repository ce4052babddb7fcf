// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>

#include "lidwright/arms/plates.h"
#include "lidwright/base/tolerances.h"

namespace lidwright {

/// A round post fixed to the case that one moving part meets exactly when the lid is fully open.
struct Stop {
  Vec2 centre = Vec2::Zero();
  double radius_mm = 0.0;
  double rod_mm = 0.0;       ///< diameter of its rod: less than the post's where a sleeve is on it
  Body stops = Body::kArmA;  ///< what it stops; kLid means the lid plate
  Vec2 contact = Vec2::Zero();  ///< in the case's frame, lid open
  Vec2 normal = Vec2::Zero();   ///< from the stopped part into the post
  double approach_mm = 0.0;     ///< how fast the part comes on there, per radian of lid angle: the
                             ///< post's force times this is the open lid's moment about its centre
  LayerSpan span;  ///< from the end wall to the inner face of what it stops
  /// Is it a sleeve on a rod, or the bare rod?
  bool HasSleeve() const { return radius_mm > rod_mm / 2.0 + kSamePoint_mm; }
};

/// [mm/rad] What comes on slower than this stops nothing: a tenth of a millimetre would be degrees.
inline constexpr double kLeastApproach_mm = 8.0;

/// Something that a post could stop.
struct Stoppable {
  Stoppable(Body moving, Outline edge, const LayerSpan& layer);
  Body body = Body::kArmA;
  Outline outline;
  LayerSpan span;
  std::shared_ptr<const PartTree> shape;  ///< with chords fine enough for a contact
};

using StopProof = std::function<bool(const Stop&)>;

/// Where a post may stand: for points along the outline of each part at the opening angle, the post
/// touching it from outside there, on the side that comes on; inside the case with `edge_mm` about
/// its centre for the plate or wall that holds it, not nearer than `apart_mm` to a case pivot.
/// Of all these the one with the largest approach (so the least force) that `proof` accepts.
/// Accuracy: the post touches the true outline within kStopContact_mm at the opening angle.
std::optional<Stop> FindStop(const ArmsTask& task, const LidMotion& motion,
                             const std::vector<Stoppable>& parts, double radius_mm, double edge_mm,
                             double apart_mm, double wall_z_mm, const StopProof& proof,
                             std::string* fault);

/// Does what is there to stop the lid meet what it is there for, `off_mm` away lid open?
Verdict MeetingVerdict(double open_rad, double off_mm, const std::string& first,
                       const std::string& second);

/// Stop meets part at the opening angle, within kStopContact_mm, and is clear of it before: the
/// certified gap until kStopFree_rad before it, which must be more than nothing.
Verdicts StopVerdicts(const ArmsTask& task, const Swing& swing, const Stop& stop,
                      const Stoppable& part);

/// Are all of these verdicts met? The same answer, sooner.
bool StopDoes(const ArmsTask& task, const Swing& swing, const Stop& stop, const Stoppable& part);

/// [mm] A stop's gap to what it stops, lid open, counts as none.
inline constexpr double kStopContact_mm = 0.005;

}  // namespace lidwright
