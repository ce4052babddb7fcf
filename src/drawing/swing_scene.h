// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "bodies.h"
#include "lidwright/design/design.h"
#include "view.h"

namespace lidwright {

/// What frames and overlay draw alike: the section through a hinge and what moves in it.
struct SwingScene {
  SwingScene(const Design& design, const Hinge& hinge);

  const Design& design;
  const Hinge& hinge;
  DrawnSwing swing;
  Section cut, middle, end;  ///< at the arms, at mid-width, at the end wall
  std::vector<Spot> spots;
  Rect2 swept;  ///< of everything, in the case's frame
  Rect2 area;   ///< the same with bench, and wall and ceiling where they are near
};

/// Page and view of frames and film, the same at every angle: whole millimetres, a usual scale, all
/// that is swept above a footer.
struct FrameLayout {
  Vec2 page = Vec2::Zero();
  View view;
  Rect2 drawing;
};
inline constexpr double kFrameMargin_mm = 6.0;
inline constexpr double kFooter_mm = 11.0;
FrameLayout LayoutFrames(const SwingScene& scene);

/// Bench, wall, contents, the case's three sections.
void DrawStanding(Canvas& canvas, const View& view, const SwingScene& scene);
/// The same with bench, wall and ceiling only as far as `area` of the model reaches.
void DrawStandingIn(Canvas& canvas, const View& view, const SwingScene& scene, const Rect2& area);

/// The lid in full at a state: at mid-width thin, at the hinge cut, its end dashed.
void DrawLid(Canvas& canvas, const View& view, const SwingScene& scene, const LidState& state);

/// A stay with its two ends: straight where it is taut, else hanging, down to the floor at most.
void DrawStay(Canvas& canvas, const View& view, const SwingScene& scene, const LidState& state);

/// The way of a point of the lid over the whole swing, in the case's frame.
std::vector<Vec2> PathOf(const DrawnSwing& swing, const Vec2& closed);

/// The four pivots at a state with their names and the point of the arm's other end.
struct NamedPivot {
  std::string name;  ///< "A₀", "B₀" in the case, "A", "B" in the lid
  Vec2 at = Vec2::Zero();
  Vec2 other_end = Vec2::Zero();
};
std::vector<NamedPivot> PivotsAt(const SwingScene& scene, const LidState& state);

/// "95°", "12.5°".
std::string AngleText(double angle_rad);
/// "95°", rounded to whole ones.
std::string WholeDegrees(double angle_rad);

}  // namespace lidwright
