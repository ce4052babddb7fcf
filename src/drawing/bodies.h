// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "lidwright/design/design.h"
#include "lidwright/drawing/canvas.h"
#include "lidwright/linkage/lid_motion.h"
#include "lidwright/looks/looks.h"
#include "lidwright/solid/section.h"
#include "view.h"

namespace lidwright {

/// Where the hinge's section is taken: mid-thickness of its arms, or the middle of the bay.
double HingeSection_mm(const Solid& solid, const Hinge& hinge);

/// Tone, pattern and edge of a body or part, even-odd.
void DrawLook(Canvas& canvas, const Path& path, const Look& look, const Pen& edge);
Colour FillOf(const Look& look);

/// The same for cut wood and for the arms, with their edges.
void DrawCaseWood(Canvas& canvas, const Path& path);
void DrawLidWood(Canvas& canvas, const Path& path);
void DrawArmMetal(Canvas& canvas, const Path& path, Body arm);

/// The hinge's motion as far as it is to be drawn. Pivots that cannot move the lid, or not all the
/// way (a maker's own may be such), are drawn as far as they go.
struct DrawnSwing {
  std::optional<LidMotion> motion;  ///< nothing: stays shut
  double to_rad = 0.0;
  bool whole = false;  ///< reaches the opening angle wanted

  LidState At(double theta_rad) const;
  Pose PoseOf(Body body, const LidState& state) const;
};
DrawnSwing MakeSwing(const Job& job, const Pivots& pivots);

/// The bounds of everything that the swing sweeps, in the case's frame.
Rect2 SweptBounds(const Design& design, const Hinge& hinge, const DrawnSwing& swing);

/// The tightest spots of the gaps that were judged, the least gap first: those with an angle and a
/// place whose gap is near what is required, and in any case the least of all and that of lid and
/// case.
struct Spot {
  const Verdict* verdict = nullptr;
  Vec2 at = Vec2::Zero();  ///< between the two nearest points, in the case's frame
};
std::vector<Spot> TightSpots(const Hinge& hinge);

/// Bench and wall behind where they fall within `model_area`; the ceiling too. Labels them if
/// asked.
void DrawSurroundings(Canvas& canvas, const View& view, const Job& job, const Solid& solid,
                      const Rect2& model_area);

/// One arm where `pose` puts it, with its bushings; its pivots joined by a line where it has no
/// shape.
void DrawArm(Canvas& canvas, const View& view, const Hinge& hinge, Body body, const Pose& pose);

/// The arms in the order they are drawn: the one farther from the viewer at +z first.
std::array<Body, 2> ArmsFromBehind(const Hinge& hinge);

/// Circles of class "pivot case-a" and "pivot case-b", and with the line between them
/// "pivot lid-a" and "pivot lid-b".
void DrawCasePivots(Canvas& canvas, const View& view, const Pivots& pivots);
void DrawLidPivots(Canvas& canvas, const View& view, const Pivots& pivots, const Pose& X_CL);

/// What of the hinge's parts is fixed to a body, where `pose` puts it: plates, their packing,
/// screws and the stop. They stand nearer to the viewer at +z than the arms do and are drawn before
/// them all the same, as if seen through, so that both can be seen.
void DrawPlates(Canvas& canvas, const View& view, const Hinge& hinge, Body body, const Pose& pose);

/// The turned pieces on a body: spacers, washers, heads and pins; an arm's bushings.
void DrawTurned(Canvas& canvas, const View& view, const Hinge& hinge, Body body, const Pose& pose);

/// The whole hinge at a state: plates, arms, turned pieces, pivots.
void DrawHinge(Canvas& canvas, const View& view, const Hinge& hinge, const DrawnSwing& swing,
               const LidState& state);

}  // namespace lidwright
