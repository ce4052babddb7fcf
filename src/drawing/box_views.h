// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "lidwright/drawing/canvas.h"
#include "lidwright/job/job.h"
#include "lidwright/solid/solid.h"
#include "view.h"

namespace lidwright {

/// The three views of the box drawing, each drawn where its View says. The front view has the +z
/// end at the left: its plane is (−z, y). The view from above has the front at the bottom: its
/// plane is (−z, −x).
struct BoxViews {
  const Job& job;
  const Solid& solid;
  View front, side, plan;
  Rect2 side_area;  ///< of the model that the section shows
};

/// The part of the side view that the section shows.
Rect2 SideArea(const Job& job, const Solid& solid);

void DrawFront(Canvas& canvas, const BoxViews& views);
void DrawSide(Canvas& canvas, const BoxViews& views);
void DrawPlan(Canvas& canvas, const BoxViews& views);

}  // namespace lidwright
