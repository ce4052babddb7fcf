// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/design/design.h"
#include "lidwright/drawing/canvas.h"

namespace lidwright {

struct SwingFrameOptions {
  int count = 96;
  bool instant_centre = false;  ///< a cross where the lid turns about at the moment, if on the page
};

/// The lid's swing as `count` SVG drawings at equal steps of the lid's angle from shut to the
/// opening angle: the section through the hinge (mid-thickness of the arms, seen from the +z end),
/// the lid at mid-width and the end wall's section in thin lines, arms, pivots with their paths,
/// bench, wall and ceiling where they are near, the angle, and the tightest spots as far as the
/// hinge's verdicts name them: with their gap in the frame nearest to their angle, a small circle
/// in the others.
///
/// All frames have one page size, one viewBox and one scale (one of the usual ones, named in the
/// frame), chosen so that everything swept fits. With y downwards as SVG has it, a model point
/// (x, y) stands at (x0 + s x, y0 − s y), the same x0, y0, s in every frame; the circles of class
/// "pivot case-a", "pivot case-b", "pivot lid-a" and "pivot lid-b" show where. There are no ids
/// in the files, so that many can stand in one page.
///
/// Pivots that cannot move the lid as far as wanted are drawn as far as they go, and say so.
/// Accuracy: 0.001 mm on paper. Same design, same bytes.
/// Requires count >= 1 (a single frame shows the lid shut).
std::vector<std::string> SwingFrames(const Design& design, const Hinge& hinge, int count);
std::vector<Canvas> SwingFrameCanvases(const Design& design, const Hinge& hinge,
                                       const SwingFrameOptions& options);

}  // namespace lidwright
