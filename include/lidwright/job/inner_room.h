// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/geometry/ring.h"
#include "lidwright/job/job.h"

namespace lidwright {

/// The room inside a case, in the frame of job.h: what is kept in the box must lie in it. By the
/// measures, not by the sections; of bowed walls the widest place. NaN where the job has none.
struct InnerRoom {
  double back_mm = kUnset, front_mm = kUnset;  ///< inner faces of back and front
  double floor_mm = kUnset;                    ///< the floor's upper face
  double top_mm = kUnset;                      ///< highest point of the shut lid
  double half_width_mm = kUnset;               ///< from mid-width to an end wall's inner face
};
InnerRoom InnerRoomOf(const Job& job);

/// A block that stands on the floor, as a ring.
Ring BlockOnFloor(const InnerRoom& room, double back_mm, double front_mm, double height_mm);

}  // namespace lidwright
