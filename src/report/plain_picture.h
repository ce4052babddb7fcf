// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "lidwright/job/job.h"
#include "lidwright/solid/solid.h"
#include "lidwright/synthesis/plain_hinge.h"

namespace lidwright {

/// A lid on a plain hinge, as a picture shows it: where it digs deepest into the case, or half open
/// where it does not. The pin is that of the plain hinge that does (PlainDoes), or else where one
/// is let into the back's edge at the ends. Looked at every degree or two by the one clearance
/// code: sampled, for a picture, proves nothing.
struct PlainPicture {
  Vec2 pin = Vec2::Zero();
  double theta_rad = 0.0;
  double deep_mm = 0.0;    ///< how deep a corner of one lies in the other; 0 if it digs in nowhere
  double z_mm = 0.0;       ///< there …
  Vec2 at = Vec2::Zero();  ///< … in the side view
};

PlainPicture PlainPictureOf(const Job& job, const Solid& solid, const PlainHinge& plain);

}  // namespace lidwright
