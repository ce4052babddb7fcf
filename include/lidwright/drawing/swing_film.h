// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/design/design.h"

namespace lidwright {

/// How the film runs. It opens, rests, shuts, rests, and so on for ever.
struct SwingFilmOptions {
  double opening_s = 3.7;
  double rest_shut_s = 1.0;
  double rest_open_s = 1.6;
  int steps = 96;  ///< positions of the swing that are computed; between them angles go evenly
};

/// The lid's swing as one SVG that plays by itself in any browser, also as a picture in a page:
/// something to send to a customer. The view is that of SwingFrames without names and figures; the
/// footer shows the angle in whole degrees.
///
/// The animation is CSS, and turns only: arm A about its case pivot, arm B about its own, the lid
/// about arm A's other end, so that lid and arm A never part. Who asked the system for less motion,
/// and programs that do not animate, get a still: the lid half open, with thin outlines of where it
/// lies shut and open. While a pointer is held down on it, the film pauses.
///
/// Circles of class "pivot …" as in the frames. Without ids. Pivots that cannot move the lid as far
/// as wanted move it as far as they go, and the footer says so.
///
/// Accuracy: 0.01 mm on paper at the computed positions; between two of them arm B's end leaves the
/// lid by less than 0.05 mm. Size: about 100 kB. Same design, same bytes.
/// Requires steps >= 2 and positive times.
std::string SwingFilm(const Design& design, const Hinge& hinge,
                      const SwingFilmOptions& options = {});

}  // namespace lidwright
