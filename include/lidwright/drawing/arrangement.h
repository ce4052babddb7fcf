// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "lidwright/design/design.h"
#include "lidwright/drawing/canvas.h"

namespace lidwright {

/// The sheet to set the pivots out from, with a ruler and a square: on one landscape sheet (A4, US
/// Letter for inch jobs) at one scale
///   - the section at the hinge with the lid shut, the four pivots as ordinates from the back
///     wall's inner face and from the case's rim, both where the end wall begins;
///   - the same with the lid open, the lid's two pivots from the same faces, how far the lid
///     reaches behind, how high it stands above the bench and how far off the bench it stays;
///   - a table of the pivots: the case's from the case's faces, the lid's from the case's (lid
///     shut) and from the lid's own back and rim, to be set out on the bench; above the case's rim
///     is positive, and so is into the lid from the lid's rim; and what to add to get the x and y
///     of job and hinge files;
///   - a table of distances between pivots, shut and open, to check the work by.
///
/// Millimetres with two decimals at most, inches as fractions to 1/64. Pivots that cannot move the
/// lid as far as wanted are drawn as far as they go, and say so. In the SVG the two views are
/// groups of class "shut" and "open".
/// No two texts overlap; a dimension for which there is no room is left out.
/// Same design, same bytes.
Canvas Arrangement(const Design& design, const Hinge& hinge);

std::string ArrangementSvg(const Design& design, const Hinge& hinge);
std::string ArrangementPdf(const Design& design, const Hinge& hinge);

}  // namespace lidwright
