// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/cutting/parts_list.h"
#include "lidwright/cutting/work_steps.h"
#include "swing_scene.h"

namespace lidwright {

/// A step of the work as a picture without scale in `area` of the page: what is there at that step
/// and no more, with the numbers of what is handled, and an arrow where something moves. Requires a
/// hinge with parts.
void DrawStepPicture(Canvas& canvas, const Rect2& area, const SwingScene& scene,
                     const WorkStep& step, const PartsList& list);

}  // namespace lidwright
